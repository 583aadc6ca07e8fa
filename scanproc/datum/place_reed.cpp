#include "scanproc/datum/place_reed.h"

#include <algorithm>
#include <string>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/datum/align.h"
#include "scanproc/datum/clusters.h"
#include "scanproc/datum/passes.h"
#include "scanproc/datum/plane_search.h"
#include "scanproc/datum/plate.h"
#include "scanproc/datum/points.h"
#include "scanproc/datum/reed_finder.h"
#include "scanproc/datum/two_sided.h"

namespace canewise {
namespace {

Cluster box_of(const std::vector<Eigen::Vector3d>& points) {
  Eigen::Matrix3Xd columns(3, static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) columns.col(static_cast<Eigen::Index>(i)) = points[i];
  constexpr double all_in_one_mm = 1e6;
  auto boxes = find_clusters(columns, all_in_one_mm, 1);
  return boxes.empty() ? Cluster{} : std::move(boxes.front());
}

/// A plane is in view whose middle 70 % is wider than that of any reed's own flat side: what crosses it does not count.
bool shows_plate(const Cloud& cloud) {
  constexpr std::size_t sample_size = 16000;
  constexpr double tolerance_mm = 0.2, widest_mm = 15.0;
  const auto sample = subsample(cloud.points_mm, sample_size);
  const auto found = find_plane(sample, tolerance_mm);
  if (!found) return false;
  std::vector<Eigen::Vector3d> own;
  for (const auto& p : sample) {
    if (std::abs(found->plane.height(p)) < found->limit_mm) own.push_back(p);
  }
  const Eigen::Vector3d across = box_of(own).axes.col(1);
  std::vector<double> places;
  for (const auto& p : own) places.push_back(across.dot(p));
  std::sort(places.begin(), places.end());
  const std::size_t trim = 15 * places.size() / 100;
  return places[places.size() - 1 - trim] - places[trim] > widest_mm;
}

DatumMode choose(const std::vector<Cloud>& scans, const Rig& rig) {
  if (scans.size() == 1) {
    if (rig.pads) return DatumMode::pads;
    const bool closed = scans.front().normals.cols() > 0;
    constexpr std::size_t sample_size = 20000;
    return closed && is_reed_sized(box_of(subsample(scans.front().points_mm, sample_size))) ? DatumMode::two_sided
                                                                                            : DatumMode::plate;
  }
  if (scans.size() > 2) return DatumMode::plate;
  const bool first = shows_plate(scans[0]), second = shows_plate(scans[1]);
  if (first != second) {
    throw NotMeasurable(std::string("the ") + (first ? "first" : "second") +
                        " scan shows a plate and the other does not, so they do not belong together. Two passes on a "
                        "plate, or both sides of a reed on its carrier, do.");
  }
  return first ? DatumMode::plate : DatumMode::two_sided;
}

Aligned on_plate(std::vector<Cloud> scans, const Rig& rig, const Instrument* instrument) {
  if (scans.size() == 1) return align(std::move(scans.front()), rig, instrument);
  JoinedPasses joined = join_passes(std::move(scans));
  Aligned aligned = align(std::move(joined.cloud), rig, instrument);
  aligned.registration = in_frame(joined.registration, aligned.reed_from_scan);
  aligned.notes.push_back(joined.note);
  return aligned;
}

}  // namespace

Aligned place_reed(std::vector<Cloud> scans, const Rig& rig, const PlaceOptions& options) {
  if (scans.empty()) throw UsageError("name at least one scan.");
  switch (options.datum ? *options.datum : choose(scans, rig)) {
    case DatumMode::pads:
      if (scans.size() > 1) throw UsageError("--datum pads takes one scan; name the best one.");
      return align_on_pads(std::move(scans.front()), rig, options.instrument);
    case DatumMode::two_sided:
      if (scans.size() == 1 && scans.front().normals.cols() > 0)
        return align_two_sided(sides_of(scans.front()), rig, options.instrument);
      if (scans.size() != 2) {
        throw UsageError(
            "--datum two-sided takes two scans, one from each side, or one closed surface that shows both.");
      }
      return align_two_sided(join_sides(std::move(scans[0]), std::move(scans[1]), rig), rig, options.instrument);
    case DatumMode::plate:
      break;
  }
  return on_plate(std::move(scans), rig, options.instrument);
}

std::vector<Cloud> split_reeds(const Cloud& scan, const Rig& rig) {
  Eigen::Matrix3Xd points = scan.points_mm;
  if (rig.mirrored) points.row(0) = -points.row(0);
  const PlateGuess plate = find_plate(points);
  transform_in_place(points, plate.plate_from_scan);
  const auto reeds = find_reeds(points, plate.noise_mm);
  // Longer at the tip, which is too thin to be seen from the plate at first.
  constexpr double before_tip_mm = 9.0, margin_mm = 1.2;
  std::vector<Cloud> parts;
  for (std::size_t k = 0; k < reeds.size(); ++k) {
    Cloud part = scan;
    Eigen::Index kept = 0;
    for (Eigen::Index i = 0; i < points.cols(); ++i) {
      bool foreign = false;
      for (std::size_t other = 0; other < reeds.size() && !foreign; ++other) {
        if (other == k) continue;
        const Eigen::Vector3d p = reeds[other].rough_from_plate * points.col(i);
        foreign = p.x() > -before_tip_mm && p.x() < reeds[other].length_mm + margin_mm &&
                  std::abs(p.y()) < 0.5 * reeds[other].width_mm + margin_mm;
      }
      if (!foreign) part.points_mm.col(kept++) = scan.points_mm.col(i);
    }
    part.points_mm.conservativeResize(Eigen::NoChange, kept);
    part.normals.resize(3, 0);
    parts.push_back(std::move(part));
  }
  return parts;
}

}  // namespace canewise
