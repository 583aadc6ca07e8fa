// Targets by name and from files, and the built-in that is nearest to a reed.
#include "scanproc/assess/target_file.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "scanproc/core/error.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

Target own() {
  Target target;
  target.name = "my best";
  target.title = "my best, B-flat clarinet";
  target.instrument = "clarinet-bb";
  target.origin = "mean of 3 reeds";
  target.reeds = 3;
  target.blank = Blank::thick;
  target.filed = true;
  target.rig = "bench, 2026-11-01T00:00:00Z";
  target.vamp_length_mm = 32.75;
  target.thickness_mm.resize(Target::kNodesAlong, Target::kNodesAcross);
  for (Eigen::Index i = 0; i < Target::kNodesAlong; ++i) {
    for (Eigen::Index j = 0; j < Target::kNodesAcross; ++j)
      target.thickness_mm(i, j) = 0.1 + 0.05 * static_cast<double>(i) + 0.001 * static_cast<double>(j);
  }
  target.thickness_mm(7, 3) = std::numeric_limits<double>::quiet_NaN();
  target.tolerance_mm = 0.5 * target.thickness_mm;
  return target;
}

TEST(TargetFile, ATargetComesBackAsItWas) {
  const Target before = own(), after = target_from_json(json_from_target(before), "mine.json");
  EXPECT_EQ(after.name, before.name);
  EXPECT_EQ(after.title, before.title);
  EXPECT_EQ(after.instrument, before.instrument);
  EXPECT_EQ(after.origin, before.origin);
  EXPECT_EQ(after.reeds, before.reeds);
  EXPECT_EQ(after.blank, before.blank);
  EXPECT_EQ(after.filed, before.filed);
  EXPECT_EQ(after.state, before.state);
  EXPECT_EQ(after.rig, before.rig);
  EXPECT_EQ(after.vamp_length_mm, before.vamp_length_mm);
  // The file keeps a hundredth of a micrometre; what is unknown stays unknown.
  for (const auto field : {&Target::thickness_mm, &Target::tolerance_mm}) {
    EXPECT_TRUE(std::isnan((after.*field)(7, 3)));
    EXPECT_EQ((after.*field).isNaN().count(), 1);
    EXPECT_LT(((after.*field) - (before.*field)).isNaN().select(0.0, (after.*field) - (before.*field)).abs().maxCoeff(),
              6e-6);
  }
}

TEST(TargetFile, RowsRunFromTheTipAndColumnsFromTheLeft) {
  const Target read = target_from_json(json_from_target(own()), "mine.json");
  EXPECT_NEAR(read.thickness_at(1.0, -1.0), 0.1 + 40 * 0.05, 1e-5);
  EXPECT_NEAR(read.thickness_at(0.0, 1.0), 0.1 + 20 * 0.001, 1e-5);
}

struct Refusal {
  std::string id, what, file;
};
/// What a damaged file's message holds.
Refusal refusal(const std::string& content) {
  try {
    (void)target_from_json(content, "mine.json");
  } catch (const InputError& error) {
    const Message& message = error.message();
    return {message.id, std::get<Messages>(message.arguments.at("what")).at(0).id,
            std::get<std::string>(message.arguments.at("file"))};
  }
  ADD_FAILURE() << "was read";
  return {};
}

