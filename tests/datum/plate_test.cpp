#include "scanproc/datum/plate.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <functional>
#include <numbers>

#include "scanproc/core/error.h"
#include "scanproc/datum/align.h"
#include "tests/support/drawn_reeds.h"

namespace canewise {
namespace {

using testing::HasSubstr;
using testing::Not;

/// Degrees between the found plate's up and the true one.
double tilt_deg(const PlateGuess& guess, const Eigen::Isometry3d& reed_from_scan) {
  const Eigen::Vector3d found = guess.plate_from_scan.linear().transpose() * Eigen::Vector3d::UnitZ();
  const Eigen::Vector3d truth = reed_from_scan.linear().transpose() * Eigen::Vector3d::UnitZ();
  return std::acos(std::clamp(found.dot(truth), -1.0, 1.0)) * 180.0 / std::numbers::pi;
}

TEST(Plate, IsWhatTheReedStandsOnHoweverLittleOfItIsSeen) {
  for (std::uint64_t seed = 0; seed < 12; ++seed) {
    auto drawn = test::drawn_scan(fixtures::ScannerKind::laser_line, seed);
    drawn.scene.plate_margins_mm = {1.5, 1.5, 1.5, 1.5};
    const auto scan = fixtures::scan_reed(drawn.reed, drawn.scanner, drawn.scene, seed);
    EXPECT_LT(tilt_deg(find_plate(scan.cloud.points_mm), scan.reed_from_scan), 0.1) << seed;
  }
}

TEST(Plate, ThatIsKnownIsRefinedAndNotSearchedFor) {
  // Two levels of one stage, 8 mm apart, both with something on them: the search takes what all else stands on.
  std::mt19937_64 random(4);
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform(0.0, 60.0);
  Eigen::Matrix3Xd stage(3, 40000);
  for (Eigen::Index i = 0; i < stage.cols(); ++i) {
    const double level = i % 2 == 0 ? 0.0 : 8.0, on_it = i % 10 < 2 ? 5.0 + 0.05 * uniform(random) : 0.0;
    stage.col(i) = Eigen::Vector3d(uniform(random), uniform(random), level + on_it + 0.005 * normal(random));
  }
  const Plane found = plane_of(find_plate(stage));
  EXPECT_NEAR(found.normal.z(), 1.0, 1e-6);
  EXPECT_NEAR(found.distance, 0.0, 0.002);
  const Plane upper{Eigen::Vector3d(0.0005, 0.0, 1.0).normalized(), 8.01};
  const Plane refined = plane_of(find_plate(stage, upper));
  EXPECT_NEAR(refined.normal.x(), 0.0, 1e-5);
  EXPECT_NEAR(std::abs(refined.distance), 8.0, 0.002) << "whichever side is up";
}

// A scan of something else was once told that its 'plate scatters by 255 um' and to use the laser line that it used.
TEST(Plate, ABentSurfaceIsNoPlateAndIsNotBlamedOnTheScanner) {
  std::mt19937_64 random(3);
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform(-1.0, 1.0);
  Eigen::Matrix3Xd figure(3, 60000);
  for (Eigen::Index i = 0; i < figure.cols(); ++i) {
    const double u = std::numbers::pi * uniform(random), v = 0.5 * std::numbers::pi * uniform(random);
    const double bumps = 1.0 + 0.2 * std::sin(3.0 * u) * std::cos(2.0 * v);
    figure.col(i) = bumps * Eigen::Vector3d(30.0 * std::cos(u) * std::cos(v), 14.0 * std::sin(u) * std::cos(v),
                                            20.0 * std::sin(v)) +
                    0.005 * Eigen::Vector3d(normal(random), normal(random), normal(random));
  }
  try {
    (void)find_plate(figure);
    ADD_FAILURE() << "a plate was found where none is";
  } catch (const NotMeasurable& error) {
    EXPECT_THAT(error.what(), HasSubstr("no flat plate is in view"));
  }
}

// A plate bent by 50 um or more over 30 mm hid the tip: the scan was refused with a wrong reason, or the reed came out
// 0.8 mm too long without a word.
TEST(Plate, ThatIsBowedHidesNoTip) {
  for (const auto& scanner : {fixtures::profilometer(), fixtures::laser_line(), fixtures::structured_light()}) {
    const auto length_on = [&](double bow_x_um, double bow_y_um) {
      fixtures::SceneOptions scene;
      scene.nuisance.plate_bow_x_um = bow_x_um;
      scene.nuisance.plate_bow_y_um = bow_y_um;
      return align(fixtures::scan_reed(fixtures::Reed({}, {}), scanner, scene, 1).cloud, {}).outline.length_mm;
    };
    const double flat_mm = length_on(0.0, 0.0);
    for (const double bow_um : {60.0, -60.0}) {
      EXPECT_NEAR(length_on(bow_um, 0.0), flat_mm, 0.03) << scanner.noise_um << " " << bow_um;
      EXPECT_NEAR(length_on(bow_um, bow_um), flat_mm, 0.03) << scanner.noise_um << " " << bow_um;
    }
  }
}

using Form = std::function<double(double x_mm, double y_mm)>;

/// Length of a reed on a plate that has a form of its own, which the reed has not.
double length_on_mm(const Form& form_mm, const fixtures::ScannerModel& scanner) {
  const fixtures::Reed reed({}, {});
  auto scan = fixtures::scan_reed(reed, scanner, {}, 1);
  for (Eigen::Index i = 0; i < scan.cloud.points_mm.cols(); ++i) {
    Eigen::Vector3d p = scan.reed_from_scan * scan.cloud.points_mm.col(i);
    if (!reed.inside(p.x(), p.y())) p.z() += form_mm(p.x(), p.y());
    scan.cloud.points_mm.col(i) = scan.reed_from_scan.inverse() * p;
  }
  return align(scan.cloud, {}).outline.length_mm;
}

// What is taken off is a quadratic; a plate need not be one: folded in the middle, in waves, turned up at its end.
TEST(Plate, OfAnotherFormThanAQuadraticHidesNoTip) {
  for (const auto& scanner : {fixtures::profilometer(), fixtures::laser_line(), fixtures::structured_light()}) {
    const double flat_mm = length_on_mm([](double, double) { return 0.0; }, scanner);
    for (const double size_mm : {0.05, -0.05}) {
      const std::array<Form, 3> forms{
          [=](double x, double) { return 1.4 * size_mm * std::abs(x - 34.0) / 34.0; },
          [=](double x, double) { return size_mm * std::cos(x / 12.0); },
          [=](double x, double) { return x < 10.0 ? size_mm * std::pow((10.0 - x) / 16.0, 2) : 0.0; }};
      for (std::size_t k = 0; k < forms.size(); ++k)
        EXPECT_NEAR(length_on_mm(forms.at(k), scanner), flat_mm, 0.04)
            << scanner.noise_um << " " << size_mm << " " << k;
    }
  }
}

TEST(Plate, ThatIsBentTooFarIsSaidToBeBent) {
  fixtures::SceneOptions scene;
  scene.nuisance.plate_bow_x_um = 200.0;
  try {
    (void)align(fixtures::scan_reed(fixtures::Reed({}, {}), fixtures::profilometer(), scene, 1).cloud, {});
    ADD_FAILURE() << "0.2 mm of bow over 30 mm is no plate";
  } catch (const NotMeasurable& error) {
    EXPECT_THAT(error.what(), HasSubstr("no flat plate is in view"));
    EXPECT_THAT(error.what(), Not(HasSubstr("no reed")));
  }
}

}  // namespace
}  // namespace canewise
