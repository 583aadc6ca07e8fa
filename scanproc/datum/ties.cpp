#include "scanproc/datum/ties.h"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <span>
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

constexpr double kTolerance_mm = 0.15;  // Between two looks at one sphere: of its place and of its size.

using Three = std::array<std::size_t, 3>;
/// Spheres taken for the same: index in the first scan, index in the second.
using Pairs = std::vector<std::pair<std::size_t, std::size_t>>;

/// The spheres of both scans, as many as are looked at.
struct TwoScans {
  std::span<const Sphere> first, second;
};

bool alike(const Sphere& a, const Sphere& b) { return std::abs(a.radius_mm - b.radius_mm) < kTolerance_mm; }

/// Every choice of three out of n, each once.
std::vector<Three> choices_of_three(std::size_t n) {
  std::vector<Three> all;
  for (std::size_t a = 0; a < n; ++a) {
    for (std::size_t b = a + 1; b < n; ++b) {
      for (std::size_t c = b + 1; c < n; ++c) all.push_back({a, b, c});
    }
  }
  return all;
}

/// Every choice of three out of n, in every order.
std::vector<Three> orders_of_three(std::size_t n) {
  std::vector<Three> all;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      for (std::size_t k = 0; k < n; ++k) {
        if (i != j && j != k && i != k) all.push_back({i, j, k});
      }
    }
  }
  return all;
}

struct Centres {
  Eigen::Matrix3Xd from, to;  ///< In the second scan, in the first; one column a pair.
};

Centres centres_of(const Pairs& pairs, const TwoScans& scans) {
  const auto n = static_cast<Eigen::Index>(pairs.size());
  Centres centres{Eigen::Matrix3Xd(3, n), Eigen::Matrix3Xd(3, n)};
  for (Eigen::Index p = 0; p < n; ++p) {
    const auto& [t, s] = pairs[static_cast<std::size_t>(p)];
    centres.from.col(p) = scans.second[s].centre_mm;
    centres.to.col(p) = scans.first[t].centre_mm;
  }
  return centres;
}

/// Three spheres of one scan can be three of the other, and fix a motion.
bool three_fit(const Pairs& three, const TwoScans& scans) {
  for (const auto& [t, s] : three) {
    if (!alike(scans.second[s], scans.first[t])) return false;
  }
  const auto [from, to] = centres_of(three, scans);
  for (Eigen::Index s = 0; s < 3; ++s) {
    const Eigen::Index t = (s + 1) % 3;
    if (!(std::abs((from.col(s) - from.col(t)).norm() - (to.col(s) - to.col(t)).norm()) < kTolerance_mm)) return false;
  }
  // Three in a row leave a turn about that row open.
  const double doubled_area = (to.col(1) - to.col(0)).cross(to.col(2) - to.col(0)).norm();
  const double longest =
      std::max({(to.col(1) - to.col(0)).norm(), (to.col(2) - to.col(0)).norm(), (to.col(2) - to.col(1)).norm()});
  constexpr double least_height_mm = 6.0;
  return !(doubled_area < least_height_mm * longest);
}

/// All spheres that fall on each other with this motion.
Pairs pairs_under(const Eigen::Isometry3d& first_from_second, const TwoScans& scans) {
  Pairs pairs;
  for (std::size_t t = 0; t < scans.first.size(); ++t) {
    for (std::size_t s = 0; s < scans.second.size(); ++s) {
      const double off = (first_from_second * scans.second[s].centre_mm - scans.first[t].centre_mm).norm();
      if (off < kTolerance_mm && alike(scans.first[t], scans.second[s])) pairs.emplace_back(t, s);
    }
  }
  return pairs;
}

/// Where the centres disagree by more than their noise says, that is what they are worth: squares over what the noise
/// explains.
double excess_of(double squares, const std::vector<TiePoint>& ties) {
  const auto freedom = 3.0 * static_cast<double>(ties.size()) - 6.0;
  double expected = 0.0;
  for (const auto& tie : ties) expected += tie.covariance.trace();
  return freedom > 0 ? squares / freedom / std::max(1e-12, expected / (3.0 * static_cast<double>(ties.size()))) : 1.0;
}

TiedMotion motion_from(const Pairs& pairs, const TwoScans& scans) {
  const auto [from, to] = centres_of(pairs, scans);
  TiedMotion tied;
  tied.first_from_second = best_motion(from, to);
  double squares = 0.0;
  std::vector<TiePoint> ties;
  const Eigen::Matrix3d turn = tied.first_from_second.linear();
  for (const auto& [t, s] : pairs) {
    const Sphere &first = scans.first[t], &second = scans.second[s];
    squares += (tied.first_from_second * second.centre_mm - first.centre_mm).squaredNorm();
    ties.push_back({first.centre_mm, first.covariance + turn * second.covariance * turn.transpose()});
  }
  tied.residual_mm = std::sqrt(squares / static_cast<double>(pairs.size()));
  tied.covariance = std::max(1.0, excess_of(squares, ties)) * covariance_of(ties);
  tied.ties = pairs.size();
  tied.method = {"joining.spheres", {{"spheres", count(pairs.size())}}};
  return tied;
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
  constexpr std::size_t most = 8;
  const TwoScans scans{std::span(in_first).first(std::min(in_first.size(), most)),
                       std::span(in_second).first(std::min(in_second.size(), most))};
  const auto orders = orders_of_three(scans.second.size());
  std::vector<TiedMotion> candidates;
  for (const Three& t : choices_of_three(scans.first.size())) {
    for (const Three& s : orders) {
      const Pairs three{{t[0], s[0]}, {t[1], s[1]}, {t[2], s[2]}};
      if (!three_fit(three, scans)) continue;
      const auto [from, to] = centres_of(three, scans);
      candidates.push_back(motion_from(pairs_under(best_motion(from, to), scans), scans));
    }
  }
  return candidates;
}

}  // namespace canewise
