// A scan and its mirror image: everything that has a side changes it, in words and in numbers, and nothing else does.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/in_english.h"
#include "tests/support/results.h"

namespace canewise {
namespace {

using testing::HasSubstr;
using testing::Not;

/// A heavy right rail on a mouthpiece that is more open on the right.
Cloud scan() {
  fixtures::ReedFaults faults = test::rough_cane(1);
  faults.heavy_rail_um = 40.0;
  return fixtures::scan_reed(fixtures::Reed({}, faults), fixtures::profilometer(), {}, 1).cloud;
}
Player player() {
  Player player;
  player.tip_opening_mm = 1.05;
  player.facing_length_mm = 18.0;
  player.right_tip_opening_mm = 1.15;
  return player;
}
Result measured(const Cloud& cloud, const Player& who, const Rig& rig = {}) {
  const test::TempFolder folder;
  MeasureInputs inputs;
  inputs.rig = rig;
  inputs.player = who;
  inputs.scans = {folder.file("reed.ply", fixtures::ply_binary(cloud))};
  return measure(inputs);
}
Cloud image_of(Cloud cloud) {
  cloud.points_mm.row(0) *= -1.0;
  return cloud;
}
const Result& one() {
  static const Result result = measured(scan(), player());
  return result;
}
const Result& image() {
  static const Result result = [] {
    Player other = player();
    std::swap(other.left_tip_opening_mm, other.right_tip_opening_mm);
    return measured(image_of(scan()), other);
  }();
  return result;
}

std::string other_side(const std::string& key) { return key == "left" ? "right" : key == "right" ? "left" : key; }

void expect_mirrored(const Messages& messages, const Messages& images, const std::string& where);
void expect_mirrored(const Argument& argument, const Argument& image, const std::string& where) {
  ASSERT_EQ(argument.index(), image.index()) << where;
  // Both maps are made anew, from points whose digits end elsewhere.
  const auto expect_near = [&](double value, double other, double least) {
    EXPECT_NEAR(value, other, least + 0.03 * std::abs(value)) << where;
  };
  if (const auto* word = std::get_if<Word>(&argument)) {
    EXPECT_EQ(std::get<Word>(image).key, other_side(word->key)) << where;
  } else if (const auto* number = std::get_if<Number>(&argument)) {
    expect_near(number->with_sign ? -number->value : number->value, std::get<Number>(image).value, 0.6);
  } else if (const auto* length = std::get_if<Length>(&argument)) {
    expect_near(length->with_sign ? -length->value : length->value, std::get<Length>(image).value,
                length->unit == Length::Unit::um ? 1.0 : 0.5);
  } else if (const auto* count = std::get_if<std::int64_t>(&argument)) {
    expect_near(static_cast<double>(*count), static_cast<double>(std::get<std::int64_t>(image)), 1.0);
  } else if (const auto* parts = std::get_if<Messages>(&argument)) {
    expect_mirrored(*parts, std::get<Messages>(image), where);
  } else {
    EXPECT_EQ(argument, image) << where;
  }
}
void expect_mirrored(const Messages& messages, const Messages& images, const std::string& where) {
  ASSERT_EQ(messages.size(), images.size()) << where << ": " << messages << " | " << images;
  for (std::size_t k = 0; k < messages.size(); ++k) {
    ASSERT_EQ(messages[k].id, images[k].id) << where;
    ASSERT_EQ(messages[k].arguments.size(), images[k].arguments.size()) << where;
    for (const auto& [name, argument] : messages[k].arguments)
      expect_mirrored(argument, images[k].arguments.at(name), where + ", " + messages[k].id + ", " + name);
  }
}
void expect_mirrored(const Field& field, const Field& image, double tolerance, const char* what) {
  ASSERT_EQ(field.cols(), image.cols()) << what;
  const Eigen::Index rows = std::min(field.rows(), image.rows());
  double squares = 0.0, cells = 0.0;
  for (Eigen::Index c = 0; c < field.cols(); ++c) {
    for (Eigen::Index r = 0; r < rows; ++r) {
      const double d = field(r, c) - image(r, field.cols() - 1 - c);
      if (std::isnan(d)) continue;
      squares += d * d, cells += 1.0;
    }
  }
  ASSERT_GT(cells, 1000.0) << what;
  EXPECT_LT(std::sqrt(squares / cells), tolerance) << what;
}

TEST(Mirrored, EverySentenceNamesTheOtherSide) {
  EXPECT_THAT(test::in_english(one().headline), HasSubstr("the right rail is "));
  EXPECT_THAT(test::in_english(image().headline), HasSubstr("the left rail is "));
  EXPECT_THAT(test::in_english(image().plan.sentence), HasSubstr("the left rail"));
  EXPECT_THAT(test::in_english(image().plan.sentence), Not(HasSubstr("right")));
  expect_mirrored(one().headline, image().headline, "headline");
  expect_mirrored(one().certainty, image().certainty, "certainty");
  expect_mirrored(one().plan.sentence, image().plan.sentence, "plan");
  expect_mirrored(one().plan.remarks, image().plan.remarks, "remarks");
  expect_mirrored(one().plan.alternatives, image().plan.alternatives, "alternatives");
  expect_mirrored(one().mechanics.sentence, image().mechanics.sentence, "bending");
  expect_mirrored(one().mechanics.strength.sentence, image().mechanics.strength.sentence, "strength");
  expect_mirrored(one().notes, image().notes, "notes");
}

TEST(Mirrored, MapAndBalanceAreReversed) {
  expect_mirrored(one().map.thickness_mm, image().map.thickness_mm, 5e-4, "thickness");
  expect_mirrored(one().map.u_mm, image().map.u_mm, 5e-4, "uncertainty");
  EXPECT_NEAR(one().outline.left.at(10.0), -image().outline.right.at(10.0), 0.02);
  int thick = 0;
  for (std::size_t z = 0; z < 12; ++z) {
    const ZoneBalance &a = one().assessment.balance.zones[z], &b = image().assessment.balance.zones[z];
    EXPECT_NEAR(b.difference.mean_mm, -a.difference.mean_mm, 5e-4) << z;
    EXPECT_NEAR(b.volume_mm3, -a.volume_mm3, 0.03) << z;
    EXPECT_EQ(a.verdict, b.verdict) << z;
    if (a.difference.mean_mm < 0.020) continue;
    ++thick;
    EXPECT_NEAR(b.worst_mm, -a.worst_mm, 2e-3) << z;
    EXPECT_GT(a.worst_y_mm, 0.0) << "on the side that has more";
    EXPECT_LT(b.worst_y_mm, 0.0) << z;
  }
  EXPECT_GE(thick, 1) << "or this test shows nothing";
  for (std::size_t k = 0; k < 24; ++k) {
    const ZoneThickness &a = one().assessment.zone_thickness[k], &b = image().assessment.zone_thickness[k ^ 1U];
    EXPECT_NE(a.zone.side, b.zone.side);
    EXPECT_NEAR(a.thickness.mean_mm, b.thickness.mean_mm, 5e-4) << k;
  }
  ASSERT_FALSE(one().assessment.faults.empty());
  ASSERT_FALSE(image().assessment.faults.empty());
  const Fault &a = one().assessment.faults.front(), &b = image().assessment.faults.front();
  EXPECT_EQ(a.thicker, Side::right);
  EXPECT_EQ(b.thicker, Side::left);
  EXPECT_EQ(a.at_fault, b.at_fault);
  EXPECT_NEAR(a.difference_mm, b.difference_mm, 5e-4) << "thicker less thinner";
  EXPECT_NEAR(a.from_mm, b.from_mm, 0.5);
  const Eigen::ArrayXXd turned = image().relative_thickness_mm.rowwise().reverse();
  EXPECT_LT(
      (one().relative_thickness_mm - turned).isNaN().select(0.0, one().relative_thickness_mm - turned).abs().mean(),
      5e-4);
}

TEST(Mirrored, ThePlanScrapesTheOtherSide) {
  const ScrapePlan &a = one().plan, &b = image().plan;
  EXPECT_EQ(a.status, b.status);
  ASSERT_FALSE(a.steps.empty());
  ASSERT_EQ(a.steps.size(), b.steps.size());
  for (std::size_t k = 0; k < a.steps.size(); ++k) {
    EXPECT_EQ(a.steps[k].side, Side::right);
    EXPECT_EQ(b.steps[k].side, Side::left);
    EXPECT_EQ(a.steps[k].across, b.steps[k].across);
    EXPECT_EQ(a.steps[k].along, b.steps[k].along);
    EXPECT_NEAR(a.steps[k].depth_um, b.steps[k].depth_um, 2.0);
    EXPECT_NEAR(a.steps[k].strokes, b.steps[k].strokes, 1);
    double right = 1e9, left = -1e9;
    for (const PlanPoint& p : a.steps[k].polygon) right = std::min(right, p.y_mm);
    for (const PlanPoint& p : b.steps[k].polygon) left = std::max(left, p.y_mm);
    EXPECT_GT(right, 0.0);
    EXPECT_NEAR(left, -right, 0.5);
    expect_mirrored(Messages{a.steps[k].where}, Messages{b.steps[k].where}, "where");
    expect_mirrored(Messages{a.steps[k].stop}, Messages{b.steps[k].stop}, "stop");
  }
  ASSERT_EQ(a.prediction.size(), b.prediction.size());
  for (std::size_t z = 0; z < a.prediction.size(); ++z) {
    EXPECT_NEAR(b.prediction[z].before_um, -a.prediction[z].before_um, 0.5) << z;
    EXPECT_NEAR(b.prediction[z].after_um, -a.prediction[z].after_um, 2.5) << z;
  }
}

// Meshes are mirror images but for which diagonal of a trapezoid is taken: a hundredth.
TEST(Mirrored, BendingChangesItsSign) {
  const Mechanics &a = one().mechanics, &b = image().mechanics;
  ASSERT_TRUE(a.known() && b.known());
  const auto ratio = [&](BendingFigure of_one, BendingFigure of_image) {
    return a.figure(of_one).value / b.figure(of_image).value;
  };
  EXPECT_NEAR(ratio(BendingFigure::stiffness_left, BendingFigure::stiffness_right), 1.0, 0.015);
  EXPECT_NEAR(ratio(BendingFigure::stiffness_right, BendingFigure::stiffness_left), 1.0, 0.015);
  EXPECT_NEAR(ratio(BendingFigure::stiffness_centre, BendingFigure::stiffness_centre), 1.0, 0.015);
  EXPECT_NEAR(ratio(BendingFigure::stiffness_lip, BendingFigure::stiffness_lip), 1.0, 0.005);
  EXPECT_GT(a.figure(BendingFigure::imbalance_tip).value, 0.015) << "the heavy rail is stiffer";
  for (const BendingFigure f : {BendingFigure::imbalance_tip, BendingFigure::imbalance_lip}) {
    EXPECT_NEAR(a.figure(f).value, -b.figure(f).value, 0.006);
    EXPECT_EQ(a.verdicts.at(index_of(f)), b.verdicts.at(index_of(f)));
  }
  ASSERT_EQ(a.along.size(), b.along.size());
  for (std::size_t k = 0; k < a.along.size() && a.along[k].x_mm < 25.0; ++k) {
    EXPECT_NEAR(a.along[k].left_mm_per_n / b.along[k].right_mm_per_n, 1.0, 0.02) << a.along[k].x_mm;
    EXPECT_NEAR(a.along[k].right_mm_per_n / b.along[k].left_mm_per_n, 1.0, 0.02) << a.along[k].x_mm;
  }
  const Field push = a.sensitivity.at(index_of(BendingFigure::imbalance_tip)),
              other = -b.sensitivity.at(index_of(BendingFigure::imbalance_tip));
  const double size = push.isNaN().select(0.0F, push).abs().maxCoeff();
  expect_mirrored(push, other, 0.03 * size, "sensitivity");
  EXPECT_EQ(a.closing.mouthpiece.right.tip_opening_mm, 1.15);
  EXPECT_EQ(b.closing.mouthpiece.left.tip_opening_mm, 1.15);
  EXPECT_GT(a.closing.right_minus_left_um, 20.0) << "the facing is more open there";
  EXPECT_NEAR(a.closing.right_minus_left_um, -b.closing.right_minus_left_um, 5.0);
  EXPECT_NEAR(a.closing.facing_right_minus_left_um, -b.closing.facing_right_minus_left_um, 5.0);
  EXPECT_NEAR(a.closing.pressure_kpa / b.closing.pressure_kpa, 1.0, 0.02);
}

TEST(Mirrored, ARigThatIsKnownToMirrorGivesTheReedAsItIs) {
  Rig rig;
  rig.mirrored = true;
  const Result undone = measured(image_of(scan()), player(), rig);
  EXPECT_EQ(undone.handedness, HandednessSource::rig_file);
  EXPECT_EQ(undone.headline, one().headline);
  EXPECT_EQ(undone.plan.sentence, one().plan.sentence);
  const Field &a = undone.map.thickness_mm, &b = one().map.thickness_mm;
  ASSERT_EQ(a.size(), b.size());
  EXPECT_TRUE((a == b || (a.isNaN() && b.isNaN())).all()) << "the same points to the last bit";
}

}  // namespace
}  // namespace canewise
