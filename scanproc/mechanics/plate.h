#pragma once

#include <Eigen/Core>
#include <memory>
#include <vector>

#include "scanproc/mechanics/cane.h"
#include "scanproc/mechanics/plate_mesh.h"

namespace canewise {

/// A thin orthotropic plate, fibre along x. N nodes with w, dw/dx, dw/dy each; P = N + M thickness points
/// (PlateMesh::thickness_points_mm), between which thickness varies quadratically.
struct PlateModel {
  PlateMesh mesh;
  Eigen::VectorXd thickness_mm;  ///< P, all positive.
  Eigen::VectorXd bark_mm;       ///< P heights of the bark over the table, for the gradient; empty: no gradient.
  Eigen::VectorXd side;          ///< P values from -1 (left) to 1 (right), for left_right; empty: none.
  double left_right = 0.0;       ///< Moduli of the right over those of the left, less 1.
  Cane cane;
  std::vector<char> fixed;  ///< 3 N flags: held at zero.
};

/// Natural frequencies, ascending, and shapes (3N x count), which are normal to the mass.
struct Modes {
  Eigen::VectorXd frequency_hz;
  Eigen::MatrixXd shapes;
};

/// How a figure changes with thickness (P values, per mm) and with the parts of the cane (kCaneParts; relative changes,
/// the gradient's per 1/mm).
struct PlateDerivative {
  Eigen::VectorXd by_thickness;
  Eigen::Matrix<double, 6, 1> by_cane;
};

/// Places and forces on a plate, newtons; what lies outside it counts for nothing.
struct PointLoads {
  Eigen::Matrix2Xd points_mm;
  Eigen::VectorXd weights;
};

/// A plate made ready once and solved for many loads. Newtons, millimetres, seconds.
class Plate {
 public:
  /// Assembles and factorises (CHOLMOD). Throws std::runtime_error if the plate is not held.
  explicit Plate(PlateModel model);
  ~Plate();
  Plate(Plate&&) noexcept;
  Plate& operator=(Plate&&) noexcept;

  [[nodiscard]] const PlateModel& model() const { return model_; }
  /// 3N forces and moments that do the same work as these point forces.
  [[nodiscard]] Eigen::VectorXd load_of(const PointLoads& loads) const;
  /// Deflection at points, k x 3N coefficients times a solution: the transpose of load_of, point by point.
  [[nodiscard]] Eigen::VectorXd deflection_at(const Eigen::Matrix2Xd& points_mm, const Eigen::VectorXd& solution) const;
  /// Displacements (3N x k) under loads (3N x k).
  [[nodiscard]] Eigen::MatrixXd solve(const Eigen::MatrixXd& loads) const;
  /// Lowest modes by Spectra, shift-invert about 0. Throws std::runtime_error if they are not found.
  [[nodiscard]] Modes modes(int count) const;
  /// Of the compliances f' K^-1 f, where the columns of `displacements` (3N x k) are K^-1 f: minus u' dK u.
  [[nodiscard]] std::vector<PlateDerivative> compliance_derivatives(const Eigen::MatrixXd& displacements) const;
  /// Of the work that K does between two states, column by column (3N x k each): minus left' dK right.
  [[nodiscard]] std::vector<PlateDerivative> work_derivatives(const Eigen::MatrixXd& left,
                                                              const Eigen::MatrixXd& right) const;
  /// Of the modes' frequencies, in hertz.
  [[nodiscard]] std::vector<PlateDerivative> frequency_derivatives(const Modes& modes) const;
  /// u' K u, twice the strain energy.
  [[nodiscard]] double bending_work(const Eigen::VectorXd& displacements) const;

 private:
  struct Solver;
  PlateModel model_;
  Eigen::Matrix3d stiffness_;
  std::unique_ptr<Solver> solver_;
};

}  // namespace canewise
