#pragma once

#include <Eigen/Core>
#include <array>
#include <cstddef>

#include "scanproc/core/parallel.h"
#include "scanproc/mechanics/plate.h"
#include "scanproc/mechanics/plate_element.h"
#include "scanproc/mechanics/plate_mesh.h"

namespace canewise {

/// The six thickness points of a triangle.
[[nodiscard]] std::array<Eigen::Index, 6> points_of(const PlateMesh& mesh, std::size_t t);

[[nodiscard]] PlateElement element_of(const PlateMesh& mesh, std::size_t t);

/// The plate's degree of freedom that is the triangle's k-th.
[[nodiscard]] Eigen::Index freedom(const PlateMesh& mesh, std::size_t t, int k);

/// The triangle's nine of the plate's 3 N `values`.
[[nodiscard]] Eigen::Matrix<double, 9, 1> gather(const PlateMesh& mesh, std::size_t t,
                                                 const Eigen::Ref<const Eigen::VectorXd>& values);

/// Thickness and moduli at one point of a triangle.
struct LocalCane {
  double thickness_mm = 0.0;
  double factor = 1.0;         ///< On all moduli.
  double under_bark_mm = 0.0;  ///< Depth of the sheet's middle under the bark, less kGradientDepth_mm.
  double gradient_per_mm = 0.0;
  double side = 0.0;  ///< Derivative of the factor's logarithm by left_right.
  /// The modulus grows along the thickness by exp(gradient z); bending stiffness then is that of the modulus at the
  /// middle up to 0.8 % of (gradient thickness)^2, which is left out.
  [[nodiscard]] double cube() const { return factor * thickness_mm * thickness_mm * thickness_mm / 12.0; }
  [[nodiscard]] double cube_by_thickness() const { return cube() * (3.0 / thickness_mm + 0.5 * gradient_per_mm); }
};

[[nodiscard]] LocalCane cane_at(const PlateModel& model, const std::array<Eigen::Index, 6>& points,
                                const Eigen::Matrix<double, 6, 1>& shapes);

/// body(part, triangle) for all triangles, on all cores.
template <typename Body>
void for_triangles(const PlateMesh& mesh, const Body& body) {
  constexpr std::size_t few = 400;
  const std::size_t count = mesh.triangles.size();
  const auto run = [&](std::size_t part) {
    for (std::size_t t = part * count / kParallelParts; t < (part + 1) * count / kParallelParts; ++t) body(part, t);
  };
  if (count > few) {
    run_parts(run);
  } else {
    for (std::size_t part = 0; part < kParallelParts; ++part) run(part);
  }
}

}  // namespace canewise
