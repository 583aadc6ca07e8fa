#include <CLI/CLI.hpp>
#include <csignal>
#include <cstdio>
#include <exception>
#include <new>

#include "scanproc/cli/commands.h"
#include "scanproc/cli/interrupt.h"
#include "scanproc/core/error.h"
#include "scanproc/pipeline/version.h"

namespace {

int report(const char* message, canewise::ExitCode code) {
  std::fprintf(stderr, "canewise: %s\n", message);
  return static_cast<int>(code);
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
  const std::vector<std::function<void()>> verbs{add_measure_command(app), add_target_command(app),
                                                 add_demo_command(app)};
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? 0 : static_cast<int>(ExitCode::usage);
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
