#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>

#include "scanproc/mechanics/plate.h"
#include "scanproc/mechanics/rail_places.h"

namespace canewise {

/// A reed's plate over a mouthpiece's rails: what loads it takes from them, and how it moves then. Everything that does
/// not change with the load is made once.
class ReedOnFacing {
 public:
  ReedOnFacing(const Plate& plate, RailPlaces places, const RailContact& contact = {});

  [[nodiscard]] const RailPlaces& places() const { return places_; }
  /// Deflections (n x k) of the places in displacements of the plate (3N x k).
  [[nodiscard]] Eigen::MatrixXd at_places(const Eigen::MatrixXd& displacements) const;
  /// What forces at the places (n) do with no rails there (3N).
  [[nodiscard]] Eigen::VectorXd by_places(const Eigen::VectorXd& force_n) const { return moved_ * force_n; }

  /// A reed so many times as stiff as this one, under a load that would move this one's places by `free_mm`.
  [[nodiscard]] Pressed press(const Eigen::VectorXd& free_mm, const Eigen::VectorXd& gap_mm,
                              double stiffness_ratio = 1.0, const Eigen::VectorXd& start = {}) const;

  /// What small further loads do (3N x k), which without the rails would do `free`: with the rails as they answer in
  /// this state.
  [[nodiscard]] Eigen::MatrixXd further(const Pressed& pressed, const Eigen::MatrixXd& free) const;
  /// The same of the places alone (n x k).
  [[nodiscard]] Eigen::MatrixXd further_at_places(const Pressed& pressed, const Eigen::MatrixXd& free) const;

 private:
  RailPlaces places_;
  Eigen::SparseMatrix<double> loads_;  ///< 3N x n: a newton at each place.
  Eigen::MatrixXd moved_;              ///< 3N x n: what it does.
  ContactRow row_;
};

}  // namespace canewise
