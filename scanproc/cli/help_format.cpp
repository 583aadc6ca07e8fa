#include "scanproc/cli/help_format.h"

namespace canewise {

HelpFormat::HelpFormat(const Speech& speech) {
  label("Usage", phrase({"cli.help.usage"}, speech));
  label("Positionals", phrase({"cli.help.positionals"}, speech));
  label("Options", phrase({"cli.help.options"}, speech));
  label("OPTIONS", phrase({"cli.help.options_mark"}, speech));
  label("SUBCOMMAND", phrase({"cli.help.verb_mark"}, speech));
  label("REQUIRED", phrase({"cli.help.required"}, speech));
  label("Needs", phrase({"cli.help.needs"}, speech));
}

std::string HelpFormat::make_group(std::string group, bool is_positional,
                                   std::vector<const CLI::Option*> options) const {
  return CLI::Formatter::make_group(get_label(std::move(group)), is_positional, std::move(options));
}

// The parser's own adds in English how many verbs there may be.
std::string HelpFormat::make_description(const CLI::App* app) const { return app->get_description() + "\n"; }

}  // namespace canewise
