#include <csignal>
#include <iostream>
#include <memory>

#include "scanproc/cli/commands.h"
#include "scanproc/cli/print_out.h"
#include "viewer/server/page_work.h"

namespace canewise {

std::function<void()> add_page_command(CLI::App& app, const Speech& speech) {
  auto* verb = app.add_subcommand("page")->group("");
  auto progress_to = std::make_shared<int>();  // Where refusals go; read with the other words before the parser comes.
  verb->add_option("--progress-to", *progress_to);
  return [verb, progress_to, speech] {
    if (!verb->parsed()) return;
    // Nothing here is left half done: it may end at once.
    std::signal(SIGTERM, SIG_DFL);
    print_out(page_of(page_work_from(std::cin), speech));
  };
}

}  // namespace canewise
