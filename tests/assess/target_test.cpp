#include "scanproc/assess/target.h"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <iterator>
#include <stdexcept>

#include "fixtures/target_shapes.h"
#include "scanproc/assess/target_file.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "tests/support/scans.h"

namespace canewise {
namespace {

TEST(BuiltinTargets, AreWhatTheFixturesMakeOfTheirShapes) {
  const auto shapes = fixtures::target_shapes();
  ASSERT_EQ(builtin_targets().size(), shapes.size());
  for (const auto& shape : shapes) {
    std::ifstream file(std::string(CANEWISE_SOURCE_DIR) + "/scanproc/assess/targets/" + shape.name + ".json",
                       std::ios::binary);
    const std::string committed{std::istreambuf_iterator<char>(file), {}};
    EXPECT_EQ(committed, json_from_target(fixtures::target_of(shape)))
        << shape.name << ": run canewise-fixtures targets";
  }
}

TEST(BuiltinTargets, CoverTheBlanksTipsAndFilingsOfBFlatAndTheOtherInstruments) {
  int bb = 0, filed = 0, unfiled = 0;
  std::array<int, 3> blanks{};
  std::vector<std::string> others;
  for (const auto& target : builtin_targets()) {
    if (target.instrument != "clarinet-bb") {
      others.push_back(target.instrument);
      continue;
    }
    ++bb;
    ++blanks.at(static_cast<std::size_t>(target.blank));
    (target.filed ? filed : unfiled)++;
  }
  EXPECT_GE(bb, 6);
  for (const int count : blanks) EXPECT_GE(count, 2);
  EXPECT_GE(filed, 2);
  EXPECT_GE(unfiled, 2);
  EXPECT_EQ(others, (std::vector<std::string>{"sax-alto", "clarinet-bass", "sax-tenor"}));
}

TEST(Target, AReedOfTheTargetsOwnCutLiesOnIt) {
  const auto shapes = fixtures::target_shapes();
  const auto& shape =
      *std::find_if(shapes.begin(), shapes.end(), [](const auto& s) { return s.name == "bb-thick-filed-rounded"; });
  const auto m = test::measured(
      fixtures::scan_reed(fixtures::Reed(shape.shape, test::rough_cane(1)), fixtures::profilometer(), {}, 1));
  ASSERT_TRUE(m.assessment.target.has_value());
  EXPECT_EQ(m.assessment.target->target.name, shape.name) << "the nearest built-in";
  EXPECT_LT(1e3 * m.assessment.target->root_mean_square_mm, 6.0);
  EXPECT_NE(m.assessment.target->verdict, Verdict::outside);
}

TEST(Target, AZoneThatIsTooThickIsSeen) {
  fixtures::ReedFaults faults = test::rough_cane(2);
  faults.heavy_rail_um = 120.0;
  const auto m = test::measured(fixtures::scan_reed(fixtures::Reed({}, faults), fixtures::profilometer(), {}, 2));
  const auto own = m.assessment.target;
  ASSERT_TRUE(own.has_value());
  for (const auto& zone : own->zones) {
    if (zone.zone == Zone{AlongBand::middle, AcrossBand::rail, Side::right}) {
      EXPECT_EQ(zone.verdict, Verdict::outside);
      EXPECT_GT(zone.deviation.mean_mm, 0.08);
    }
    if (zone.zone == Zone{AlongBand::middle, AcrossBand::rail, Side::left}) {
      EXPECT_NE(zone.verdict, Verdict::outside);
    }
  }
}

TEST(Target, AZoneThatWasHalfSeenIsNotJudged) {
  fixtures::ReedFaults faults = test::rough_cane(2);
  faults.heavy_rail_um = 120.0;
  auto m = test::measured(fixtures::scan_reed(fixtures::Reed({}, faults), fixtures::profilometer(), {}, 2));
  const Target target = m.assessment.target.value().target;
  const Zone zone{AlongBand::middle, AcrossBand::rail, Side::right};
  const auto judged = [&] {
    const ZonedMap reed{m.map, m.assessment.zones, m.aligned.outline};
    for (const auto& one : compare_with_target(reed, m.assessment.cut, target).zones)
      if (one.zone == zone) return one;
    throw std::logic_error("every zone is there");
  };
  ASSERT_EQ(judged().verdict, Verdict::outside);
  const double from = 0.25 * m.assessment.cut.vamp_length_mm.value, to = 0.65 * m.assessment.cut.vamp_length_mm.value;
  for (Eigen::Index r = 0; r < m.map.grid.rows; ++r) {
    const double x = m.map.grid.x_mm(r);
    if (x > from && x < 0.5 * (from + to))
      m.map.thickness_mm.row(r).tail(m.map.grid.columns / 2).setConstant(std::nanf(""));
  }
  EXPECT_NEAR(judged().deviation.covered, 0.5, 0.06);
  EXPECT_GT(judged().deviation.mean_mm, 0.08) << "and what was seen is as thick as before";
  EXPECT_EQ(judged().verdict, Verdict::cannot_tell);
}

TEST(Target, MeanAndSpreadOfSeveralReedsOrTheDefaultOfOne) {
  Eigen::ArrayXXd thin = Eigen::ArrayXXd::Constant(Target::kNodesAlong, Target::kNodesAcross, 0.9), thick = thin + 0.2;
  thick(3, 4) = std::nan("");
  const Target two = mean_target("mine", kUsualTolerances, {thin, thick});
  EXPECT_NEAR(two.thickness_mm(0, 0), 1.0, 1e-12);
  EXPECT_NEAR(two.tolerance_mm(0, 0), std::hypot(default_tolerance_mm(kUsualTolerances, 0.0), 0.1 * std::sqrt(2.0)),
              1e-12);
  EXPECT_TRUE(std::isnan(two.thickness_mm(3, 4)));
  EXPECT_EQ(two.reeds, 2);
  const Target one = mean_target("mine", kUsualTolerances, {thin});
  EXPECT_NEAR(one.tolerance_mm(40, 0), default_tolerance_mm(kUsualTolerances, 1.0), 1e-12);
  EXPECT_THROW((void)mean_target("none", kUsualTolerances, {}), UsageError);
}

double u_of_heart(const TargetComparison& comparison) {
  for (const auto& zone : comparison.zones)
    if (zone.zone == Zone{AlongBand::middle, AcrossBand::centre, Side::right}) return zone.deviation.u_mm;
  return 0.0;
}

TEST(Target, OfManyReedsOfOneRigKeepsTheRigsOwnErrors) {
  const auto m = test::measured(
      fixtures::scan_reed(fixtures::Reed({}, test::rough_cane(2)), fixtures::profilometer(), test::plain_scene(2), 2));
  Target mine = builtin_targets().front();
  mine.thickness_mm = sample_for_target(m.map, m.aligned.outline, m.assessment.cut.vamp_length_mm.value);
  mine.rig = "bench, 2026-11-01T00:00:00Z";
  mine.reeds = 100;
  const ZonedMap reed{.map = m.map, .zones = m.assessment.zones, .outline = m.aligned.outline};
  const auto u_with = [&](const std::string& rig) {
    return u_of_heart(compare_with_target(reed, m.assessment.cut, mine, rig));
  };
  double u2 = 0.0, stays2 = 0.0, light2 = 0.0;
  for (const auto& zone : m.assessment.zone_thickness) {
    if (zone.zone != Zone{AlongBand::middle, AcrossBand::centre, Side::right}) continue;
    u2 = square(zone.thickness.u_mm);
    for (std::size_t k = 0; k < m.map.common.size(); ++k)
      stays2 += stays_with_rig(m.map.common[k]) ? square(zone.thickness.effects_mm[k]) : 0.0;
    for (std::size_t k = 0; k < m.map.common.size(); ++k)
      light2 += m.map.common[k].source == EffectSource::penetration ? square(zone.thickness.effects_mm[k]) : 0.0;
  }
  ASSERT_GT(stays2, 0.0);
  // Another rig's light, scale and plate come on top and no number of reeds lessens them; one's own cancel.
  EXPECT_NEAR(u_with("another"), std::sqrt(1.01 * (u2 - stays2) + 2.0 * stays2), 1e-4);
  EXPECT_NEAR(u_with(mine.rig), std::sqrt(1.01 * (u2 - stays2) + 2.0 / 9.0 * light2), 1e-4);
  EXPECT_EQ(target_from_json(json_from_target(mine), "x").rig, mine.rig);
}

TEST(Target, FilesComeBackAsTheyWereAndDamagedOnesAreRefused) {
  const Target target = builtin_targets().front();
  const std::string text = json_from_target(target);
  EXPECT_EQ(json_from_target(target_from_json(text, "x")), text);
  EXPECT_THROW((void)target_from_json(text.substr(0, text.size() / 2), "x"), InputError);
  EXPECT_THROW((void)target_from_json("{}", "x"), InputError);
  EXPECT_THROW((void)target_from_json("[1,2", "x"), InputError);
  std::string wild = text;
  wild.replace(wild.find("[[") + 2, 3, "99.");
  EXPECT_THROW((void)target_from_json(wild, "x"), InputError);
  EXPECT_THROW((void)load_target("no-such-target"), UsageError);
}

TEST(Target, ReadingBetweenNodesIsBilinearAndOutsideUnknown) {
  Target target;
  target.thickness_mm.setZero(Target::kNodesAlong, Target::kNodesAcross);
  for (Eigen::Index i = 0; i < Target::kNodesAlong; ++i) {
    for (Eigen::Index j = 0; j < Target::kNodesAcross; ++j)
      target.thickness_mm(i, j) = 2.0 * Target::t_of(i) - 0.5 * Target::e_of(j);
  }
  for (const double t : {0.0, 0.013, 0.5, 1.0}) {
    for (const double e : {-1.0, -0.33, 0.0, 0.77, 1.0})
      EXPECT_NEAR(target.thickness_at(t, e), 2.0 * t - 0.5 * e, 1e-12);
  }
  EXPECT_TRUE(std::isnan(target.thickness_at(1.01, 0.0)));
  EXPECT_TRUE(std::isnan(target.thickness_at(-0.01, 0.0)));
}

}  // namespace
}  // namespace canewise
