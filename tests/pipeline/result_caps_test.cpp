// What a result's file may hold. That all of it together is read in bounded memory: acceptance/refusal_memory; that it
// is compared in bounded time: compare/worst_case.
#include "scanproc/pipeline/result_caps.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

#include "scanproc/pipeline/check_result.h"
#include "scanproc/pipeline/result_json.h"
#include "tests/support/refusals.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using nlohmann::json;

struct Complaint {
  std::string id, key;
  double most = -1.0;
};

template <typename Check>
Complaint complaint(const Check& check) {
  try {
    check();
  } catch (const Impossible& impossible) {
    const auto& with = impossible.why.arguments;
    Complaint found{impossible.why.id, {}, -1.0};
    if (const auto most = with.find("most"); most != with.end()) found.most = std::get<Number>(most->second).value;
    if (const auto key = with.find("key"); key != with.end()) found.key = std::get<std::string>(key->second);
    return found;
  }
  return {};
}

/// `most` entries under the key are taken, one more is refused with the key and the number; wherever in a result.
void expect_cap(const std::string& key, std::size_t most, const json& entry = json::object()) {
  json list = json::array();
  for (std::size_t k = 0; k < most; ++k) list.push_back(entry);
  json document{{"somewhere", json::array({{{key, list}}})}};
  EXPECT_EQ(complaint([&] { check_lengths(document); }).id, "") << key;
  document["somewhere"][0][key].push_back(entry);
  const Complaint found = complaint([&] { check_lengths(document); });
  EXPECT_EQ(found.id, "result.too_many") << key;
  EXPECT_EQ(found.key, key);
  EXPECT_EQ(found.most, static_cast<double>(most)) << key;
}

TEST(ResultCaps, EveryListHasItsMost) {
  for (const char* key : {"headline", "certainty", "notes", "sentence", "remarks", "alternatives", "cautions",
                          "options", "known_reeds", "hand_learned_from"})
    expect_cap(key, 1000);
  expect_cap("scans", 64);
  expect_cap("steps", 100);
  expect_cap("polygon", 1000);
  expect_cap("faults", 1000);
  expect_cap("modes", 32);
  expect_cap("budgets", 200);
  expect_cap("lines", 200);
  expect_cap("cell_indices", 1'000'000, 1);
  expect_cap("anything_else", 20000, 1.5);
}

TEST(ResultCaps, AFieldHasAMillionCellsAtMostInTwentyThousandRowsAndColumns) {
  const auto field = [](std::size_t rows, std::size_t columns) {
    return json{{"thickness_mm", json(rows, json(columns, 0))}};
  };
  EXPECT_EQ(complaint([&] { check_lengths(field(1000, 1000)); }).id, "");
  EXPECT_EQ(complaint([&] { check_lengths(field(50, 20000)); }).id, "");
  EXPECT_EQ(complaint([&] { check_lengths(field(1001, 1000)); }).most, 1'000'000.0);
  EXPECT_EQ(complaint([&] { check_lengths(field(20001, 1)); }).most, 20000.0);
  EXPECT_EQ(complaint([&] { check_lengths(field(1, 20001)); }).most, 20000.0);
}

TEST(ResultCaps, ATextIsWeighedBeforeItIsMadeADocument) {
  const auto weigh = [](const std::string& again, std::size_t times) {
    std::string text;
    for (std::size_t k = 0; k < times; ++k) text += again;
    return complaint([&] { check_text(text); });
  };
  EXPECT_EQ(weigh("[", 100'000).id, "");
  EXPECT_EQ(weigh("[", 100'001).id, "result.too_many_parts");
  EXPECT_EQ(weigh("{", 100'001).most, 100'000.0);
  EXPECT_EQ(weigh("\"\":", 100'000).id, "");
  EXPECT_EQ(weigh("\"\":", 100'001).most, 100'000.0);
  EXPECT_EQ(weigh("0.1234,", 7'000'001).most, 7'000'000.0);
  EXPECT_EQ(weigh("1,", 4'000'000).id, "result.too_many_parts") << "as many values as no result of that size has";
  EXPECT_EQ(weigh("0.1234,", 4'000'000).id, "");
}

TEST(ResultCaps, ARefusalNamesTheFileAndTheLimit) {
  const test::TempFolder folder;
  const auto large = folder.file("result.json", "{");
  std::filesystem::resize_file(large, (kResultCaps.file_mib << 20U) + 1);
  const test::Refusal too_large = test::refusal_of([&] { return read_result(folder.path()); });
  EXPECT_EQ(too_large.id, "result.too_large");
  EXPECT_EQ(too_large.number("mib"), static_cast<double>(kResultCaps.file_mib));
  EXPECT_EQ(too_large.file, large.string());
  const auto nested = [](std::size_t deep) {
    return "{\"format\":\"canewise-result\",\"version\":2,\"a\":" + std::string(deep, '[') + std::string(deep, ']') +
           "}";
  };
  const test::Refusal too_deep = test::refusal_of([&] { return result_from_json(nested(40), "mine.json"); });
  EXPECT_EQ(too_deep.id, "result.too_deep");
  EXPECT_EQ(too_deep.number("most"), 32.0);
  EXPECT_EQ(too_deep.file, "mine.json");
  EXPECT_NE(test::refusal_of([&] { return result_from_json(nested(30), "mine.json"); }).id, "result.too_deep");
  const test::Refusal many = test::refusal_of([&] {
    return result_from_json("{\"format\":\"canewise-result\",\"version\":2,\"scans\":" + json(65, 1).dump() + "}",
                            "mine.json");
  });
  EXPECT_NE(many.words.find("mine.json"), std::string::npos);
  EXPECT_NE(many.words.find("'scans' holds more than 64 entries"), std::string::npos) << many.words;
}

}  // namespace
}  // namespace canewise
