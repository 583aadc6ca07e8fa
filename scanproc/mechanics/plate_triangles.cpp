#include "scanproc/mechanics/plate_triangles.h"

#include <cmath>

namespace canewise {

std::array<Eigen::Index, 6> points_of(const PlateMesh& mesh, std::size_t t) {
  std::array<Eigen::Index, 6> points{};
  for (std::size_t k = 0; k < 3; ++k) {
    points.at(k) = mesh.triangles[t].at(k);
    points.at(3 + k) = mesh.nodes() + mesh.mid_sides[t].at(k);
  }
  return points;
}

PlateElement element_of(const PlateMesh& mesh, std::size_t t) {
  Eigen::Matrix<double, 2, 3> corners;
  for (int k = 0; k < 3; ++k) corners.col(k) = mesh.nodes_mm.col(mesh.triangles[t].at(static_cast<std::size_t>(k)));
  return PlateElement(corners);
}

Eigen::Index freedom(const PlateMesh& mesh, std::size_t t, int k) {
  return 3 * static_cast<Eigen::Index>(mesh.triangles[t].at(static_cast<std::size_t>(k / 3))) + k % 3;
}

Eigen::Matrix<double, 9, 1> gather(const PlateMesh& mesh, std::size_t t,
                                   const Eigen::Ref<const Eigen::VectorXd>& values) {
  Eigen::Matrix<double, 9, 1> local;
  for (int k = 0; k < 9; ++k) local(k) = values(freedom(mesh, t, k));
  return local;
}

LocalCane cane_at(const PlateModel& model, const std::array<Eigen::Index, 6>& points,
                  const Eigen::Matrix<double, 6, 1>& shapes) {
  const auto value = [&](const Eigen::VectorXd& field) {
    double sum = 0.0;
    for (int k = 0; k < 6; ++k) sum += shapes(k) * field(points.at(static_cast<std::size_t>(k)));
    return sum;
  };
  LocalCane local;
  local.thickness_mm = value(model.thickness_mm);
  if (model.bark_mm.size() > 0) {
    local.gradient_per_mm = model.cane.gradient_per_mm;
    local.under_bark_mm = value(model.bark_mm) - 0.5 * local.thickness_mm - kGradientDepth_mm;
    local.factor = std::exp(-local.gradient_per_mm * local.under_bark_mm);
  }
  if (model.side.size() > 0) {
    const double side = 0.5 * value(model.side);
    local.factor *= 1.0 + model.left_right * side;
    local.side = side / (1.0 + model.left_right * side);
  }
  return local;
}

}  // namespace canewise
