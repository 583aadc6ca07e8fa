#include "viewer/server/page_work.h"

#include <filesystem>
#include <istream>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <utility>

#include "scanproc/compare/comparison.h"
#include "scanproc/compare/learned_hand.h"
#include "scanproc/core/error.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/comparison_outputs.h"
#include "scanproc/report/reed_page.h"

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
  return reed_page(result_from_json(file.bytes, file.name), pictures, {.in_one_file = false}, speech);
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
  if (work.what > PageWork::What::hand) throw std::runtime_error("no such page");
  head.at("strokes_done").get_to(work.strokes_done);
  head.at("player").get_to(work.player);
  head.at("token").get_to(work.token);
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
      break;
  }
  return hand(work);
}

}  // namespace canewise
