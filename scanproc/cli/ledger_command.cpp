#include <filesystem>
#include <fstream>
#include <memory>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/ledger_options.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_files.h"
#include "scanproc/core/own_folder.h"
#include "scanproc/ledger/exchange.h"
#include "scanproc/ledger/file_result.h"

namespace canewise {
namespace {

struct ExchangeArguments : LedgerArguments {
  std::string path;
};

void say(const Message& what, const Speech& speech) { print_out(phrase(what, speech) + "\n"); }

void run_export(const ExchangeArguments& a, const Speech& speech) {
  const Ledger ledger(a.ledger, Ledger::Access::read);
  const std::filesystem::path path(a.path);
  if (is_there(path) && !says_format(path, "canewise-ledger"))
    throw OutputError({"ledger.copy_is_there", {{"file", text(a.path)}}});
  write_output_files(path.has_parent_path() ? path.parent_path() : ".",
                     {{path.filename().string(), json_from_ledger(ledger)}});
  say({"cli.ledger.exported", {{"file", text(a.path)}}}, speech);
}

void run_csv(const ExchangeArguments& a, const Speech& speech) {
  const Ledger ledger(a.ledger, Ledger::Access::read);
  const std::vector<OutputFile> files = csv_from_ledger(ledger);
  for (const OutputFile& file : files) {
    // An earlier table has the same columns; anything else is somebody's.
    const std::filesystem::path path = std::filesystem::path(a.path) / file.name;
    std::string line;
    if (is_there(path) && std::getline(std::ifstream(path), line) &&
        line != file.bytes.substr(0, file.bytes.find('\n')))
      throw OutputError({"ledger.copy_is_there", {{"file", text(path.string())}}});
  }
  write_output_files(a.path, files);
  say({"cli.ledger.exported", {{"file", text(a.path)}}}, speech);
}

void run_import(const ExchangeArguments& a, const Speech& speech) {
  constexpr std::uintmax_t most_mib = 64;
  const ScanFile file(a.path);
  if (file.size() > most_mib << 20U) file.fail({"result.too_large", {{"mib", text(std::to_string(most_mib))}}});
  const std::string json = file.all();
  // Before a ledger is begun for nothing.
  if (!says_format(a.path, "canewise-ledger"))
    throw InputError({"in_file", {{"file", text(a.path)}, {"what", part({"ledger.no_export"})}}});
  Ledger ledger(a.ledger, Ledger::Access::make);
  fill_from_json(ledger, json, a.path);
  say({"cli.ledger.imported", {{"reeds", count(static_cast<std::size_t>(ledger.count_of("reed")))}}}, speech);
}

void run_check(const ExchangeArguments& a, const Speech& speech) {
  const Ledger ledger(a.ledger, Ledger::Access::read);
  const Messages faults = ledger.faults();
  if (faults.empty()) {
    say({"cli.ledger.sound", {{"reeds", count(static_cast<std::size_t>(ledger.count_of("reed")))}}}, speech);
    return;
  }
  throw InputError({"cli.ledger.faults", {{"file", text(a.ledger)}, {"what", faults}}});
}

void run_backup(const ExchangeArguments& a, const Speech& speech) {
  const Ledger ledger(a.ledger, Ledger::Access::read);
  ledger.back_up(a.path);
  say({"cli.ledger.backed_up", {{"file", text(a.path)}}}, speech);
}

void run_adopt(const ExchangeArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::make);
  tell_if_new(ledger, speech);
  std::size_t filed = 0;
  std::string screen;
  for (const AdoptedResult& result : adopt_results(ledger, a.path)) {
    filed += result.refusal.empty();
    screen +=
        result.refusal.empty()
            ? phrase({"cli.ledger.filed", {{"folder", text(result.folder.string())}, {"reed", text(result.reed)}}},
                     speech)
            : phrase({"cli.ledger.not_filed", {{"why", part(result.refusal)}}}, speech);
    screen += "\n";
  }
  print_out(screen + phrase({"cli.ledger.adopted", {{"results", count(filed)}}}, speech) + "\n");
}

}  // namespace

std::function<void()> add_ledger_command(CLI::App& app, const Speech& speech) {
  auto a = std::make_shared<ExchangeArguments>();
  auto* verb = app.add_subcommand("ledger", phrase({"cli.ledger"}, speech));
  verb->require_subcommand(1);
  struct Part {
    const char* name;
    Message help, of_path;
    void (*run)(const ExchangeArguments&, const Speech&);
  };
  const std::vector<Part> parts{
      {"adopt", {"cli.ledger.adopt"}, {"cli.ledger.adopt_folder"}, run_adopt},
      {"export", {"cli.ledger.export"}, {"cli.ledger.json_file"}, run_export},
      {"csv", {"cli.ledger.csv"}, {"cli.ledger.csv_folder"}, run_csv},
      {"import", {"cli.ledger.import"}, {"cli.ledger.json_file"}, run_import},
      {"backup", {"cli.ledger.backup"}, {"cli.ledger.backup_file"}, run_backup},
      {"check", {"cli.ledger.check"}, {}, run_check},
  };
  std::vector<std::pair<CLI::App*, void (*)(const ExchangeArguments&, const Speech&)>> runs;
  for (const Part& part : parts) {
    auto* sub = verb->add_subcommand(part.name, phrase(part.help, speech));
    if (!part.of_path.empty()) sub->add_option("path", a->path, phrase(part.of_path, speech))->required();
    add_ledger_option(*sub, *a, speech);
    runs.emplace_back(sub, part.run);
  }
  return [runs, a, speech] {
    for (const auto& [sub, run] : runs)
      if (sub->parsed()) run(*a, speech);
  };
}

}  // namespace canewise
