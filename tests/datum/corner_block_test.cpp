// A block on the carrier ties both sides however it is turned and tilted, and says how well. Scans are generated; the
// truth is the generator's.
#include "scanproc/datum/corner_block.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdio>
#include <mutex>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/datum/two_sided.h"
#include "tests/support/block_scans.h"

namespace canewise {
namespace {

using testing::HasSubstr;
using namespace test;
using Vector6d = Eigen::Matrix<double, 6, 1>;

Rig rig_with(const BlockDraw& draw) {
  Rig rig;
  rig.carrier.block_edges_mm = draw.edges_mm;
  rig.carrier.u_size_um = draw.u_size_um;
  return rig;
}

BlockScans drawn_scans(const fixtures::ScannerModel& scanner, const BlockDraw& draw, std::uint64_t seed) {
  return scan_with_block(fixtures::Reed({}, rough_cane(seed)), scanner, draw, seed);
}

BothSides joined(const BlockScans& scans, const Rig& rig) {
  return join_sides(scans.scans.top.cloud, scans.scans.underside.cloud, rig);
}

std::string refusal(const BlockScans& scans, const Rig& rig) {
  try {
    (void)joined(scans, rig);
  } catch (const NotMeasurable& error) {
    return error.what();
  }
  return "joined";
}

/// Errors of the underside's place in the reed frame.
struct PlaceError {
  Vector6d in_units_of_u;    ///< Made independent by the stated covariance: each of variance 1 if that is right.
  double u_height_um = 0.0;  ///< Stated, at the tip.
};

PlaceError place_error(const BothSides& sides, const BothScans& scans) {
  const Eigen::Isometry3d reed_from_top = scans.top.reed_from_scan;
  const Eigen::Isometry3d truth = reed_from_top.inverse() * scans.underside.reed_from_scan;
  const Eigen::Isometry3d error =
      reed_from_top * sides.tie->first_from_second * truth.inverse() * reed_from_top.inverse();
  const Eigen::AngleAxisd turn(error.linear());
  const PlaceCovariance covariance = in_frame(sides.tie->covariance, reed_from_top);
  Vector6d found;
  found << error.translation(), turn.angle() * turn.axis();
  // Lengths and angles brought to like sizes first: the factors then keep their digits.
  const Vector6d unit = covariance.diagonal().cwiseSqrt();
  const PlaceCovariance correlation = unit.cwiseInverse().asDiagonal() * covariance * unit.cwiseInverse().asDiagonal();
  return {correlation.llt().matrixL().solve(found.cwiseQuotient(unit)), 1e3 * unit(2)};
}

struct Study {
  int asked = 0, found = 0;
  double within = 0.0, values = 0.0, worst = 0.0, squares = 0.0, u_height_um = 0.0;
  std::vector<std::string> problems;
};

/// Draws of a kind, README's edges or drawn ones.
Study study_of(const fixtures::ScannerModel& scanner, bool drawn_edges, double also_seen_mm, std::uint64_t scans) {
  Study study;
  std::mutex lock;
  run_parts([&](std::size_t part) {
    for (std::uint64_t seed = part; seed < scans; seed += kParallelParts) {
      BlockDraw draw;
      draw.also_seen_mm = also_seen_mm;
      std::mt19937_64 random(seed + 77);
      if (drawn_edges) draw.edges_mm = fixtures::draw_edges(8.0, 18.0, 1.0, random);
      const BlockScans generated = drawn_scans(scanner, draw, seed);
      std::string problem;
      std::optional<PlaceError> error;
      try {
        error = place_error(joined(generated, rig_with(draw)), generated.scans);
      } catch (const Error& refused) {
        problem = refused.what();
      }
      const std::scoped_lock guard(lock);
      ++study.asked;
      if (!error) {
        study.problems.push_back(std::to_string(seed) + ": " + problem);
        continue;
      }
      ++study.found;
      study.values += 6.0;
      study.u_height_um += error->u_height_um;
      for (const double e : error->in_units_of_u) {
        study.within += std::abs(e) <= kCoverage95;
        study.worst = std::max(study.worst, std::abs(e));
        study.squares += e * e;
      }
    }
  });
  std::printf(
      "noise %g um, %s edges, strip %g mm: %d of %d found, %.1f %% of %g within U95, worst %.1f u, rms %.2f u, u of "
      "height at the tip %.1f um\n",
      scanner.noise_um, drawn_edges ? "drawn" : "README's", also_seen_mm, study.found, study.asked,
      100.0 * study.within / study.values, study.values, study.worst, std::sqrt(study.squares / study.values),
      study.u_height_um / study.found);
  return study;
}

const std::array<fixtures::ScannerModel, 3> kScanners{fixtures::profilometer(), fixtures::laser_line(),
                                                      fixtures::structured_light()};

TEST(CornerBlock, ReadmesIsFoundInEveryTurnAndTilt) {
  constexpr std::uint64_t scans = 20;
  for (const auto& scanner : kScanners) {
    const Study study = study_of(scanner, false, 0.0, scans);
    EXPECT_EQ(study.found, study.asked) << testing::PrintToString(study.problems);
  }
}

TEST(CornerBlock, ABitOfFurtherFacesDoesNotDisturb) {
  constexpr std::uint64_t scans = 6;
  for (const auto& scanner : kScanners) {
    for (const double strip_mm : {0.6, 2.5}) {
      const Study study = study_of(scanner, true, strip_mm, scans);
      EXPECT_EQ(study.found, study.asked) << testing::PrintToString(study.problems);
      EXPECT_LT(study.worst, 4.5);  // Of 36 values one lies beyond 2.4.
    }
  }
}

TEST(CornerBlock, ABlockOfUnlikeEdgesIsFoundAndItsErrorsLieWithinTheStatedCovariance) {
  double within = 0.0, values = 0.0, squares = 0.0;
  for (const auto& scanner : kScanners) {
    constexpr std::uint64_t scans = 40;
    const Study study = study_of(scanner, true, 0.0, scans);
    EXPECT_EQ(study.found, study.asked) << testing::PrintToString(study.problems);
    EXPECT_LT(study.worst, 4.5);  // Of 240 values one lies beyond 3.1.
    within += study.within, values += study.values, squares += study.squares;
  }
  // A share of 0.95 of 720 values is known to 0.008, their mean square to 0.05.
  EXPECT_GT(within / values, 0.93);
  EXPECT_LT(within / values, 0.98);
  EXPECT_NEAR(squares / values, 1.0, 0.15);
}

TEST(CornerBlock, EqualScansGiveEqualPlaces) {
  const BlockDraw draw;
  const BlockScans scans = drawn_scans(fixtures::laser_line(), draw, 5);
  EXPECT_EQ(joined(scans, rig_with(draw)).tie->first_from_second.matrix(),
            joined(scans, rig_with(draw)).tie->first_from_second.matrix());
}

TEST(CornerBlock, ACubeIsFoundToo) {
  // It looks alike after a third of a turn, but then top and underside make no reed.
  BlockDraw draw;
  draw.edges_mm = {12, 12, 12};
  const BlockScans scans = drawn_scans(fixtures::laser_line(), draw, 6);
  EXPECT_LT(place_error(joined(scans, rig_with(draw)), scans.scans).in_units_of_u.cwiseAbs().maxCoeff(), 4.0);
}

TEST(CornerBlock, EdgesThatDifferByLessThanTheScanTellsAreRefused) {
  BlockDraw draw;
  draw.edges_mm = {12.0, 12.2, 15.0};
  EXPECT_THAT(refusal(drawn_scans(fixtures::laser_line(), draw, 7), rig_with(draw)),
              HasSubstr("edges differ by a millimetre or more"));
}

TEST(CornerBlock, AnotherBlockThanTheRigFilesIsRefusedWithTheSizesInView) {
  const BlockDraw draw;
  Rig rig = rig_with(draw);
  rig.carrier.block_edges_mm = {10, 12, 16};
  const std::string said = refusal(drawn_scans(fixtures::profilometer(), draw, 8), rig);
  EXPECT_THAT(said, HasSubstr("which does not fit the rig file's"));
  EXPECT_THAT(said, HasSubstr("10 x 12 x 16 mm"));
}

TEST(CornerBlock, TwoFacesLeaveAShiftOpenAndAreRefused) {
  const BlockDraw draw;
  BlockScans scans = drawn_scans(fixtures::profilometer(), draw, 9);
  Cloud& top = scans.scans.top.cloud;
  const Eigen::Isometry3d block_from_scan = scans.block.reed_from_block.inverse() * scans.scans.top.reed_from_scan;
  Eigen::Index kept = 0;
  for (Eigen::Index i = 0; i < top.points_mm.cols(); ++i) {
    const Eigen::Vector3d p = block_from_scan * top.points_mm.col(i);
    const bool on_a_face = std::abs(p.x() - 5.0) < 0.2 && std::abs(p.y()) < 6.1 && std::abs(p.z()) < 7.1;
    if (!on_a_face) top.points_mm.col(kept++) = top.points_mm.col(i);
  }
  top.points_mm.conservativeResize(Eigen::NoChange, kept);
  EXPECT_THAT(refusal(scans, rig_with(draw)),
              HasSubstr("The first scan shows no such block: no part of it shows three faces square to each other"));
}

}  // namespace
}  // namespace canewise
