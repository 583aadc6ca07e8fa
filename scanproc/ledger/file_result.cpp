#include "scanproc/ledger/file_result.h"

#include <algorithm>
#include <charconv>
#include <system_error>

#include "scanproc/core/error.h"
#include "scanproc/core/utc.h"
#include "scanproc/ledger/figures_of.h"
#include "scanproc/ledger/records.h"
#include "scanproc/ledger/tables.h"
#include "scanproc/pipeline/result_json.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

struct BoxPlace {
  std::string box;
  std::int64_t number = 0;
};

/// 'B3-7' is the seventh of box 'B3'.
std::optional<BoxPlace> place_in_box(const std::string& label) {
  const std::size_t dash = label.rfind('-');
  if (dash == std::string::npos || dash == 0) return std::nullopt;
  BoxPlace place{label.substr(0, dash), 0};
  const char *const begin = label.data() + dash + 1, *const end = label.data() + label.size();
  const auto [rest, failed] = std::from_chars(begin, end, place.number);
  constexpr std::int64_t most = 1000;
  if (failed != std::errc() || rest != end || place.number < 1 || place.number > most) return std::nullopt;
  return place;
}

std::string small(std::string words) {
  std::transform(words.begin(), words.end(), words.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return words;
}

Cell or_unknown(const std::string& words) { return words.empty() ? Cell() : Cell(words); }

/// As the ledger names it: from its own folder on, where it lies below.
std::string folder_name(const Ledger& ledger, const fs::path& folder) {
  const fs::path base = fs::weakly_canonical(fs::absolute(ledger.path())).parent_path();
  const fs::path real = fs::weakly_canonical(fs::absolute(folder));
  const fs::path relative = real.lexically_relative(base);
  const bool is_below = !relative.empty() && *relative.begin() != "..";
  return (is_below ? relative : real).string();
}

/// What a result says of box and player, where the ledger does not know the reed yet.
void add_named_reed(Ledger& ledger, const ReedName& name) {
  if (!name.player.empty() && !ledger.has("player", name.player)) ledger.insert("player", {{"name", name.player}});
  if (!name.box.empty() && !ledger.has("box", name.box))
    ledger.insert("box", {{"name", name.box}, {"player", or_unknown(name.player)}});
  add_reed(ledger, name.label);
  if (!name.box.empty()) ledger.update("reed", name.label, {{"box", name.box}});
  if (!name.player.empty()) ledger.update("reed", name.label, {{"player", name.player}});
}

std::string sha256_list(const Result& result) {
  std::string all;
  for (const ScanSource& scan : result.scans) all += (all.empty() ? "" : " ") + scan.sha256;
  return all;
}

}  // namespace

void add_reed(Ledger& ledger, const std::string& label, const std::string& note) {
  ledger.in_one_step([&] {
    for (const Row& alike : ledger.rows("reed", {.find = label})) {
      const std::string other = reed_from(alike).label;
      if (other != label && small(other) == small(label))
        throw UsageError({"ledger.alike", {{"name", text(label)}, {"other", text(other)}}});
    }
    Row row{{"label", label}, {"stage", std::string("new")}, {"added_at", now_utc()}, {"note", or_unknown(note)}};
    const auto place = place_in_box(label);
    if (place && ledger.has("box", place->box)) {
      row["box"] = place->box;
      row["number"] = place->number;
      row["player"] = or_unknown(find_box(ledger, place->box).player);
    }
    ledger.insert("reed", std::move(row));
  });
}

ReedName whose_reed(const Ledger& ledger, const std::string& label) {
  check_row(table_named("reed"), {{"label", label}}, false);
  if (ledger.has("reed", label)) {
    const ReedRecord reed = find_reed(ledger, label);
    return {reed.label, reed.box, reed.player};
  }
  const auto place = place_in_box(label);
  if (!place || !ledger.has("box", place->box)) return {label, {}, {}};
  return {label, place->box, find_box(ledger, place->box).player};
}

void file_result(Ledger& ledger, const fs::path& folder, const Result& result) {
  const std::string name = folder_name(ledger, folder);
  ledger.in_one_step([&] {
    if (!ledger.has("reed", result.reed.label)) add_named_reed(ledger, result.reed);
    const Row row{{"folder", name},
                  {"reed", result.reed.label},
                  {"measured_at", result.measured_at},
                  {"state", std::string(name_of(result.state))},
                  {"instrument", or_unknown(result.instrument)},
                  {"plan", std::string(name_of(result.plan.status))},
                  {"scans", or_unknown(sha256_list(result))},
                  {"program_version", or_unknown(result.program_version)}};
    if (ledger.has("result", name)) {  // What was noted of it stays.
      ledger.update("result", name, row);
      for (const Row& figure : ledger.rows("figure", {.equal = {{"folder", name}}}))
        ledger.erase("figure", figure.at("id"));
    } else {
      ledger.insert("result", row);
    }
    for (const FigureValue& figure : figures_of(result))
      ledger.insert("figure", {{"folder", name}, {"name", figure.name}, {"value", figure.value}, {"u", figure.u}});
  });
}

std::vector<AdoptedResult> adopt_results(Ledger& ledger, const fs::path& above) {
  std::vector<fs::path> folders;
  std::error_code failed;
  // Links are not followed: they may lead anywhere, also in a circle.
  for (fs::recursive_directory_iterator at(above, fs::directory_options::skip_permission_denied, failed), end;
       !failed && at != end; at.increment(failed)) {
    std::error_code ignored;
    // Hidden folders are nobody's results: a measurement that is being written is one.
    if (at->path().filename().string().starts_with('.')) {
      at.disable_recursion_pending();
      continue;
    }
    if (at->path().filename() == "result.json" && at->is_regular_file(ignored) && !at->is_symlink(ignored))
      folders.push_back(at->path().parent_path());
  }
  if (failed) throw InputError({"in_file", {{"file", text(above.string())}, {"what", text(failed.message())}}});
  std::sort(folders.begin(), folders.end());
  std::vector<AdoptedResult> adopted;
  for (const fs::path& folder : folders) {
    if (ledger.has("result", folder_name(ledger, folder))) continue;
    AdoptedResult entry{folder, {}, {}};
    try {
      Result result = read_result(folder);
      if (result.reed.label.empty()) result.reed.label = fs::weakly_canonical(folder).filename().string();
      entry.reed = result.reed.label;
      file_result(ledger, folder, result);
    } catch (const InputError& error) {
      entry.refusal = error.message();
    } catch (const UsageError& error) {
      entry.refusal = error.message();
    }
    adopted.push_back(std::move(entry));
  }
  return adopted;
}

}  // namespace canewise
