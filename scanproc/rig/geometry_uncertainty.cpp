#include "scanproc/rig/geometry_uncertainty.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <Eigen/QR>
#include <cmath>
#include <vector>

#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/rig/light_sheet.h"

namespace canewise {
namespace {

/// Columns whose outer products add up to the covariance.
Eigen::MatrixXd root_of(const Eigen::MatrixXd& covariance) {
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(covariance);
  return eigen.eigenvectors() * eigen.eigenvalues().cwiseMax(0.0).cwiseSqrt().asDiagonal();
}

/// The scene's axes: along the stage, across it, up towards the camera.
struct Scene {
  Eigen::Vector3d origin, along, across, up;
};

Scene scene_of(const Rig& rig) {
  Scene scene;
  const LaserPlane& plane = *rig.laser_plane;
  scene.along = rig.stage->motion.normalized();
  // Across: the picture's axis that the line runs along, within the sheet and square to the way.
  const Eigen::Vector3d picture = plane.crosses_columns ? Eigen::Vector3d::UnitX() : Eigen::Vector3d::UnitY();
  scene.across = (picture - picture.dot(scene.along) * scene.along).normalized();
  scene.up = scene.along.cross(scene.across);
  if (scene.up.z() > 0.0) scene.up = -scene.up;
  // Where the rig works; of a rig file that does not say, where the camera's axis meets the sheet, if it does.
  constexpr double along_axis = 0.05;
  scene.origin = plane.middle_mm.norm() > 0.0 ? plane.middle_mm
                 : std::abs(plane.q.z()) > along_axis * plane.q.norm()
                     ? Eigen::Vector3d(Eigen::Vector3d::UnitZ() / plane.q.z())
                     : Eigen::Vector3d(plane.q / plane.q.squaredNorm());
  return scene;
}

/// A point of the scene as the camera saw it when the sheet lit it, put together again by another rig.
std::optional<Eigen::Vector3d> seen_by(const Rig& truth, const Rig& moved, const Eigen::Vector3d& at) {
  // The stage has gone so far that the sheet meets the point.
  const double way = (1.0 - truth.laser_plane->q.dot(at)) / truth.laser_plane->q.dot(truth.stage->motion);
  const Eigen::Vector3d lit = at + way * truth.stage->motion;
  if (lit.z() <= 0.0) return std::nullopt;
  const Eigen::Vector2d pixel = project(truth.camera->camera, lit.hnormalized());
  LineCentre centre;
  centre.column = pixel.x(), centre.row = pixel.y();
  const auto on = on_sheet(moved.camera->camera, *moved.laser_plane, centre);
  if (!on) return std::nullopt;
  return on->point_mm - way * moved.stage->motion;
}

struct Change {
  double height_rel = 0.0, length_rel = 0.0, width_rel = 0.0, form_mm = 0.0, skew_mm = 0.0;
};

Change change_by(const Rig& rig, const Rig& moved, const Scene& scene) {
  constexpr double length_mm = 68.0, half_width_mm = 6.5, high_mm = 3.0;
  std::vector<Eigen::Vector3d> low, high;
  std::vector<Eigen::Vector2d> place;
  for (int i = -4; i <= 4; ++i) {
    for (int j = -3; j <= 3; ++j) {
      const double x = 0.125 * i * length_mm, y = half_width_mm * j / 3.0;
      const Eigen::Vector3d at = scene.origin + x * scene.along + y * scene.across;
      const auto a = seen_by(rig, moved, at), b = seen_by(rig, moved, at + high_mm * scene.up);
      if (!a || !b) continue;
      low.push_back(*a - scene.origin), high.push_back(*b - scene.origin);
      place.emplace_back(x, y);
    }
  }
  const auto n = static_cast<Eigen::Index>(place.size());
  constexpr Eigen::Index fewest = 12;  // Of 63: the scene is not where this rig can look.
  if (n < fewest) {
    const double unknown = std::nan("");
    return {unknown, unknown, unknown, unknown, unknown};
  }
  Eigen::MatrixXd design(n, 3);
  Eigen::VectorXd heights(n), lengths(n), widths(n), upper(n);
  for (Eigen::Index k = 0; k < n; ++k) {
    const auto i = static_cast<std::size_t>(k);
    design.row(k) << 1.0, place[i].x(), place[i].y();
    heights(k) = scene.up.dot(low[i]);
    lengths(k) = scene.along.dot(low[i]);
    widths(k) = scene.across.dot(low[i]);
  }
  const auto solver = design.householderQr();
  const Eigen::Vector3d plane = solver.solve(heights);
  const Eigen::VectorXd form = heights - design * plane;
  // Heights over the reconstructed plate, square to it.
  const Eigen::Vector3d normal = (scene.up - plane(1) * scene.along - plane(2) * scene.across).normalized();
  for (Eigen::Index k = 0; k < n; ++k)
    upper(k) = normal.dot(high[static_cast<std::size_t>(k)] - plane(0) * scene.up) - high_mm;
  const Eigen::Vector3d level = solver.solve(upper);
  Change change;
  change.height_rel = level(0) / high_mm;
  change.length_rel = solver.solve(lengths)(1) - 1.0;
  change.width_rel = solver.solve(widths)(2) - 1.0;
  change.form_mm = std::sqrt(form.squaredNorm() / static_cast<double>(n));
  constexpr double off_middle_mm = 6.0;
  change.skew_mm = 2.0 * off_middle_mm * level(2);
  return change;
}

}  // namespace

GeometryUncertainty propagate_geometry(const Rig& rig) {
  const Scene scene = scene_of(rig);
  std::vector<Rig> moved;
  const Eigen::MatrixXd by_camera = root_of(rig.camera->covariance);
  for (Eigen::Index k = 0; k < by_camera.cols(); ++k) {
    Rig other = rig;
    const Eigen::Matrix<double, Camera::kParameters, 1> step = by_camera.col(k);
    other.camera->camera.set_parameters(rig.camera->camera.parameters() + step);
    other.laser_plane->q += rig.laser_plane->by_camera * step;
    other.stage->motion += rig.stage->by_camera * step;
    moved.push_back(std::move(other));
  }
  const Eigen::MatrixXd by_plane = root_of(rig.laser_plane->covariance), by_stage = root_of(rig.stage->covariance);
  for (Eigen::Index k = 0; k < 3; ++k) {
    Rig other = rig;
    other.laser_plane->q += by_plane.col(k);
    moved.push_back(other);
    other = rig;
    other.stage->motion += by_stage.col(k);
    moved.push_back(other);
  }
  GeometryUncertainty u;
  for (const Rig& other : moved) {
    const Change change = change_by(rig, other, scene);
    u.height_rel += square(change.height_rel);
    u.length_rel += square(change.length_rel);
    u.width_rel += square(change.width_rel);
    u.form_um += square(um_from_mm(change.form_mm));
    u.skew_um += square(um_from_mm(change.skew_mm));
  }
  for (double* value : {&u.height_rel, &u.length_rel, &u.width_rel, &u.form_um, &u.skew_um}) *value = std::sqrt(*value);
  return u;
}

}  // namespace canewise
