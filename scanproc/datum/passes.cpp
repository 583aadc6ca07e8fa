#include "scanproc/datum/passes.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/datum/clusters.h"
#include "scanproc/datum/joining_part.h"
#include "scanproc/datum/plate.h"
#include "scanproc/datum/points.h"
#include "scanproc/datum/ties.h"

namespace canewise {
namespace {

using Matrix6d = Eigen::Matrix<double, 6, 6>;

struct Pass {
  Plane plate;  ///< In the scan's axes.
  Eigen::Isometry3d plate_from_scan;
  LevelledPass levelled;
  std::vector<Sphere> spheres;  ///< Plate frame.
};

Pass pass_from(const Cloud& cloud, std::size_t scan, const std::optional<Plane>& known) {
  PlateGuess plate;
  try {
    plate = find_plate(cloud.points_mm, known);
  } catch (const NotMeasurable& error) {
    throw NotMeasurable({"passes.in_scan", {{"scan", count(scan)}, {"what", part(error.message())}}});
  }
  Eigen::Matrix3Xd points = cloud.points_mm;
  transform_in_place(points, plate.plate_from_scan);
  Pass pass{plane_of(plate), plate.plate_from_scan, LevelledPass(points, plate.noise_mm), {}};
  const double above = pass.levelled.reed_above_mm();
  keep_points(points, [above](const Eigen::Vector3d& p) { return p.z() > above && p.z() < 45.0; });
  constexpr double gap_mm = 1.0;
  constexpr std::size_t fewest = 60;
  auto parts = find_clusters(points, gap_mm, fewest);
  constexpr double longest_mm = 45.0;  // Longer is the reed, or a part of it.
  std::erase_if(parts, [](const Cluster& c) { return c.extent_mm(0) > longest_mm || c.extent_mm(2) < 1.0; });
  pass.spheres = find_spheres(points, parts, std::nullopt);
  return pass;
}

/// The second pass's place on the first: plate frame to plate frame.
struct Link {
  Eigen::Isometry3d first_from_second = Eigen::Isometry3d::Identity();
  Matrix6d covariance = Matrix6d::Zero();
  double residual_mm = 0.0;
  Message method;
  bool same_pose = false;
};

/// The scanner's axes already agree: the plates lie in one plane, and where both see reed it has one height.
std::optional<Link> same_pose(const Pass& first, const Pass& second) {
  const Eigen::Isometry3d motion = first.plate_from_scan * second.plate_from_scan.inverse();
  const double noise = std::hypot(first.levelled.noise_mm(), second.levelled.noise_mm());
  const double tolerance = 0.05 + noise;
  double worst = 0.0;
  for (const auto& mean : second.levelled.means()) {
    if (mean.z() < second.levelled.reed_above_mm()) worst = std::max(worst, std::abs((motion * mean).z() - mean.z()));
  }
  if (worst > tolerance) return std::nullopt;
  const Agreement agreement = agreement_of(first.levelled, second.levelled, motion);
  // Passes side by side may share no reed; then the plates, which random poses never bring into one plane, must do.
  constexpr double few_places = 60.0;
  if (agreement.places > few_places && agreement.share < 0.88) return std::nullopt;
  Link link;
  link.first_from_second = motion;
  link.same_pose = true;
  link.residual_mm = agreement.rms_mm;
  link.covariance(2, 2) = square(agreement.mean_mm);
  link.method = {"joining.one_pose"};
  return link;
}

std::optional<Link> by_spheres(const Pass& first, const Pass& second) {
  auto motions = match_spheres(first.spheres, second.spheres);
  std::erase_if(motions, [&](const TiedMotion& m) {
    return !agrees(agreement_of(first.levelled, second.levelled, m.first_from_second));
  });
  if (motions.empty()) return std::nullopt;
  const auto best = std::max_element(motions.begin(), motions.end(), [](const TiedMotion& a, const TiedMotion& b) {
    return a.ties != b.ties ? a.ties < b.ties : a.residual_mm > b.residual_mm;
  });
  return Link{best->first_from_second, best->covariance, best->residual_mm, best->method, false};
}

/// How far two places of the second pass differ, at most, over a reed's length.
double difference(const Eigen::Isometry3d& a, const Eigen::Isometry3d& b, const LevelledPass& pass) {
  double largest = 0.0;
  for (const auto& p : pass.reed()) largest = std::max(largest, (a * p - b * p).norm());
  return largest;
}

/// How two passes fit, or why that stays open; neither where they do not fit at all.
struct Fit {
  std::optional<Link> link;
  Message open;
};

Fit by_shape(const Pass& first, const Pass& second, std::size_t i, std::size_t k) {
  const auto left_open = [&](MessageId why) {
    return Fit{std::nullopt, {why, {{"scan", count(i + 1)}, {"other", count(k + 1)}}}};
  };
  const auto fits = joining_part().fits_by_shape(first.levelled, second.levelled);
  if (fits.empty()) return {};
  const ShapeFit& best = fits.front();
  const auto score = [](const ShapeFit& f) { return f.agreement.share * f.agreement.places; };
  for (const auto& other : fits) {
    constexpr double apart_mm = 0.5, nearly_as_good = 0.6;
    if (score(other) > nearly_as_good * score(best) &&
        difference(best.first_from_second, other.first_from_second, second.levelled) > apart_mm) {
      return left_open("passes.several_ways");
    }
  }
  if (slides(first.levelled, second.levelled, best.first_from_second)) {
    return left_open("passes.place_open");
  }
  return {Link{best.first_from_second, best.covariance, best.agreement.rms_mm, {"joining.shape"}, false}, {}};
}

Fit fit_of(const Pass& first, const Pass& second, std::size_t i, std::size_t k) {
  if (auto link = same_pose(first, second)) return {link, {}};
  if (auto link = by_spheres(first, second)) return {link, {}};
  return by_shape(first, second, i, k);
}

/// How the passes lie on each other, two by two.
struct Links {
  std::vector<std::vector<std::optional<Link>>> between;  ///< [i][k] with i < k.
  std::size_t found = 0;
  double squares = 0.0;  ///< Of the residuals, mm^2.
  bool all_same = true;  ///< In one pose.
  Message method;
  Message open;  ///< Why two passes leave open how they fit, if any do.
};

/// Of many passes each is tied to the first and to the one before: the time must not grow with their square.
bool are_tied(std::size_t i, std::size_t k, std::size_t n) {
  constexpr std::size_t few = 3;
  return n <= few || i == 0 || k == i + 1;
}

/// Throws NotMeasurable where nothing fits.
Links find_links(const std::vector<Pass>& passes) {
  const std::size_t n = passes.size();
  Links links;
  links.between.assign(n, std::vector<std::optional<Link>>(n));
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = i + 1; k < n; ++k) {
      if (!are_tied(i, k, n)) continue;
      Fit fit = fit_of(passes[i], passes[k], i, k);
      // Two passes that leave their place open may both be tied to a third.
      if (links.open.empty()) links.open = fit.open;
      std::optional<Link>& link = links.between[i][k];
      link = std::move(fit.link);
      if (!link) continue;
      ++links.found;
      links.squares += square(link->residual_mm);
      links.all_same = links.all_same && link->same_pose;
      if (links.method.empty() || !link->same_pose) links.method = link->method;
    }
  }
  if (links.found == 0) {
    if (!links.open.empty()) throw NotMeasurable(links.open);
    throw NotMeasurable({"passes.fit_not"});
  }
  return links;
}

