#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>

namespace canewise {

/// How cane and rail press on each other over one millimetre of rail. Apart there is no force; pressed together it
/// grows with the depth, as the cane gives across its thickness; in between lie the tops of a cut surface, a parabola
/// two roughnesses deep, so that force and stiffness set in without a jump. Both numbers are assumptions. Rails of
/// stone would make a reed 5 % stiffer under the lip; ratios hardly follow them.
struct RailContact {
  double give_n_per_mm2 = 400.0;  ///< Force for each millimetre of rail and of depth.
  double roughness_mm = 0.002;

  struct Answer {
    double force = 0.0, stiffness = 0.0, change = 0.0;  ///< Per millimetre of rail; derivatives by the depth.
    double work = 0.0;
  };
  [[nodiscard]] Answer at(double depth_mm) const;
};

/// A row of places of a body that may touch something rigid: samples lie between the places, where the deflection is
/// interpolated. Forces act on the samples and reach the places by the same weights.
struct ContactRow {
  Eigen::MatrixXd compliance;                 ///< n x n, of the places, symmetric, mm/N.
  Eigen::SparseMatrix<double> interpolation;  ///< q x n; rows sum to 1.
  Eigen::VectorXd length_mm;                  ///< q: of rail that each sample stands for.
  RailContact law;
};

/// A body pressed to the row: what its places carry, and how that changes with their deflection.
struct Pressed {
  Eigen::VectorXd force_n;             ///< n, at the places, >= 0 in sum.
  Eigen::VectorXd depth_mm;            ///< q: deflection less gap.
  Eigen::VectorXd sample_force_n;      ///< q.
  Eigen::MatrixXd stiffness_n_per_mm;  ///< n x n: change of the forces with the deflections.
  Eigen::VectorXd change_n_per_mm2;    ///< q: change of each sample's stiffness with its depth.
};

/// Equilibrium of the body whose places would move by `free_mm` (n) without contact, against gaps (q): the minimum of
/// its convex energy, by Newton steps that are halved where they overshoot. `start` is a force to begin with (n or
/// empty). Throws std::runtime_error if it is not found in 200 steps.
[[nodiscard]] Pressed press(const ContactRow& row, const Eigen::VectorXd& free_mm, const Eigen::VectorXd& gap_mm,
                            const Eigen::VectorXd& start = {});

/// Weights of `between` samples in every interval of a row of evenly spaced places: cubic through the four nearest.
/// Samples stand in the middles of equal parts; half an interval before the first and behind the last place belongs to
/// the row as well.
[[nodiscard]] Eigen::MatrixXd row_interpolation(Eigen::Index places, Eigen::Index between);

}  // namespace canewise
