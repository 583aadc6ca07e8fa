#include <CLI/CLI.hpp>
#include <csignal>
#include <cstdio>
#include <exception>
#include <memory>
#include <new>
#include <nlohmann/json.hpp>
#include <string>

#include "scanproc/cli/commands.h"
#include "scanproc/cli/help_format.h"
#include "scanproc/cli/interrupt.h"
#include "scanproc/cli/parser_words.h"
#include "scanproc/cli/progress_line.h"
#include "scanproc/cli/reader_language.h"
#include "scanproc/core/error.h"
#include "scanproc/pipeline/version.h"
#include "scanproc/words/message_json.h"

namespace canewise {
namespace {

/// Why there is no result: for people as a sentence, for programs that asked for stages as a line like those.
void tell(const Message& why, ProgramLines programs, const Speech& speech) {
  using nlohmann::json;
  if (programs)
    return write_line(*programs,
                      "{\"refused\":" + json(why).dump(-1, ' ', false, json::error_handler_t::replace) + "}");
  std::fprintf(stderr, "canewise: %s\n", phrase(why, speech).c_str());
}

/// The parser knows what is missing; people want to know what they mistyped and where to read on.
Message usage_message(const CLI::App& app, CommandWords words, const CLI::ParseError& error) {
  const std::string verb = verb_of(words);
  std::string verbs;
  bool known = false;
  for (const auto* sub : app.get_subcommands([](const CLI::App*) { return true; })) {
    if (!sub->get_group().empty()) verbs += (verbs.empty() ? "" : ", ") + sub->get_name();
    known = known || sub->get_name() == verb;
  }
  const bool lacks_verb = verb.empty() && error.get_name() == "RequiredError";
  if (words.empty() || lacks_verb) return {"cli.say_what", {{"verbs", text(verbs)}}};
  if (known) return {"cli.see_help_of", {{"what", part(parser_words(error))}, {"verb", text(verb)}}};
  if (!verb.empty()) return {"cli.no_verb", {{"verb", text(verb)}, {"verbs", text(verbs)}}};
  return {"cli.see_help", {{"what", part(parser_words(error))}}};
}

/// Before the verbs, which take it over.
void set_up_help(CLI::App& app, const Speech& speech) {
  app.formatter(std::make_shared<HelpFormat>(speech));
  app.description(phrase({"cli.canewise"}, speech));
  app.group(phrase({"cli.help.verbs"}, speech));
  app.set_help_flag("-h,--help", phrase({"cli.help"}, speech));
  app.set_version_flag("--version", kVersion, phrase({"cli.version"}, speech));
}

}  // namespace
}  // namespace canewise

// The one place where failures become exit codes.
int main(int argc, char** argv) {
  using namespace canewise;
  // A reader that went away and a file that may not grow are errors like any other, told by exit code.
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
  catch_interrupts();
  const CommandWords words(argv + (argc > 0 ? 1 : 0), argv + argc);
  const ProgramLines programs = program_lines_asked_for(words);
  Speech speech{.language = language_of_system()};
  const auto refuse = [&](const Message& why, ExitCode code) {
    tell(why, programs, speech);
    return static_cast<int>(code);
  };
  try {
    speech.language = language_asked_for(words).value_or(speech.language);
    CLI::App app;
    set_up_help(app, speech);
    app.require_subcommand(1);
    app.fallthrough();      // What concerns all verbs may stand behind each.
    std::string lang_read;  // By language_asked_for(), already.
    app.add_option("--lang", lang_read, phrase({"cli.lang"}, speech));
    const std::vector<std::function<void()>> verbs{
        add_measure_command(app, speech),   add_target_command(app, speech), add_convert_command(app, speech),
        add_calibrate_command(app, speech), add_player_command(app, speech), add_compare_command(app, speech),
        add_bend_test_command(app, speech), add_box_command(app, speech),    add_reed_command(app, speech),
        add_trial_command(app, speech),     add_today_command(app, speech),  add_place_command(app, speech),
        add_ledger_command(app, speech),    add_serve_command(app, speech),  add_demo_command(app, speech),
        add_page_command(app, speech)};
    try {
      app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
      if (error.get_exit_code() == 0) return app.exit(error);  // --help, --version
      return refuse(usage_message(app, words, error), ExitCode::usage);
    }
    for (const auto& run : verbs) run();
    return static_cast<int>(ExitCode::measured);
  } catch (const Error& error) {
    return refuse(error.message(), error.exit_code());
  } catch (const Cancelled&) {
    tell({"cli.stopped"}, programs, speech);
    constexpr int stopped_by_ctrl_c = 130;  // What shells expect of a command that ended on SIGINT.
    return stopped_by_ctrl_c;
  } catch (const std::bad_alloc&) {
    return refuse({"cli.no_memory"}, ExitCode::bad_input);
  } catch (const std::exception& error) {
    return refuse({"cli.internal", {{"what", text(error.what())}}}, ExitCode::internal);
  }
}