/// Places of all passes on the first along the links from there on. Throws NotMeasurable if one is not reached.
std::vector<Eigen::Isometry3d> first_places(const Links& links) {
  const auto& between = links.between;
  const std::size_t n = between.size();
  std::vector<std::optional<Eigen::Isometry3d>> place(n);
  place[0] = Eigen::Isometry3d::Identity();
  for (std::size_t round = 0; round < n; ++round) {
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t k = i + 1; k < n; ++k) {
        if (!between[i][k]) continue;
        if (place[i] && !place[k]) place[k] = *place[i] * between[i][k]->first_from_second;
        if (place[k] && !place[i]) place[i] = *place[k] * between[i][k]->first_from_second.inverse();
      }
    }
  }
  std::vector<Eigen::Isometry3d> places;
  for (std::size_t i = 0; i < n; ++i) {
    if (!place[i]) {
      if (!links.open.empty()) throw NotMeasurable(links.open);
      throw NotMeasurable({"passes.fits_none", {{"scan", count(i + 1)}}});
    }
    places.push_back(*place[i]);
  }
  return places;
}

/// Places of all passes on the first, plate frame to plate frame, by least squares over the graph of links.
std::vector<Eigen::Isometry3d> places_from(const Links& links) {
  const std::size_t n = links.between.size();
  const auto places = first_places(links);
  std::vector<PoseLink> graph;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = i + 1; k < n; ++k) {
      const auto& link = links.between[i][k];
      if (link) graph.push_back({i, k, link->first_from_second, link->covariance});
    }
  }
  if (graph.size() < n) return places;  // Without a loop there is nothing to even out.
  return joining_part().even_out(places, graph);
}

