#include <CLI/CLI.hpp>
#include <csignal>
#include <cstdio>
#include <exception>
#include <new>
#include <string>

#include "scanproc/cli/commands.h"
#include "scanproc/cli/interrupt.h"
#include "scanproc/core/error.h"
#include "scanproc/pipeline/version.h"

namespace {

int report(const char* message, canewise::ExitCode code) {
  std::fprintf(stderr, "canewise: %s\n", message);
  return static_cast<int>(code);
}

/// The parser knows what is missing; people want to know what they mistyped and where to read on.
std::string usage_message(const CLI::App& app, int argc, char** argv, const CLI::ParseError& error) {
  const std::string verb = argc > 1 ? argv[1] : "";
  std::string verbs;
  bool known = false;
  for (const auto* sub : app.get_subcommands([](const CLI::App*) { return true; })) {
    verbs += (verbs.empty() ? "" : ", ") + sub->get_name();
    known = known || sub->get_name() == verb;
  }
  if (verb.empty()) return "say what to do: " + verbs + ". Start with 'canewise demo', or 'canewise measure SCAN'.";
  if (!known && verb.front() != '-') return "there is no verb '" + verb + "'. Known are: " + verbs + ".";
  return std::string(error.what()) + ". See 'canewise " + (known ? verb + " " : std::string()) + "--help'.";
}

}  // namespace

// The one place where failures become exit codes.
int main(int argc, char** argv) {
  using namespace canewise;
  // A reader that went away and a file that may not grow are errors like any other, told by exit code.
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
  catch_interrupts();
  CLI::App app{
      "canewise shows a single reed before you play it: thickness, balance, distance from a target, and where to take "
      "cane off.\n"
      "Start with 'canewise demo', or 'canewise measure SCAN'."};
  app.set_version_flag("--version", kVersion);
  app.require_subcommand(1);
  const std::vector<std::function<void()>> verbs{
      add_measure_command(app), add_target_command(app),  add_convert_command(app), add_calibrate_command(app),
      add_player_command(app),  add_compare_command(app), add_serve_command(app),   add_demo_command(app)};
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    if (error.get_exit_code() == 0) return app.exit(error);  // --help, --version
    return report(usage_message(app, argc, argv, error).c_str(), ExitCode::usage);
  }
  try {
    for (const auto& run : verbs) run();
    return static_cast<int>(ExitCode::measured);
  } catch (const Error& error) {
    return report(error.what(), error.exit_code());
  } catch (const Cancelled& stopped) {
    std::fprintf(stderr, "canewise: %s\n", stopped.what());
    constexpr int stopped_by_ctrl_c = 130;  // What shells expect of a command that ended on SIGINT.
    return stopped_by_ctrl_c;
  } catch (const std::bad_alloc&) {
    return report("the scan needs more memory than this computer has. Cut it to the reed and some plate around it.",
                  ExitCode::bad_input);
  } catch (const std::exception& error) {
    return report(
        (std::string("an internal error: ") + error.what() + ". Please report it with the scan that caused it.")
            .c_str(),
        ExitCode::internal);
  }
}
