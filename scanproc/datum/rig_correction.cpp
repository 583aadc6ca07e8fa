#include "scanproc/datum/rig_correction.h"

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "scanproc/core/parallel.h"
#include "scanproc/datum/plane_search.h"

namespace canewise {

Messages correct_by_rig(Cloud& cloud, const Rig& rig) {
  Messages notes;
  if (!rig.plate_form && !rig.height_scale) return notes;
  constexpr std::size_t sample_size = 20000;
  constexpr double tolerance_mm = 0.2;
  const auto plate = find_plane(subsample(cloud.points_mm, sample_size), tolerance_mm, 2.0 * tolerance_mm);
  const auto within = [](const Eigen::Vector3d& a, const Eigen::Vector3d& b, double degrees) {
    return std::abs(a.dot(b)) > std::cos(degrees * std::numbers::pi / 180.0);
  };
  auto& points = cloud.points_mm;
  if (rig.plate_form) {
    const PlateForm& form = *rig.plate_form;
    constexpr double turned_deg = 2.0, moved_mm = 1.0;
    const double half_x = 0.5 * form.step_mm * static_cast<double>(form.heights_um.cols() - 1),
                 half_y = 0.5 * form.step_mm * static_cast<double>(form.heights_um.rows() - 1);
    const Eigen::Vector3d middle = form.origin_mm + half_x * form.along + half_y * form.normal.cross(form.along);
    if (plate && within(plate->plane.normal, form.normal, turned_deg) &&
        std::abs(plate->plane.height(middle)) < moved_mm) {
      parallel_parts(static_cast<std::size_t>(points.cols()), [&](std::size_t, std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) {
          const auto column = static_cast<Eigen::Index>(i);
          const Eigen::Vector3d p = points.col(column);
          points.col(column) = p - form.height_mm(p) * form.normal;
        }
      });
      notes.push_back({"plate.form_taken_off"});
    } else {
      notes.push_back({"plate.form_elsewhere"});
    }
  }
  if (rig.height_scale) {
    constexpr double turned_deg = 5.0;
    const Eigen::Vector3d up = rig.height_scale->up;
    if (!plate || within(plate->plane.normal, up, turned_deg)) {
      points += (rig.height_scale->factor - 1.0) * up * (up.transpose() * points);
    } else {
      notes.push_back({"plate.turned_since_gauge"});
    }
  }
  return notes;
}

}  // namespace canewise