/// How sure the places are, in the first pass's axes. Throws NotMeasurable where two passes show two reeds.
Matrix6d mean_covariance(const Links& links, const std::vector<Pass>& passes,
                         const std::vector<Eigen::Isometry3d>& places) {
  const std::size_t n = passes.size();
  Matrix6d covariance = Matrix6d::Zero();
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = i + 1; k < n; ++k) {
      const auto& link = links.between[i][k];
      if (!link) continue;
      covariance += in_frame(link->covariance, passes[0].plate_from_scan.inverse() * places[i]);
      if (shapes_differ(passes[i].levelled, passes[k].levelled, places[i].inverse() * places[k])) {
        throw NotMeasurable({"passes.not_one_reed", {{"scan", count(i + 1)}, {"other", count(k + 1)}}});
      }
    }
  }
  return covariance / static_cast<double>(links.found);
}

/// All clouds in one, each moved if `motions` has one for it. A cloud's points go as soon as they are copied.
Cloud merged(std::vector<Cloud> clouds, const std::vector<std::optional<Eigen::Isometry3d>>& motions) {
  Eigen::Index total = 0;
  for (const auto& cloud : clouds) total += cloud.points_mm.cols();
  Cloud all;
  all.points_mm.resize(3, total);
  const bool with_u = std::all_of(clouds.begin(), clouds.end(), [](const Cloud& c) { return c.u_mm.size() > 0; });
  if (with_u) all.u_mm.resize(total);
  Eigen::Index at = 0;
  for (std::size_t i = 0; i < clouds.size(); ++i) {
    Cloud& cloud = clouds[i];
    if (motions[i]) transform_in_place(cloud.points_mm, *motions[i]);
    all.points_mm.middleCols(at, cloud.points_mm.cols()) = cloud.points_mm;
    if (with_u) all.u_mm.segment(at, cloud.u_mm.size()) = cloud.u_mm;
    at += cloud.points_mm.cols();
    all.dropped_non_finite += cloud.dropped_non_finite;
    all.height_step_u_mm = std::max(all.height_step_u_mm, cloud.height_step_u_mm);
    all.assumed_slow_mm = std::max(all.assumed_slow_mm, cloud.assumed_slow_mm);
    cloud.points_mm.resize(3, 0);
  }
  all.format = clouds.front().format;
  return all;
}

/// From each scan to the first one's axes; none where they are the same.
std::vector<std::optional<Eigen::Isometry3d>> motions_of(const std::vector<Pass>& passes,
                                                         const std::vector<Eigen::Isometry3d>& places) {
  std::vector<std::optional<Eigen::Isometry3d>> motions(passes.size());
  for (std::size_t i = 1; i < passes.size(); ++i)
    motions[i] = passes[0].plate_from_scan.inverse() * places[i] * passes[i].plate_from_scan;
  return motions;
}

}  // namespace

JoinedPasses join_passes(std::vector<Cloud> clouds, const std::vector<std::optional<Plane>>& plates) {
  const std::size_t n = clouds.size();
  constexpr std::size_t most = 20;
  if (n > most) throw UsageError({"passes.too_many", {{"most", count(most)}}});
  std::vector<Pass> passes;
  for (std::size_t i = 0; i < n; ++i)
    passes.push_back(pass_from(clouds[i], i + 1, i < plates.size() ? plates[i] : std::nullopt));
  const Links links = find_links(passes);
  const auto places = places_from(links);
  JoinedPasses joined;
  joined.plate = passes.front().plate;
  joined.registration.method = links.method;
  joined.registration.one_pose = links.all_same;
  joined.registration.residual_mm = std::sqrt(links.squares / static_cast<double>(links.found));
  joined.registration.covariance = mean_covariance(links, passes, places);
  joined.cloud = merged(std::move(clouds),
                        links.all_same ? std::vector<std::optional<Eigen::Isometry3d>>(n) : motions_of(passes, places));
  const Argument residual = um(um_from_mm(joined.registration.residual_mm), 1);
  joined.note =
      links.all_same
          ? Message{"passes.merged", {{"passes", count(n)}, {"residual", residual}}}
          : Message{"passes.joined", {{"passes", count(n)}, {"method", part(links.method)}, {"residual", residual}}};
  return joined;
}

}  // namespace canewise
