// What the page gets is what the result holds, number by number, and no text in it can break out of its place.
#include "scanproc/report/page_data.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <nlohmann/json.hpp>

#include "scanproc/core/budget.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/page_frame.h"
#include "scanproc/words/message_json.h"
#include "tests/support/results.h"
#include "viewer/embedded/embedded_page.h"

namespace canewise {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

const Result& result() {
  static const Result measured = test::heavy_rail_result();
  return measured;
}

/// Written from the definition of RFC 4648, apart from the code that packs.
std::vector<float> unpacked(const std::string& text) {
  const std::string digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string bytes;
  unsigned int bits = 0;
  int count = 0;
  for (const char c : text) {
    if (c == '=') break;
    bits = bits << 6U | static_cast<unsigned int>(digits.find(c));
    count += 6;
    if (count >= 8) bytes += static_cast<char>(bits >> static_cast<unsigned int>(count -= 8) & 255U);
  }
  std::vector<float> values(bytes.size() / sizeof(float));
  std::memcpy(values.data(), bytes.data(), values.size() * sizeof(float));
  return values;
}

void expect_same(const json& packed, const Field& field, double factor, const char* name) {
  const auto values = unpacked(packed.get<std::string>());
  ASSERT_EQ(values.size(), static_cast<std::size_t>(field.size())) << name;
  int known = 0;
  for (std::size_t k = 0; k < values.size(); ++k) {
    const double expected = factor * static_cast<double>(field.data()[k]);
    ASSERT_EQ(std::isnan(values[k]), std::isnan(expected)) << name << ' ' << k;
    if (std::isnan(expected)) continue;
    ASSERT_NEAR(static_cast<double>(values[k]), expected, 1e-6 * std::abs(expected) + 1e-9) << name << ' ' << k;
    ++known;
  }
  EXPECT_GT(known, 1000) << name;
}

TEST(PageData, HoldsTheFieldsOfTheResult) {
  const json data = json::parse(page_data(result(), "%PDF"));
  const json& fields = data.at("fields");
  expect_same(fields.at("thickness"), result().map.thickness_mm, 1e3, "thickness");
  expect_same(fields.at("u95"), result().map.u_mm, 1e3 * kCoverage95, "u95");
  expect_same(fields.at("difference"), result().assessment.balance.difference_mm, 1e3, "difference");
  expect_same(fields.at("u95_difference"), result().assessment.balance.u_difference_mm, 1e3 * kCoverage95, "u95 of it");
  ASSERT_TRUE(result().assessment.target);
  // The assessment keeps its own, made another way: both must say the same.
  const auto deviation = unpacked(fields.at("deviation").get<std::string>());
  const Field& kept = result().assessment.target->deviation_mm;
  int compared = 0;
  for (std::size_t k = 0; k < deviation.size(); ++k) {
    const double one = static_cast<double>(deviation[k]), other = 1e3 * static_cast<double>(kept.data()[k]);
    if (std::isnan(one) || std::isnan(other)) continue;
    ASSERT_NEAR(one, other, 0.01);
    ++compared;
  }
  EXPECT_GT(compared, 1000);
  EXPECT_EQ(data.at("template_pdf"), base64("%PDF"));
}

TEST(PageData, TellsTheZonesAndThePlanAsTheResultDoes) {
  const json data = json::parse(page_data(result(), ""));
  const auto& zones = result().assessment.balance.zones;
  ASSERT_EQ(data.at("zones").size(), zones.size());
  for (std::size_t k = 0; k < zones.size(); ++k) {
    EXPECT_NEAR(data.at("zones")[k].at("difference_um").get<double>(), 1e3 * zones[k].difference.mean_mm, 1e-9);
    EXPECT_EQ(data.at("zones")[k].at("verdict"), name_of(zones[k].verdict));
  }
  ASSERT_EQ(data.at("plan").at("steps").size(), result().plan.steps.size());
  ASSERT_FALSE(result().plan.steps.empty());
  for (std::size_t k = 0; k < result().plan.steps.size(); ++k) {
    const json& step = data.at("plan").at("steps")[k];
    EXPECT_EQ(step.at("where").get<Message>(), result().plan.steps[k].where);
    EXPECT_EQ(step.at("strokes"), result().plan.steps[k].strokes);
    EXPECT_EQ(step.at("polygon").size(), result().plan.steps[k].polygon.size());
  }
  EXPECT_FALSE(data.contains("template_pdf"));
}

// The served page is made from result.json, the report from the measurement itself; a reader must see the same.
TEST(PageData, IsTheSameFromAResultThatWasKept) {
  const json now = json::parse(page_data(result(), ""));
  const json kept = json::parse(page_data(result_from_json(json_from_result(result()), "x"), ""));
  for (const char* name : {"thickness", "u95", "difference", "u95_difference", "zone", "deviation"}) {
    const auto one = unpacked(now.at("fields").at(name).get<std::string>()),
               other = unpacked(kept.at("fields").at(name).get<std::string>());
    ASSERT_EQ(one.size(), other.size()) << name;
    for (std::size_t k = 0; k < one.size(); ++k) {
      ASSERT_EQ(std::isnan(one[k]), std::isnan(other[k])) << name << ' ' << k;
      if (!std::isnan(one[k])) {
        ASSERT_NEAR(one[k], other[k], 0.02) << name << " " << k;
      }
    }
  }
  for (const char* part : {"zones", "limits", "rim", "vamp_mm", "headline", "verdict"}) {
    if (now.at(part).is_number()) {
      EXPECT_NEAR(now.at(part).get<double>(), kept.at(part).get<double>(), 1e-6) << part;
    } else {
      EXPECT_EQ(now.at(part).size(), kept.at(part).size()) << part;
    }
  }
}

TEST(PageData, NoTextEndsTheElementThatHoldsIt) {
  Result hostile = result();
  hostile.headline = {{"verbatim", {{"text", "</script><script>alert(1)</script><!--"}}}};
  const std::string data = page_data(hostile, "");
  EXPECT_THAT(data, Not(HasSubstr("<")));
  EXPECT_EQ(json::parse(data).at("headline").get<Messages>(), hostile.headline);
}

TEST(Page, ScriptCanStandInsideAScriptElement) {
  ASSERT_GT(page_script().size(), 100000U);
  EXPECT_EQ(page_script().find("</script"), std::string_view::npos);
  EXPECT_EQ(page_script().find("<!--"), std::string_view::npos);
  EXPECT_EQ(page_style().find("</style"), std::string_view::npos);
}

// A strict policy of the served page forbids what stands in attributes.
TEST(Page, ServedPageHoldsNoInlineStyleOrScript) {
  const std::string page = framed_page({.in_one_file = false}, {{"verbatim", {{"text", "t"}}}, "<p>x</p>", "{}"}, {});
  EXPECT_THAT(page, HasSubstr("src=\"/app.js\""));
  EXPECT_THAT(page, Not(HasSubstr("<style")));
  EXPECT_THAT(page, Not(HasSubstr("style=\"")));
}

}  // namespace
}  // namespace canewise
