// A block that two scans see ties them: every way to lay it, each with the covariance of its faces, of the block's
// sizes and of the scanner's scale. The blocks are made by hand, so that the truth is known to the last digit.
#include "scanproc/datum/block_tie.h"

#include <gtest/gtest.h>

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <random>
#include <vector>

namespace canewise {
namespace {

using Vector6d = Eigen::Matrix<double, 6, 1>;

constexpr std::array kEdges{10.0, 12.0, 14.0};
constexpr double kHeight_mm = 0.0015, kSlope_rad = 2e-4;  // Standard uncertainties of every face.
constexpr double kSize_mm = 0.003, kScale = 3e-4;
const KnownBlock kKnown{kEdges, kSize_mm, kScale};

/// How a face is seen over the nominal one: height at its middle and slopes along its own u and v.
struct FaceLie {
  double height_mm = 0.0, slope_u = 0.0, slope_v = 0.0;
};

/// The face at the high (+1) or low (-1) end of the block's edge k, in the block's own frame.
BlockFace face_of(int k, double side, const FaceLie& lie = {}) {
  BlockFace face;
  const Eigen::Vector3d next = Eigen::Vector3d::Unit((k + 1) % 3), last = Eigen::Vector3d::Unit((k + 2) % 3);
  const Eigen::Vector3d normal = side * Eigen::Vector3d::Unit(k), u = side > 0.0 ? next : last,
                        v = side > 0.0 ? last : next;
  face.axis = k;
  // The mean of what was seen is not the face's own middle, and another one on the far side.
  face.middle_mm = (0.5 * kEdges.at(static_cast<std::size_t>(k)) + lie.height_mm) * normal +
                   (side > 0.0 ? 1.3 : -0.9) * next - (side > 0.0 ? 0.8 : -1.6) * last;
  face.normal = (normal - lie.slope_u * u - lie.slope_v * v).normalized();
  face.u = (u + lie.slope_u * normal).normalized();
  face.v = face.normal.cross(face.u);
  face.covariance.diagonal() << kHeight_mm * kHeight_mm, kSlope_rad * kSlope_rad, kSlope_rad * kSlope_rad;
  face.sigma_mm = side > 0.0 ? 0.003 : 0.004;
  return face;
}

/// The block with these faces, in a scan whose frame is reached by `scan_from_block`; its axes follow `order`.
SeenBlock seen(const std::vector<BlockFace>& faces, const Eigen::Isometry3d& scan_from_block,
               const std::array<std::size_t, 3>& order = {0, 1, 2}) {
  SeenBlock block;
  block.edge_of = {order};
  std::vector<BlockFace> further;
  for (std::size_t axis = 0; axis < 3; ++axis) {
    block.extent_mm.at(axis) = kEdges.at(order.at(axis));
    bool is_first = true;
    for (BlockFace face : faces) {
      if (static_cast<std::size_t>(face.axis) != order.at(axis)) continue;
      face.axis = static_cast<int>(axis);
      face.middle_mm = scan_from_block * face.middle_mm;
      for (Eigen::Vector3d* way : {&face.normal, &face.u, &face.v}) *way = scan_from_block.linear() * *way;
      if (is_first) block.axes.at(axis) = face.normal;
      (is_first ? block.faces : further).push_back(face);
      is_first = false;
    }
  }
  block.faces.insert(block.faces.end(), further.begin(), further.end());
  return block;
}

std::vector<BlockFace> three(double side, const std::array<FaceLie, 3>& lies = {}) {
  return {face_of(0, side, lies[0]), face_of(1, side, lies[1]), face_of(2, side, lies[2])};
}

const Eigen::Isometry3d kFirst =
    Eigen::Translation3d(80.0, -30.0, 55.0) * Eigen::AngleAxisd(0.9, Eigen::Vector3d(1, 2, -1).normalized());
const Eigen::Isometry3d kSecond =
    Eigen::Translation3d(-20.0, 65.0, 10.0) * Eigen::AngleAxisd(2.4, Eigen::Vector3d(-2, 1, 3).normalized());

/// The way that lies nearest to the truth.
const TiedMotion& nearest(const std::vector<TiedMotion>& ways, const Eigen::Isometry3d& truth) {
  return *std::min_element(ways.begin(), ways.end(), [&](const TiedMotion& a, const TiedMotion& b) {
    return (a.first_from_second.linear() - truth.linear()).norm() <
           (b.first_from_second.linear() - truth.linear()).norm();
  });
}

TEST(BlockTie, OppositeFacesLieAnEdgeApartAndTheBlockFitsInFourWays) {
  const Eigen::Isometry3d truth = kFirst * kSecond.inverse();
  // The second scan, from below, names the block's axes in another order.
  const auto ways = match_blocks(seen(three(1.0), kFirst), seen(three(-1.0), kSecond, {2, 0, 1}), kKnown);
  ASSERT_EQ(ways.size(), 4U) << "a block of unlike edges looks alike after half a turn about each of its axes";
  int right = 0;
  for (const TiedMotion& way : ways) {
    const Eigen::AngleAxisd off(way.first_from_second.linear() * truth.linear().transpose());
    EXPECT_NEAR(way.first_from_second.linear().determinant(), 1.0, 1e-9);
    EXPECT_EQ(way.ties, 3U);
    EXPECT_EQ(way.method.id, "joining.block");
    EXPECT_NEAR(way.residual_mm, 0.005, 1e-12) << "root of 0.003^2 + 0.004^2";
    if (off.angle() > 1e-6) {
      EXPECT_NEAR(off.angle(), std::numbers::pi, 1e-6);
      continue;
    }
    ++right;
    EXPECT_LT((way.first_from_second.translation() - truth.translation()).norm(), 1e-9);
  }
  EXPECT_EQ(right, 1);
}

TEST(BlockTie, AFaceThatBothScansSeeLiesWhereItIs) {
  const Eigen::Isometry3d truth = kFirst * kSecond.inverse();
  const auto ways = match_blocks(seen({face_of(0, 1.0), face_of(1, -1.0), face_of(2, 1.0)}, kFirst),
                                 seen({face_of(0, 1.0), face_of(1, -1.0), face_of(2, -1.0)}, kSecond), kKnown);
  ASSERT_EQ(ways.size(), 4U);
  EXPECT_LT((nearest(ways, truth).first_from_second.matrix() - truth.matrix()).norm(), 1e-9);
}

TEST(BlockTie, EveryWayToGiveTheEdgesIsTried) {
  SeenBlock first = seen(three(1.0), kFirst);
  first.edge_of.push_back({1, 0, 2});
  EXPECT_EQ(match_blocks(first, seen(three(-1.0), kSecond), kKnown).size(), 8U);
}

TEST(BlockTie, CovarianceHoldsFacesSizesParallelismAndScale) {
  std::mt19937_64 random(8);
  std::normal_distribution<double> normal;
  double squares = 0.0;
  constexpr int draws = 300;
  for (int k = 0; k < draws; ++k) {
    std::array<FaceLie, 3> above, below;
    for (std::size_t axis = 0; axis < 3; ++axis) {
      above.at(axis) = {kHeight_mm * normal(random), kSlope_rad * normal(random), kSlope_rad * normal(random)};
      below.at(axis) = {kHeight_mm * normal(random), kSlope_rad * normal(random), kSlope_rad * normal(random)};
      // The far face truly lies so much farther, and changes by as much over its length and over its width. Its u runs
      // along the last of the two other edges, its v along the next.
      below.at(axis).height_mm += kSize_mm * normal(random);
      below.at(axis).slope_v += kSize_mm / kEdges.at((axis + 1) % 3) * normal(random);
      below.at(axis).slope_u += kSize_mm / kEdges.at((axis + 2) % 3) * normal(random);
    }
    const double stretch = 1.0 + kScale * normal(random);
    SeenBlock first = seen(three(1.0, above), kFirst), second = seen(three(-1.0, below), kSecond);
    for (SeenBlock* block : {&first, &second}) {
      for (BlockFace& face : block->faces) face.middle_mm *= stretch;
    }
    Eigen::Isometry3d truth = kFirst * kSecond.inverse();
    truth.translation() *= stretch;
    const auto ways = match_blocks(first, second, kKnown);
    ASSERT_FALSE(ways.empty());
    const TiedMotion& found = nearest(ways, truth);
    const Eigen::Isometry3d error = found.first_from_second * truth.inverse();
    const Eigen::AngleAxisd turn(error.linear());
    Vector6d e;
    e << error.translation(), turn.angle() * turn.axis();
    squares += e.dot(found.covariance.ldlt().solve(e)) / draws;
  }
  // Six values of variance 1; one in twenty draws misfits and states up to some times more, which takes 3 % off. The
  // mean of 300 scatters by 0.2.
  EXPECT_GT(squares, 5.0);
  EXPECT_LT(squares, 6.6);
}

/// Both scans see the same three faces; one of the second's leans by so much about the block's third edge.
double growth(double lean_rad) {
  const auto variance = [](double lean) {
    const std::array<FaceLie, 3> lies{FaceLie{0.0, lean, 0.0}, {}, {}};
    const auto ways = match_blocks(seen(three(1.0), kFirst), seen(three(1.0, lies), kSecond), kKnown);
    return ways.empty() ? 0.0 : nearest(ways, kFirst * kSecond.inverse()).covariance.trace();
  };
  return variance(lean_rad) / variance(0.0);
}

TEST(BlockTie, WhereFacesFitWorseThanTheirUncertaintySaysTheCovarianceGrows) {
  // By hand: the turn about the third edge is told by two faces, each to V = 2 * (2e-4)^2; they disagree by the lean.
  // Chi squared is lean^2 / (2 V) over 9 - 6 degrees of freedom.
  constexpr double v = 2.0 * kSlope_rad * kSlope_rad;
  EXPECT_NEAR(growth(2e-3), 4e-6 / (6.0 * v), 0.01 * 4e-6 / (6.0 * v));
  // A mean square of three normal values exceeds 2.6 in one case of twenty (tables of chi squared: 7.81 / 3); below
  // that nothing is wrong.
  EXPECT_NEAR(growth(1e-3), 1.0, 0.01);  // 2.1.
}

TEST(BlockTie, WaysThatFitBeyondAllMeasureAreLeftOut) {
  // Equal faces share a lean: 3 degrees are 1.5 for each, which may be; 5 are 2.5, which is another pair of faces.
  EXPECT_GT(growth(3.0 * std::numbers::pi / 180.0), 1.0);
  EXPECT_EQ(growth(5.0 * std::numbers::pi / 180.0), 0.0);
  // Four faces tell an edge that is not the block's: 10 mm seen, 12.5 known.
  const SeenBlock four = seen({face_of(0, 1.0), face_of(0, -1.0), face_of(1, 1.0), face_of(2, 1.0)}, kFirst);
  KnownBlock other = kKnown;
  other.edges_mm[0] = 12.5;
  EXPECT_FALSE(match_blocks(four, seen(three(-1.0), kSecond), kKnown).empty());
  EXPECT_TRUE(match_blocks(four, seen(three(-1.0), kSecond), other).empty());
}

TEST(BlockTie, FacesBeyondThreeOnlyAddToIt) {
  const SeenBlock four = seen({face_of(0, 1.0), face_of(0, -1.0), face_of(1, 1.0), face_of(2, 1.0)}, kFirst);
  const Eigen::Isometry3d truth = kFirst * kSecond.inverse();
  const auto with_three = match_blocks(seen(three(1.0), kFirst), seen(three(-1.0), kSecond), kKnown);
  const auto with_four = match_blocks(four, seen(three(-1.0), kSecond), kKnown);
  const TiedMotion& more = nearest(with_four, truth);
  EXPECT_EQ(more.ties, 4U);
  EXPECT_LT((more.first_from_second.matrix() - truth.matrix()).norm(), 1e-9);
  // Along the first edge the shared face has two heights' uncertainty and neither size nor scale.
  const auto variance_along_x = [&](const TiedMotion& way) {
    const PlaceCovariance at_block = in_frame(way.covariance, Eigen::Isometry3d(kFirst.inverse()));
    return at_block(0, 0);
  };
  EXPECT_LT(variance_along_x(more), 0.5 * variance_along_x(nearest(with_three, truth)));
}

}  // namespace
}  // namespace canewise
