#include "scanproc/datum/place_reed.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/datum/align.h"
#include "scanproc/datum/clusters.h"
#include "scanproc/datum/passes.h"
#include "scanproc/datum/plane_search.h"
#include "scanproc/datum/plate.h"
#include "scanproc/datum/points.h"
#include "scanproc/datum/reed_finder.h"
#include "scanproc/datum/ties.h"
#include "scanproc/datum/two_sided.h"

namespace canewise {
namespace {

constexpr std::size_t kSample = 40000;  // Points that tell what a scan shows.

Cluster box_of(const std::vector<Eigen::Vector3d>& points) {
  Eigen::Matrix3Xd columns(3, static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) columns.col(static_cast<Eigen::Index>(i)) = points[i];
  constexpr double all_in_one_mm = 1e6;
  auto boxes = find_clusters(columns, all_in_one_mm, 1);
  return boxes.empty() ? Cluster{} : std::move(boxes.front());
}

/// Something as long as a reed's stock stands on the plane, and the plane runs along one side of it: a carrier's balls
/// or block may lie in a plane with the reed's own flats, but nothing runs along it.
bool carries_a_reed(const FoundPlane& found, const std::vector<Eigen::Vector3d>& sample) {
  constexpr double stands_mm = 0.8, gap_mm = 1.5;
  const Plane& plane = found.plane;
  Eigen::Matrix3Xd standing(3, static_cast<Eigen::Index>(sample.size()));
  std::vector<Eigen::Vector3d> flat;
  Eigen::Index count = 0;
  for (const auto& p : sample) {
    if (std::abs(plane.height(p)) < found.limit_mm) flat.push_back(p);
    if (std::abs(plane.height(p)) > stands_mm) standing.col(count++) = p;
  }
  standing.conservativeResize(Eigen::NoChange, count);
  constexpr std::size_t fewest = 100;
  for (const auto& part : find_clusters(standing, gap_mm, fewest)) {
    constexpr double shortest_mm = 22.0, narrowest_mm = 6.0, widest_mm = 22.0;
    constexpr double from_mm = 1.0, to_mm = 12.0;  // Nearer lies what belongs to the side.
    if (part.extent_mm(0) < shortest_mm || part.extent_mm(1) < narrowest_mm || part.extent_mm(1) > widest_mm) continue;
    const Eigen::Vector3d along = part.axes.col(0), across = plane.normal.cross(along).normalized();
    const double half = 0.5 * part.extent_mm(0);
    std::array<std::vector<bool>, 2> seen;
    for (auto& side : seen) side.resize(static_cast<std::size_t>(2.0 * half) + 1, false);
    for (const auto& p : flat) {
      const double x = along.dot(p - part.middle), y = across.dot(p - part.middle);
      const double out = std::abs(y) - 0.5 * part.extent_mm(1);
      if (std::abs(x) > half || out < from_mm || out > to_mm) continue;
      seen.at(y > 0 ? 1 : 0)[static_cast<std::size_t>(x + half)] = true;
    }
    for (const auto& side : seen) {
      if (3 * std::count(side.begin(), side.end(), true) > 2 * static_cast<std::ptrdiff_t>(side.size())) return true;
    }
  }
  return false;
}

/// The plane that is wanted, if a reed stands on it and it goes on beside the reed.
std::optional<Plane> plate_in(const std::vector<Eigen::Vector3d>& sample, PlaneWanted wanted) {
  constexpr double tolerance_mm = 0.2;
  const auto found = find_plane(sample, tolerance_mm, 2.0 * tolerance_mm, wanted);
  if (!found || !carries_a_reed(*found, sample)) return std::nullopt;
  return found->plane;
}

/// What the scans show, and their plates where those were found on the way.
struct Shown {
  DatumMode mode = DatumMode::plate;
  std::vector<std::optional<Plane>> plates;
};

Shown choose(const std::vector<Cloud>& scans, const Rig& rig) {
  if (scans.size() == 1) {
    if (rig.pads) return {DatumMode::pads, {}};
    const bool closed = scans.front().normals.cols() > 0;
    constexpr std::size_t sample_size = 20000;
    if (closed && is_reed_sized(box_of(subsample(scans.front().points_mm, sample_size))))
      return {DatumMode::two_sided, {}};
    return {};
  }
  if (scans.size() > 2) return {};
  const std::array samples{subsample(scans[0].points_mm, kSample), subsample(scans[1].points_mm, kSample)};
  auto first = plate_in(samples[0], PlaneWanted::largest), second = plate_in(samples[1], PlaneWanted::largest);
  // A little plate is not the largest plane, but still the one that all else stands on. A carrier's flats may look the
  // same: so this is asked only beside a scan that does show a plate.
  const auto only_one = [&] { return first.has_value() != second.has_value(); };
  if (only_one()) (first ? second : first) = plate_in(samples.at(first ? 1 : 0), PlaneWanted::ground);
  if (only_one()) {
    throw NotMeasurable({"scans.one_with_plate", {{"scan", word(first ? "first" : "second")}}});
  }
  return {first ? DatumMode::plate : DatumMode::two_sided, {first, second}};
}

/// A reed-sized thing stands apart from all else: on a plate everything hangs together.
bool hangs_in_the_air(const std::vector<Eigen::Vector3d>& sample) {
  Eigen::Matrix3Xd points(3, static_cast<Eigen::Index>(sample.size()));
  for (std::size_t i = 0; i < sample.size(); ++i) points.col(static_cast<Eigen::Index>(i)) = sample[i];
  constexpr double gap_mm = 1.5;
  constexpr std::size_t fewest = 300;
  const auto parts = find_clusters(points, gap_mm, fewest);
  return std::any_of(parts.begin(), parts.end(), [](const Cluster& c) { return is_reed_sized(c); });
}

Aligned on_plate(std::vector<Cloud> scans, std::vector<std::optional<Plane>> plates, const Rig& rig,
                 const Instrument* instrument) {
  if (scans.size() == 1) {
    const auto sample = subsample(scans.front().points_mm, kSample);
    if (hangs_in_the_air(sample) && !plate_in(sample, PlaneWanted::largest) && !plate_in(sample, PlaneWanted::ground))
      throw NotMeasurable({"plate.none_around"});
    return align(std::move(scans.front()), rig, instrument);
  }
  // Turned right before they are joined, so that the registration lies in the axes of what is aligned.
  Rig unmirrored = rig;
  unmirrored.mirrored = false;
  if (rig.mirrored) {
    for (auto& scan : scans) scan.points_mm.row(0) = -scan.points_mm.row(0);
    for (auto& plate : plates)
      if (plate) plate->normal.x() = -plate->normal.x();
  }
  JoinedPasses joined = join_passes(std::move(scans), plates);
  Aligned aligned = align(std::move(joined.cloud), unmirrored, instrument, joined.plate);
  joined.registration.covariance = in_frame(joined.registration.covariance, aligned.reed_from_scan);
  aligned.registration = joined.registration;
  aligned.notes.push_back(joined.note);
  return aligned;
}

}  // namespace

Aligned place_reed(std::vector<Cloud> scans, const Rig& rig, const PlaceOptions& options) {
  if (scans.empty()) throw UsageError({"scans.none"});
  Shown shown = options.datum ? Shown{*options.datum, {}} : choose(scans, rig);
  switch (shown.mode) {
    case DatumMode::pads:
      if (scans.size() > 1) throw UsageError({"pads.one_scan"});
      return align_on_pads(std::move(scans.front()), rig, options.instrument);
    case DatumMode::two_sided:
      if (scans.size() == 1 && scans.front().normals.cols() > 0)
        return align_two_sided(sides_of(scans.front(), rig), rig, options.instrument);
      if (scans.size() != 2) {
        throw UsageError({"sides.two_scans"});
      }
      return align_two_sided(join_sides(std::move(scans[0]), std::move(scans[1]), rig), rig, options.instrument);
    case DatumMode::plate:
      break;
  }
  return on_plate(std::move(scans), std::move(shown.plates), rig, options.instrument);
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
      if (foreign) continue;
      if (part.u_mm.size() > 0) part.u_mm(kept) = scan.u_mm(i);
      part.points_mm.col(kept++) = scan.points_mm.col(i);
    }
    if (part.u_mm.size() > 0) part.u_mm.conservativeResize(kept);
    part.points_mm.conservativeResize(Eigen::NoChange, kept);
    part.normals.resize(3, 0);
    parts.push_back(std::move(part));
  }
  return parts;
}

}  // namespace canewise