std::string with(const std::string& from, const std::string& to) {
  std::string text = json_from_target(own());
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

TEST(TargetFile, ADamagedOneIsRefusedWithItsNameAndTheReason) {
  for (const std::string& content :
       {std::string(), std::string("{}"), with("canewise-target", "other"), with("\"version\":1", "\"version\":2")}) {
    const Refusal refused = refusal(content);
    EXPECT_EQ(refused.id, "in_file");
    EXPECT_EQ(refused.file, "mine.json");
    EXPECT_EQ(refused.what, content.empty() ? "target_file.damaged" : "target_file.version") << content;
  }
  EXPECT_EQ(refusal(with("\"reeds\":3", "\"reeds\":\"three\"")).what, "target_file.damaged");
  EXPECT_EQ(refusal(with("\"title\"", "\"titel\"")).what, "target_file.damaged");
  EXPECT_EQ(refusal(with("32.75", "1e300")).what, "target_file.impossible_number");
  // A row too few, a value too many, text for a number, a thickness that no reed has.
  EXPECT_EQ(refusal(with("[[0.1,", "[0,[0.1,")).what, "target_file.field");
  EXPECT_EQ(refusal(with("[[0.1,", "[[0.1,0.1,")).what, "target_file.field");
  EXPECT_EQ(refusal(with("[[0.1,", "[[\"thin\",")).what, "target_file.field");
  EXPECT_EQ(refusal(with("[[0.1,", "[[10.5,")).what, "target_file.field");
  EXPECT_EQ(refusal(with("[[0.1,", "[[-0.1,")).what, "target_file.field");
}

TEST(TargetFile, ANameIsABuiltInElseAFileElseAFileAsTargetMakeCallsIt) {
  EXPECT_EQ(load_target("bb-thin-filed-squarer").name, "bb-thin-filed-squarer");
  const test::TempFolder folder;
  const auto path = folder.file("best.json", json_from_target(own()));
  EXPECT_EQ(load_target(path.string()).name, "my best");
  (void)folder.file("second.target.json", json_from_target(own()));
  EXPECT_EQ(load_target((folder.path() / "second").string()).name, "my best");
  try {
    (void)load_target((folder.path() / "third").string());
    ADD_FAILURE() << "was found";
  } catch (const UsageError& error) {
    EXPECT_EQ(error.message().id, "target.none");
  }
  const auto large = folder.file("large.json", std::string((1U << 20U) + 1, ' '));
  try {
    (void)load_target(large.string());
    ADD_FAILURE() << "was read";
  } catch (const InputError& error) {
    EXPECT_NE(std::string(error.what()).find("large.json"), std::string::npos);
    EXPECT_NE(std::string(error.what()).find("too large"), std::string::npos);
  }
}

TEST(TargetFile, BuiltInsAreSortedAndLoadedByTheirOwnNames) {
  const auto& all = builtin_targets();
  ASSERT_GE(all.size(), 2U);
  EXPECT_TRUE(std::is_sorted(all.begin(), all.end(), [](const Target& a, const Target& b) { return a.name < b.name; }));
  for (const Target& target : all) {
    EXPECT_EQ(load_target(target.name).title, target.title);
    EXPECT_EQ(target.reeds, 0) << target.name;
    EXPECT_NE(find_instrument(target.instrument), nullptr) << target.name;
  }
}

/// A map that is a target's own field, thicker by so much.
const Target* nearest_to(const Target& target, double thicker_mm, Blank blank, Verdict filed,
                         std::string_view instrument) {
  Outline outline;
  outline.left.offset_mm = -6.5;
  outline.right.offset_mm = 6.5;
  outline.length_mm = 68.0;
  ThicknessMap map;
  map.grid = {0.5, 136, 26};
  map.thickness_mm = Field::Constant(136, 26, 2.5F);
  map.slope_x = map.slope_y = Field::Zero(136, 26);
  constexpr double vamp_mm = 33.0;
  for (Eigen::Index r = 0; map.grid.x_mm(r) < vamp_mm; ++r) {
    for (Eigen::Index c = 0; c < 26; ++c) {
      map.thickness_mm(r, c) =
          static_cast<float>(target.thickness_at(map.grid.x_mm(r) / vamp_mm, map.grid.y_mm(c) / 6.5) + thicker_mm);
    }
  }
  CutFeatures cut;
  cut.vamp_length_mm = {vamp_mm, 0.0};
  cut.blank = blank;
  cut.filed = filed;
  return nearest_builtin(map, map_zones(map.grid, outline, vamp_mm), outline, cut, instrument);
}

TEST(TargetFile, TheNearestBuiltInIsOfTheInstrumentAndRatherOfTheReedsKind) {
  const Target thin = load_target("bb-thin-unfiled-rounded");
  const auto name = [&](double thicker_mm, Blank blank, Verdict filed) {
    const Target* found = nearest_to(thin, thicker_mm, blank, filed, "clarinet-bb");
    return found == nullptr ? std::string() : found->name;
  };
  EXPECT_EQ(name(0.0, Blank::thin, Verdict::outside), "bb-thin-unfiled-rounded");
  EXPECT_EQ(name(0.02, Blank::thin, Verdict::outside), "bb-thin-unfiled-rounded");
  // The same surface on a thick filed blank is held against targets of its own kind.
  const std::string thick = name(0.0, Blank::thick, Verdict::within);
  EXPECT_EQ(load_target(thick).blank, Blank::thick);
  EXPECT_TRUE(load_target(thick).filed);
  // Whether it is filed counts only where it can be told.
  EXPECT_EQ(name(0.0, Blank::thin, Verdict::cannot_tell), "bb-thin-unfiled-rounded");
  const Target* tenor = nearest_to(thin, 0.0, Blank::thin, Verdict::outside, "sax-tenor");
  ASSERT_NE(tenor, nullptr);
  EXPECT_EQ(tenor->instrument, "sax-tenor");
  EXPECT_EQ(nearest_to(thin, 0.0, Blank::thin, Verdict::outside, "clarinet-eb"), nullptr);
}

}  // namespace
}  // namespace canewise
