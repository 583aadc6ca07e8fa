// Laser-line triangulation against its own geometry: the line's middle (Steger, An unbiased detector of curvilinear
// structures, IEEE PAMI 20 (1998) 113; from memory), ray and sheet of light, and what speckle allows.
#include <gtest/gtest.h>

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <random>
#include <vector>

#include "calib/laser_plane_calibration.h"
#include "fixtures/virtual_rig.h"
#include "scanproc/frames/laser_folder.h"
#include "scanproc/images/line_centres.h"
#include "scanproc/rig/camera.h"
#include "scanproc/rig/light_sheet.h"

namespace canewise {
namespace {

constexpr double kDegree = std::numbers::pi / 180.0;

// ---------------------------------------------------------------------------------------------------------------------
// The line's middle.
// ---------------------------------------------------------------------------------------------------------------------

/// A straight stripe with a Gaussian profile through (middle column, row), rising by `angle_deg` against the columns.
struct Stripe {
  double row = 0.0, angle_deg = 0.0, sigma_px = 2.0;
  double noise = 0.0;
  std::size_t columns = 240, rows = 400;

  [[nodiscard]] double across(double column, double row_at) const {
    const double angle = angle_deg * kDegree;
    return std::cos(angle) * (row_at - row) - std::sin(angle) * (column - 0.5 * static_cast<double>(columns - 1));
  }
  /// 16 bits, so that rounding to whole counts moves no centre by more than 1e-5 px.
  [[nodiscard]] GreyPicture drawn(std::mt19937_64& random) const {
    constexpr double background = 3000.0, peak = 20000.0;
    std::normal_distribution<double> normal;
    GreyPicture picture{columns, rows, 65535, {}};
    for (std::size_t r = 0; r < rows; ++r) {
      for (std::size_t c = 0; c < columns; ++c) {
        const double t = across(static_cast<double>(c), static_cast<double>(r)) / sigma_px;
        const double value = background + peak * std::exp(-0.5 * t * t) + (noise > 0.0 ? noise * normal(random) : 0.0);
        picture.values.push_back(static_cast<std::uint16_t>(std::lround(value)));
      }
    }
    return picture;
  }
};

TEST(LaserLine, AnIdealStripeIsFoundToThreeThousandthsOfAPixelAtEverySubPixelPlaceAndAngle) {
  std::mt19937_64 random;
  for (const double sigma_px : {2.0, 3.0}) {
    for (const double angle_deg : {0.0, 3.0, 20.0, 50.0, -35.0}) {
      double sum = 0.0, count = 0.0;
      for (const double part : {0.05, 0.15, 0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85, 0.95}) {
        const Stripe stripe{199.0 + part, angle_deg, sigma_px};
        const FoundLine found = find_line(stripe.drawn(random), {sigma_px, true, 0.0});
        ASSERT_GT(found.centres.size(), 200U);  // Of 240, less the detector's reach at both ends.
        for (const LineCentre& c : found.centres) {
          const double off = stripe.across(c.column, c.row);
          // One Newton step to the ridge from x away goes x^3/(sigma^2 + sigma^2) too far; the last one starts within
          // an eighth of a pixel: 2.5e-4 px at 2 px width. The kernels, cut at 3.5 sigma, leave ten times that.
          ASSERT_NEAR(off, 0.0, 3e-3) << sigma_px << ' ' << angle_deg << ' ' << part;
          sum += off, count += 1.0;
          // The direction across: an error of 0.01 costs 5e-5 of a distance.
          const double cosine =
              std::abs(c.normal_row * std::cos(angle_deg * kDegree) - c.normal_column * std::sin(angle_deg * kDegree));
          ASSERT_GT(cosine, std::cos(0.01));
        }
      }
      // What is left of it is odd about a pixel's middle and falls out over all places.
      EXPECT_NEAR(sum / count, 0.0, 2e-4) << sigma_px << ' ' << angle_deg;
    }
  }
}

TEST(LaserLine, ALevelStripeBetweenTwoRowsHasACentreInEveryColumn) {
  // Each of both pixels may say that the ridge lies in the other one, and a search that believes them never ends.
  std::mt19937_64 random;
  for (const double sigma_px : {1.6, 2.0, 2.6}) {
    for (const double part : {0.47, 0.49, 0.5, 0.51, 0.53}) {
      const Stripe stripe{199.0 + part, 0.0, sigma_px};
      const FoundLine found = find_line(stripe.drawn(random), {sigma_px, true, 0.0});
      EXPECT_GE(found.centres.size(), 240U - 2U * 12U) << sigma_px << ' ' << part;  // 12: the detector's widest reach.
      for (const LineCentre& c : found.centres) ASSERT_NEAR(c.row, stripe.row, 3e-3);
    }
  }
}

TEST(LaserLine, ALineFromTopToBottomIsTheSameTurned) {
  std::mt19937_64 random(7);
  const Stripe stripe{199.3, 12.0, 2.0, 300.0};
  const GreyPicture level = stripe.drawn(random);
  GreyPicture upright{level.rows, level.columns, level.full_scale, {}};
  for (std::size_t r = 0; r < level.columns; ++r) {
    for (std::size_t c = 0; c < level.rows; ++c) upright.values.push_back(level.at(r, c));
  }
  const auto a = find_line(level, {2.0, true, 0.0}).centres, b = find_line(upright, {2.0, false, 0.0}).centres;
  ASSERT_EQ(a.size(), b.size());
  ASSERT_GT(a.size(), 200U);
  for (std::size_t i = 0; i < a.size(); ++i) {
    ASSERT_EQ(a[i].column, b[i].row);
    ASSERT_EQ(a[i].row, b[i].column);
    ASSERT_EQ(a[i].normal_row, b[i].normal_column);
    ASSERT_EQ(a[i].u_px, b[i].u_px);
  }
}

TEST(LaserLine, CentresScatterAsStated) {
  constexpr int pictures = 60;
  for (const auto& [sigma_px, angle_deg] : {std::pair{2.0, 20.0}, {2.0, -27.0}, {3.0, 20.0}}) {
    std::mt19937_64 random(1998);
    double squares = 0.0, stated = 0.0, count = 0.0;
    for (int k = 0; k < pictures; ++k) {
      const Stripe stripe{160.0 + static_cast<double>(k) / pictures, angle_deg, sigma_px, 600.0, 512, 320};
      for (const LineCentre& c : find_line(stripe.drawn(random), {sigma_px, true, 0.0}).centres) {
        const double off = stripe.across(c.column, c.row);
        squares += off * off, stated += c.u_px * c.u_px, count += 1.0;
      }
    }
    EXPECT_GT(count, 0.95 * pictures * 490.0);
    // Neighbours share pixels over the detector's width, 3.2 sigma to each side: so many are independent at least. Four
    // standard deviations of a standard deviation.
    const double independent = count / (2.0 * std::ceil(3.2 * sigma_px) + 1.0);
    EXPECT_NEAR(std::sqrt(squares / stated), 1.0, 4.0 / std::sqrt(2.0 * independent)) << sigma_px << ' ' << angle_deg;
  }
}

TEST(LaserLine, UncertaintyIsTheNoiseThroughTheDetectorAndSpeckleBesides) {
  // Derived: white noise of the picture reaches the first derivative across as noise/(sqrt(8 pi) sigma^2); a stripe of
  // width s and height P, smoothed by sigma, has a second derivative of P s/(s^2 + sigma^2)^(3/2) on its ridge.
  std::mt19937_64 random(3);
  const double s = 2.0, sigma = 2.5, noise = 600.0, peak = 20000.0, speckle_px = 0.03;
  const double expected =
      noise / (std::sqrt(8.0 * std::numbers::pi) * sigma * sigma) * std::pow(s * s + sigma * sigma, 1.5) / (peak * s);
  const Stripe stripe{160.0, 10.0, s, noise, 512, 320};
  const GreyPicture picture = stripe.drawn(random);
  const FoundLine quiet = find_line(picture, {sigma, true, 0.0}),
                  speckled = find_line(picture, {sigma, true, speckle_px});
  ASSERT_EQ(quiet.centres.size(), speckled.centres.size());
  ASSERT_GT(quiet.centres.size(), 480U);
  // 3 %: the median of 20 000 differences is good to 1 %, and the stripe's own slope lies among them.
  EXPECT_NEAR(quiet.noise, noise, 0.03 * noise);
  double mean = 0.0;
  for (std::size_t i = 0; i < quiet.centres.size(); ++i) {
    mean += quiet.centres[i].u_px / static_cast<double>(quiet.centres.size());
    EXPECT_NEAR(speckled.centres[i].u_px, std::hypot(quiet.centres[i].u_px, speckle_px), 1e-12);
  }
  // And 2 % for the kernels, which are cut at 3.5 sigma, and for curvatures off the ridge.
  EXPECT_NEAR(mean, expected, 0.05 * expected);
}

// ---------------------------------------------------------------------------------------------------------------------
// Ray and sheet. The sheet of light is n . X = c; the project keeps q = n/c.
// ---------------------------------------------------------------------------------------------------------------------

Camera plain_camera() {
  Camera camera;
  camera.width = 1920, camera.height = 1080;
  camera.fx = 2000.0, camera.fy = 2010.0, camera.cx = 960.0, camera.cy = 540.0;
  return camera;
}

LaserPlane sheet(const Eigen::Vector3d& n, double c) {
  LaserPlane plane;
  plane.q = n / c;
  return plane;
}

LineCentre centre_at(double column, double row) {
  LineCentre centre;
  centre.column = column, centre.row = row;
  return centre;
}

TEST(LaserLine, PointsAreThoseOfAnIndependentSolutionForRayAndPlane) {
  Camera camera = plain_camera();
  camera.k1 = -0.28, camera.k2 = 0.05, camera.p1 = 1e-3, camera.p2 = -7e-4, camera.k3 = 0.1;
  std::mt19937_64 random(33);
  std::uniform_real_distribution<double> unit(-1.0, 1.0);
  for (int k = 0; k < 200; ++k) {
    const double x = 0.45 * unit(random), y = 0.25 * unit(random), c = 120.0 + 30.0 * unit(random);
    const Eigen::Vector3d n = Eigen::Vector3d(0.3 * unit(random), 0.6 + 0.3 * unit(random), 0.8).normalized();
    // x = X/Z, y = Y/Z and n . X = c as three equations for X, Y and Z.
    Eigen::Matrix3d equations;
    equations << 1.0, 0.0, -x, 0.0, 1.0, -y, n.x(), n.y(), n.z();
    const Eigen::Vector3d expected = equations.fullPivLu().solve(Eigen::Vector3d(0.0, 0.0, c));
    // Where the camera sees it: Brown's model as in the OpenCV calib3d manual (from memory), written anew.
    const double r2 = x * x + y * y;
    const double radial = 1.0 + camera.k1 * r2 + camera.k2 * r2 * r2 + camera.k3 * r2 * r2 * r2;
    const double u = camera.fx * (x * radial + 2.0 * camera.p1 * x * y + camera.p2 * (r2 + 2.0 * x * x)) + camera.cx;
    const double v = camera.fy * (y * radial + camera.p1 * (r2 + 2.0 * y * y) + 2.0 * camera.p2 * x * y) + camera.cy;
    const auto found = on_sheet(camera, sheet(n, c), centre_at(u, v));
    ASSERT_TRUE(found);
    // Directions are undistorted to 1e-13; a ray that grazes the sheet makes that a few times larger.
    EXPECT_LT((found->point_mm - expected).norm(), 1e-11 * expected.norm());
  }
}

TEST(LaserLine, DepthFollowsTheColumnAsDerived) {
  // Differentiating Z = c/(n . d), d = (x, y, 1)': dZ/du = -c n_x/(f (n . d)^2).
  const Camera camera = plain_camera();
  const double c = 100.0;
  const Eigen::Vector3d n = Eigen::Vector3d(-0.7, 0.1, 0.6).normalized();
  const auto depth = [&](double u, double v) {
    return on_sheet(camera, sheet(n, c), centre_at(u, v)).value().point_mm.z();
  };
  for (const double u : {500.0, 960.0, 1300.0}) {
    for (const double v : {100.0, 900.0}) {
      const Eigen::Vector3d d((u - camera.cx) / camera.fx, (v - camera.cy) / camera.fy, 1.0);
      const double expected = -c * n.x() / (camera.fx * std::pow(n.dot(d), 2));
      constexpr double step = 0.05;
      const double slope = (depth(u + step, v) - depth(u - step, v)) / (2.0 * step);
      EXPECT_NEAR(slope, expected, 1e-8 * expected);  // Cut off: (step/f/(n . d))^2 = 1e-9; rounding 1e-12.
      // The other form: Z n_x/(f (n . d)), with Z = c/(n . d).
      EXPECT_NEAR(slope, -depth(u, v) * n.x() / (camera.fx * n.dot(d)), 1e-8 * expected);
    }
  }
}

TEST(LaserLine, ASheetAlongTheOpticalAxisGivesThreeSixteenthsOfAMillimetreAPixel) {
  // Z = f b/(u - u0), abs(dZ/du) = Z^2/(f b): f 2000 px, b 60 mm, Z 150 mm make 0.1875 mm/px (geometry; computed).
  const Camera camera = plain_camera();
  const LaserPlane along_axis = sheet(Eigen::Vector3d::UnitX(), 60.0);
  const double u = camera.cx + 2000.0 * 60.0 / 150.0;
  const auto depth = [&](double column) {
    return on_sheet(camera, along_axis, centre_at(column, 540.0)).value().point_mm.z();
  };
  EXPECT_NEAR(depth(u), 150.0, 1e-11);
  constexpr double step = 0.01;
  EXPECT_NEAR((depth(u - step) - depth(u + step)) / (2.0 * step), 0.1875, 1e-9);  // Cut off: 0.1875 (step/800)^2.
}

TEST(LaserLine, MillimetresAPixelAreTheWayAcrossTheLine) {
  const Camera camera = plain_camera();
  const LaserPlane plane = sheet(Eigen::Vector3d(0.2, -0.75, 0.6).normalized(), 90.0);
  for (const double turn_deg : {0.0, 25.0, 90.0, 140.0}) {
    LineCentre centre = centre_at(700.0, 300.0);
    centre.normal_column = std::sin(turn_deg * kDegree), centre.normal_row = std::cos(turn_deg * kDegree);
    constexpr double step = 0.05;
    const auto moved = [&](double by) {
      return on_sheet(camera, plane, centre_at(700.0 + by * centre.normal_column, 300.0 + by * centre.normal_row))
          .value()
          .point_mm;
    };
    const double way = (moved(step) - moved(-step)).norm() / (2.0 * step);
    EXPECT_NEAR(on_sheet(camera, plane, centre).value().mm_per_px, way, 1e-8 * way);  // Cut off, as above.
  }
}

TEST(LaserLine, ARayInTheSheetIsRefused) {
  // A sheet along the optical axis: the ray at u leaves it by atan((u - u0)/f), and runs behind it below u0.
  const Camera camera = plain_camera();
  const LaserPlane along_axis = sheet(Eigen::Vector3d::UnitX(), 60.0);
  const auto refused = [&](double degrees) {
    return !on_sheet(camera, along_axis, centre_at(camera.cx + camera.fx * std::tan(degrees * kDegree), 540.0));
  };
  EXPECT_TRUE(refused(0.0));
  EXPECT_TRUE(refused(1.99));  // The header's 2 degrees.
  EXPECT_FALSE(refused(2.01));
  EXPECT_TRUE(refused(-1.0));
  EXPECT_TRUE(refused(-20.0));  // They meet behind the camera.
}

// ---------------------------------------------------------------------------------------------------------------------
// The sheet from points on it.
// ---------------------------------------------------------------------------------------------------------------------

const Eigen::Vector3d kNormal = Eigen::Vector3d(0.15, -0.8, 0.55).normalized();
constexpr double kDistance_mm = 70.0;

/// On the sheet, 20 mm about its middle at a depth of 100 mm or so, with noise off it.
std::vector<Eigen::Vector3d> points_on_sheet(double noise_mm, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  const Eigen::Vector3d along = kNormal.unitOrthogonal(), other = kNormal.cross(along);
  const Eigen::Vector3d axis(0.0, 0.0, kDistance_mm / kNormal.z());  // Where the optical axis meets it.
  std::vector<Eigen::Vector3d> points;
  for (int i = 0; i < 2000; ++i) {
    const double a = 20.0 * normal(random), b = 20.0 * normal(random), off = noise_mm * normal(random);
    points.push_back(axis + a * along + b * other + off * kNormal);
  }
  return points;
}

/// q . X = 1 for all points by normal equations.
Eigen::Vector3d algebraic(const std::vector<Eigen::Vector3d>& points) {
  Eigen::Matrix3d matrix = Eigen::Matrix3d::Zero();
  Eigen::Vector3d right = Eigen::Vector3d::Zero();
  for (const auto& p : points) matrix += p * p.transpose(), right += p;
  return matrix.ldlt().solve(right);
}

TEST(LaserLine, ASheetIsFoundFromPointsOnIt) {
  const Eigen::Vector3d truth = kNormal / kDistance_mm;
  // 2000 points of 100 mm, spread by 20 mm: rounding of 1e-14 mm each.
  EXPECT_LT((plane_by_svd(points_on_sheet(0.0, 1)) - truth).norm(), 1e-13 * truth.norm());
  // Noise of 20 um tilts the normal by noise/(spread sqrt(n)) each way, which turns the plane about its points' middle,
  // `middle` mm from the camera: within four standard deviations.
  const double tilt = 0.02 / (20.0 * std::sqrt(2000.0)), middle = kDistance_mm / kNormal.z();
  const Eigen::Vector3d found = plane_by_svd(points_on_sheet(0.02, 1));
  EXPECT_LT((found.normalized() - kNormal).norm(), 4.0 * std::sqrt(2.0) * tilt);
  EXPECT_LT(std::abs(1.0 / found.norm() - kDistance_mm), 4.0 * (middle * tilt + 0.02 / std::sqrt(2000.0)));
}

TEST(LaserLine, TotalLeastSquaresAndTheAlgebraicSolutionAgree) {
  for (const std::uint64_t seed : {1U, 2U, 3U}) {
    constexpr double noise_mm = 0.02, spread_mm = 20.0;
    const auto points = points_on_sheet(noise_mm, seed);
    const Eigen::Vector3d q = plane_by_svd(points);
    // Computed: the algebraic one tilts by (noise/spread)^2 times the middle's distance along the sheet over that
    // across it, (100 mm/70 mm here at most 1.5), and its scale falls by the square of noise over distance, much less.
    const double allowed = 2.0 * 1.5 * std::pow(noise_mm / spread_mm, 2);
    EXPECT_LT((q - algebraic(points)).norm(), allowed * q.norm()) << seed;
    // So far within what the noise does that the two are one result.
    EXPECT_LT(allowed, 0.2 * noise_mm / (spread_mm * std::sqrt(2000.0)));
  }
}

// ---------------------------------------------------------------------------------------------------------------------
// Speckle.
// ---------------------------------------------------------------------------------------------------------------------

/// Dorsch, Hausler, Herrmann, Laser triangulation: fundamental uncertainty in distance measurement, Appl. Opt. 33
/// (1994) 1306: what it depends on is read there (abstract); the formula with its 1/(2 pi) is from memory.
double speckle_limit_um(double contrast, double wavelength_um, double sine_of_aperture, double triangulation_deg) {
  return contrast * wavelength_um / (2.0 * std::numbers::pi * sine_of_aperture * std::sin(triangulation_deg * kDegree));
}

TEST(LaserLine, TheVirtualRigIsNotBetterThanSpeckleAllows) {
  // Computed: 658 nm, contrast 1, half aperture 0.05; to half a unit of the last digit.
  EXPECT_NEAR(speckle_limit_um(1.0, 0.658, 0.05, 30.0), 4.19, 0.005);
  EXPECT_NEAR(speckle_limit_um(1.0, 0.658, 0.05, 45.0), 2.96, 0.005);
  for (const fixtures::VirtualRig& rig : {fixtures::small_virtual_rig(), fixtures::large_virtual_rig()}) {
    const double sheet_to_axis_deg = std::asin(std::abs(rig.sheet_normal.z())) / kDegree;
    EXPECT_NEAR(sheet_to_axis_deg, 36.0, 1.5);  // As its header says, with the degree or so of tilt.
    EXPECT_GT(rig.line_noise_um, speckle_limit_um(1.0, 0.658, 0.05, sheet_to_axis_deg));  // 3.56 um.
  }
}

}  // namespace
}  // namespace canewise
