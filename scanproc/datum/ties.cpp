#include "scanproc/datum/ties.h"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace canewise {
namespace {

/// Turn and shift that bring `from` onto `to` best. [Umeyama1991], without scale.
Eigen::Isometry3d best_motion(const Eigen::Matrix3Xd& from, const Eigen::Matrix3Xd& to) {
  Eigen::Isometry3d motion;
  motion.matrix() = Eigen::umeyama(from, to, false);
  return motion;
}

/// A place that two scans both saw, in the first one's frame.
struct TiePoint {
  Eigen::Vector3d at_mm;
  Eigen::Matrix3d covariance;  ///< Of the difference between the two scans.
};

/// Of a motion that brings points onto points.
PlaceCovariance covariance_of(const std::vector<TiePoint>& ties) {
  // About their middle, and only then about the frame's origin, which may be far away.
  Eigen::Vector3d middle = Eigen::Vector3d::Zero();
  for (const auto& tie : ties) middle += tie.at_mm / static_cast<double>(ties.size());
  PlaceCovariance information = PlaceCovariance::Zero();
  for (const auto& tie : ties) {
    const Eigen::Vector3d at = tie.at_mm - middle;
    Eigen::Matrix<double, 3, 6> slope;
    slope << Eigen::Matrix3d::Identity(),
        (Eigen::Matrix3d() << 0, at.z(), -at.y(), -at.z(), 0, at.x(), at.y(), -at.x(), 0).finished();
    information += slope.transpose() * tie.covariance.inverse() * slope;
  }
  return in_frame(information.inverse(), Eigen::Isometry3d(Eigen::Translation3d(middle)));
}

}  // namespace

PlaceCovariance in_frame(const PlaceCovariance& covariance, const Eigen::Isometry3d& new_from_old) {
  const Eigen::Matrix3d rotation = new_from_old.linear();
  const Eigen::Vector3d s = new_from_old.translation();
  const Eigen::Matrix3d cross = (Eigen::Matrix3d() << 0, -s.z(), s.y(), s.z(), 0, -s.x(), -s.y(), s.x(), 0).finished();
  PlaceCovariance adjoint = PlaceCovariance::Zero();
  adjoint.topLeftCorner<3, 3>() = rotation;
  adjoint.topRightCorner<3, 3>() = cross * rotation;
  adjoint.bottomRightCorner<3, 3>() = rotation;
  return adjoint * covariance * adjoint.transpose();
}

std::vector<TiedMotion> match_spheres(const std::vector<Sphere>& in_first, const std::vector<Sphere>& in_second) {
  std::vector<TiedMotion> candidates;
  constexpr std::size_t most = 8;
  const std::size_t n = std::min(in_first.size(), most), m = std::min(in_second.size(), most);
  constexpr double tolerance_mm = 0.15;
  const auto size = [](const Sphere& s) { return s.radius_mm; };
  for (std::size_t a = 0; a < n; ++a) {
    for (std::size_t b = a + 1; b < n; ++b) {
      for (std::size_t c = b + 1; c < n; ++c) {
        const std::array<std::size_t, 3> tops{a, b, c};
        for (std::size_t i = 0; i < m; ++i) {
          for (std::size_t j = 0; j < m; ++j) {
            for (std::size_t k = 0; k < m; ++k) {
              if (i == j || j == k || i == k) continue;
              const std::array<std::size_t, 3> unders{i, j, k};
              bool fits = true;
              Eigen::Matrix3Xd from(3, 3), to(3, 3);
              for (std::size_t s = 0; s < 3; ++s) {
                const auto column = static_cast<Eigen::Index>(s);
                from.col(column) = in_second[unders.at(s)].centre_mm;
                to.col(column) = in_first[tops.at(s)].centre_mm;
                fits = fits && std::abs(size(in_second[unders.at(s)]) - size(in_first[tops.at(s)])) < tolerance_mm;
              }
              for (Eigen::Index s = 0; s < 3 && fits; ++s) {
                const Eigen::Index t = (s + 1) % 3;
                fits = std::abs((from.col(s) - from.col(t)).norm() - (to.col(s) - to.col(t)).norm()) < tolerance_mm;
              }
              // Three in a row leave a turn about that row open.
              const double doubled_area = (to.col(1) - to.col(0)).cross(to.col(2) - to.col(0)).norm();
              const double longest = std::max(
                  {(to.col(1) - to.col(0)).norm(), (to.col(2) - to.col(0)).norm(), (to.col(2) - to.col(1)).norm()});
              constexpr double least_height_mm = 6.0;
              if (!fits || doubled_area < least_height_mm * longest) continue;
              TiedMotion candidate;
              candidate.first_from_second = best_motion(from, to);
              std::vector<std::pair<std::size_t, std::size_t>> pairs;
              for (std::size_t t = 0; t < n; ++t) {
                for (std::size_t s = 0; s < m; ++s) {
                  const double off =
                      (candidate.first_from_second * in_second[s].centre_mm - in_first[t].centre_mm).norm();
                  if (off < tolerance_mm && std::abs(size(in_first[t]) - size(in_second[s])) < tolerance_mm)
                    pairs.emplace_back(t, s);
                }
              }
              from.resize(3, static_cast<Eigen::Index>(pairs.size()));
              to.resize(3, static_cast<Eigen::Index>(pairs.size()));
              for (std::size_t p = 0; p < pairs.size(); ++p) {
                from.col(static_cast<Eigen::Index>(p)) = in_second[pairs[p].second].centre_mm;
                to.col(static_cast<Eigen::Index>(p)) = in_first[pairs[p].first].centre_mm;
              }
              candidate.first_from_second = best_motion(from, to);
              double squares = 0.0;
              std::vector<TiePoint> ties;
              const Eigen::Matrix3d turn = candidate.first_from_second.linear();
              for (const auto& [t, s] : pairs) {
                squares += (candidate.first_from_second * in_second[s].centre_mm - in_first[t].centre_mm).squaredNorm();
                ties.push_back({in_first[t].centre_mm,
                                in_first[t].covariance + turn * in_second[s].covariance * turn.transpose()});
              }
              candidate.residual_mm = std::sqrt(squares / static_cast<double>(pairs.size()));
              // Where the centres disagree by more than their noise says, that is what they are worth.
              const auto freedom = 3.0 * static_cast<double>(pairs.size()) - 6.0;
              double expected = 0.0;
              for (const auto& tie : ties) expected += tie.covariance.trace();
              const double excess =
                  freedom > 0
                      ? squares / freedom / std::max(1e-12, expected / (3.0 * static_cast<double>(pairs.size())))
                      : 1.0;
              candidate.covariance = std::max(1.0, excess) * covariance_of(ties);
              candidate.ties = pairs.size();
              candidate.method = {"joining.spheres", {{"spheres", count(pairs.size())}}};
              candidates.push_back(std::move(candidate));
            }
          }
        }
      }
    }
  }
  return candidates;
}

}  // namespace canewise
