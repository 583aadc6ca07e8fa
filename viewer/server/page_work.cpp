#include "viewer/server/page_work.h"

#include <filesystem>
#include <istream>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <utility>

#include "scanproc/advise/box_view.h"
#include "scanproc/advise/marked_reeds.h"
#include "scanproc/compare/comparison.h"
#include "scanproc/compare/learned_hand.h"
#include "scanproc/core/error.h"
#include "scanproc/core/utc.h"
#include "scanproc/ledger/records.h"
#include "scanproc/ledger/tables.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/box_page.h"
#include "scanproc/report/box_picture.h"
#include "scanproc/report/box_screen.h"
#include "scanproc/report/comparison_outputs.h"
#include "scanproc/report/reed_page.h"
#include "scanproc/report/season_page.h"
#include "scanproc/words/message_json.h"
#include "viewer/server/held_folder.h"
#include "viewer/server/results.h"

namespace canewise {
namespace {

using nlohmann::json;

constexpr std::size_t kMostBytes = std::size_t{64} << 20U;  ///< Of one piece.

std::string take_bytes(std::istream& text, std::size_t count) {
  if (count > kMostBytes) throw std::runtime_error("more than any result");
  std::string bytes(count, '\0');
  text.read(bytes.data(), static_cast<std::streamsize>(count));
  if (static_cast<std::size_t>(text.gcount()) != count) throw std::runtime_error("fewer bytes than were promised");
  return bytes;
}

bool has_ledger(const PageWork& work) {
  std::error_code unknown;
  // Not by a link: that may lead to anybody's.
  return !work.ledger.empty() &&
         std::filesystem::symlink_status(work.ledger, unknown).type() == std::filesystem::file_type::regular;
}

struct Compared {
  Result before, after;
  Comparison comparison;
};

Compared compared(const PageWork& work) {
  Compared both{result_from_json(work.results.at(0).bytes, work.results[0].name),
                result_from_json(work.results.at(1).bytes, work.results[1].name),
                {}};
  CompareOptions how{both.before.player, work.strokes_done};
  if (std::filesystem::is_regular_file(work.player)) how.player = read_player(work.player);
  both.comparison = compare(both.before, both.after, how);
  return both;
}

std::string reed(const PageWork& work, const Speech& speech) {
  PagePictures pictures;
  pictures.template_pdf = work.template_pdf;
  const PageWork::ResultFile& file = work.results.at(0);
  const Result result = result_from_json(file.bytes, file.name);
  const PageHome home{.in_one_file = false, .token = work.token};
  BesideResult beside;
  if (has_ledger(work)) {
    const Ledger ledger(work.ledger, Ledger::Access::read);
    // As it is called now; the result says how it was called then.
    const Row filed = ledger.row("result", file.name);
    const auto* const now = filed.empty() ? nullptr : std::get_if<std::string>(&filed.at("reed"));
    beside.ledger_section = ledger_section(ledger, now == nullptr ? result.reed.label : *now, home, speech);
  }
  return reed_page(result, pictures, home, speech, beside);
}

std::string season(const PageWork& work, const Speech& speech) {
  const PageHome home{.in_one_file = false};
  if (!has_ledger(work)) throw UsageError({"season.no_ledger"});
  return season_page(Ledger(work.ledger, Ledger::Access::read), work.day, home, speech);
}

std::string box(const PageWork& work, const Speech& speech) {
  if (!has_ledger(work)) throw UsageError({"season.no_ledger"});
  const Ledger ledger(work.ledger, Ledger::Access::read);
  const BoxView view = view_box(ledger, work.box);
  const HeldFolder folder(std::filesystem::path(work.ledger).parent_path());
  std::vector<PicturedReed> reeds;
  constexpr std::size_t most = 60;
  for (const ReedOfBox& reed : view.reeds) {
    // What lies elsewhere, or is no result any more, is left out: a ledger may name anything.
    const auto bytes = reed.result && reeds.size() < most ? result_bytes(folder, reed.result->folder) : std::nullopt;
    if (!bytes) continue;
    try {
      reeds.push_back({reed.reed.label,
                       {"box.shelf", {{"shelf", word(name_of(reed.shelf))}}},
                       result_from_json(*bytes, reed.result->folder)});
    } catch (const InputError&) {
      continue;
    }
  }
  const PageHome home{.in_one_file = false, .pictures_inside = true};
  return box_overview(view, box_png({"box.picture", {{"box", text(work.box)}}}, reeds, speech), home, speech);
}

std::string note(const PageWork& work) {
  if (!has_ledger(work)) throw UsageError({"season.no_ledger"});
  Ledger ledger(work.ledger, Ledger::Access::write);
  const Table& table = table_named(work.table == "trial" ? "trial" : "reed");
  Row row;
  for (const auto& [name, typed] : work.columns) {
    const Column* const column = column_of(table, name);
    if (column == nullptr)
      throw UsageError({"ledger.no_column", {{"table", word(table.name)}, {"column", text(name)}}});
    row[name] = cell_from_text(*column, typed);
  }
  if (work.table != "trial") {
    const Cell named = row["label"];
    row.erase("label");
    const auto* const words = std::get_if<std::string>(&named);
    const std::string label = words == nullptr ? std::string() : *words;
    if (row.contains("stage")) row["stage_since"] = work.day;
    ledger.update("reed", label, row);
    return json{{"said", Messages()}}.dump();
  }
  const auto* const label = std::get_if<std::string>(&row["reed"]);
  const ReedRecord reed = find_reed(ledger, label == nullptr ? std::string() : *label);
  row["played_at"] = now_utc();
  if (!reed.player.empty()) row["player"] = reed.player;
  const TrialRecord trial = trial_from(ledger.row("trial", ledger.insert("trial", row)));
  return json{{"said", signs_sentences(signs_of_trial(ledger, trial))}}.dump();
}

std::string comparison(const PageWork& work, const Speech& speech) {
  const Compared both = compared(work);
  const PageHome home{.in_one_file = false, .pictures_inside = true, .token = work.token};
  const std::string picture = removal_png(both.comparison, both.before, speech);
  return comparison_page({both.comparison, both.before, both.after}, picture, home, speech);
}

std::string hand(const PageWork& work) {
  const Compared both = compared(work);
  if (!both.comparison.hand) throw NotMeasurable({"serve.no_hand"});
  const auto kept = keep_hand(work.player, both.comparison, both.before.player);
  return json{{"file", std::filesystem::path(work.player).filename().string()}, {"kept", kept.has_value()}}.dump();
}

}  // namespace

std::string text_of(PageWork work) {
  json head{{"what", static_cast<int>(work.what)},
            {"template_bytes", work.template_pdf.size()},
            {"strokes_done", work.strokes_done},
            {"player", work.player},
            {"token", work.token},
            {"ledger", work.ledger},
            {"day", work.day},
            {"box", work.box},
            {"table", work.table},
            {"columns", work.columns},
            {"results", json::array()}};
  std::size_t size = work.template_pdf.size();
  for (const auto& result : work.results) {
    head["results"].push_back({{"name", result.name}, {"bytes", result.bytes.size()}});
    size += result.bytes.size();
  }
  std::string text = head.dump(-1, ' ', true, json::error_handler_t::replace) + "\n";
  text.reserve(text.size() + size);
  for (auto& result : work.results) text += std::exchange(result.bytes, {});
  return text += work.template_pdf;
}

PageWork page_work_from(std::istream& text) {
  std::string line;
  std::getline(text, line);
  const json head = json::parse(line);
  PageWork work;
  work.what = static_cast<PageWork::What>(head.at("what").get<int>());
  if (work.what > PageWork::What::note) throw std::runtime_error("no such page");
  head.at("strokes_done").get_to(work.strokes_done);
  head.at("player").get_to(work.player);
  head.at("token").get_to(work.token);
  head.at("ledger").get_to(work.ledger);
  head.at("day").get_to(work.day);
  head.at("box").get_to(work.box);
  head.at("table").get_to(work.table);
  head.at("columns").get_to(work.columns);
  for (const json& result : head.at("results"))
    work.results.push_back({result.at("name"), take_bytes(text, result.at("bytes").get<std::size_t>())});
  work.template_pdf = take_bytes(text, head.at("template_bytes").get<std::size_t>());
  return work;
}

std::string page_of(const PageWork& work, const Speech& speech) {
  switch (work.what) {
    case PageWork::What::reed:
      return reed(work, speech);
    case PageWork::What::comparison:
      return comparison(work, speech);
    case PageWork::What::hand:
      return hand(work);
    case PageWork::What::season:
      return season(work, speech);
    case PageWork::What::box:
      return box(work, speech);
    case PageWork::What::note:
      break;
  }
  return note(work);
}

}  // namespace canewise
