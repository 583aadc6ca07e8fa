#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <stdexcept>
#include <vector>

#include "fixtures/spline_plate.h"
#include "tests/support/hard_contact.h"

namespace canewise::test {

/// A mouthpiece as the judge knows it: two rails that are arcs, and the tip's rail between them.
struct JudgedFacing {
  double opening_mm = 0.0, length_mm = 0.0, window_end_mm = 0.0, rail_width_mm = 0.0;
  double give_mm_per_n = kStone;                        ///< Of half a millimetre of rail.
  static constexpr double kStone = 5e-4, kCane = 5e-3;  ///< Harder than that cannot be told apart; as cane gives.
  [[nodiscard]] double gap_mm(double x) const {
    return x < length_mm ? opening_mm * (1.0 - x / length_mm) * (1.0 - x / length_mm) : 0.0;
  }
};

/// A reed on rails whose tops are flat, point by point: another plate, other places and another way to
/// find the contact than the product's.
class JudgeOnRails {
 public:
  JudgeOnRails(const fixtures::SplinePlate& plate, const JudgedFacing& facing,
               const std::function<double(double)>& half_width_mm)
      : plate_(plate), facing_(facing) {
    std::vector<Eigen::Vector2d> points;
    for (double x = 1.75; x < facing.window_end_mm; x += 0.5)
      for (const double side : {-1.0, 1.0})
        points.emplace_back(x, side * (half_width_mm(x) - 0.5 * facing.rail_width_mm));
    first_of_tip_ = static_cast<Eigen::Index>(points.size());
    const double reach = half_width_mm(0.5) - 0.5 * facing.rail_width_mm;
    constexpr int across = 16;
    for (int k = 0; k < across; ++k) points.emplace_back(kTip_mm, reach * ((2.0 * k + 1.0) / across - 1.0));
    const auto count = static_cast<Eigen::Index>(points.size());
    gap_.resize(count);
    side_.resize(count);
    rows_.resize(count, plate.point(0.0, 0.0).size());
    for (Eigen::Index k = 0; k < count; ++k) {
      const Eigen::Vector2d& at = points[static_cast<std::size_t>(k)];
      rows_.row(k) = plate.point(at.x(), at.y());
      gap_(k) = facing.gap_mm(at.x());
      side_(k) = at.y();
    }
    compliance_ = rows_ * plate.solve(rows_.transpose());
    compliance_.diagonal().array() += facing.give_mm_per_n;
  }

  /// Stiffness of a patch where it leaves half of the opening at the tip's left (-1), right (1) or whole edge (0).
  [[nodiscard]] double stiffness(const Eigen::VectorXd& patch, int part) const {
    const Eigen::VectorXd moved = plate_.solve(patch), free = rows_ * moved;
    Eigen::Array<bool, Eigen::Dynamic, 1> touching;
    Eigen::VectorXd forces;
    const auto left_over = [&](double force) {
      forces = contact_forces(compliance_, force * free - gap_, touching);
      const Eigen::VectorXd open = gap_ - force * free + compliance_ * forces;
      double sum = 0.0, all = 0.0;
      for (Eigen::Index k = first_of_tip_; k < gap_.size(); ++k) {
        if (part * side_(k) < 0.0) continue;
        sum += open(k);
        all += gap_(k);
      }
      return sum / all - 0.5;
    };
    // Illinois' rule.
    double low = 0.0, high = 1.0, at_low = 0.5, at_high = left_over(high);
    while (at_high > 0.0) {
      low = high;
      at_low = at_high;
      high *= 2.0;
      if (high > 1e6) throw std::runtime_error("no force closes this reed");
      at_high = left_over(high);
    }
    double force = high, now = at_high;
    int same_side = 0;
    for (int k = 0; k < 60 && std::abs(now) > 1e-8; ++k) {
      force = low + (high - low) * at_low / (at_low - at_high);
      now = left_over(force);
      if (now > 0.0) {
        low = force;
        at_low = now;
        same_side = std::max(0, same_side) + 1;
        if (same_side > 1) at_high *= 0.5;
      } else {
        high = force;
        at_high = now;
        same_side = std::min(0, same_side) - 1;
        if (same_side < -1) at_low *= 0.5;
      }
    }
    return force / (force * patch.dot(moved) - free.dot(forces));
  }

 private:
  static constexpr double kTip_mm = 0.4;
  const fixtures::SplinePlate& plate_;
  JudgedFacing facing_;
  Eigen::Index first_of_tip_ = 0;
  Eigen::VectorXd gap_, side_;
  Eigen::MatrixXd rows_, compliance_;
};

}  // namespace canewise::test
