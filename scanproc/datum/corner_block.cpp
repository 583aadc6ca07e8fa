#include "scanproc/datum/corner_block.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "scanproc/core/statistics.h"
#include "scanproc/datum/consensus.h"
#include "scanproc/datum/plane_search.h"

namespace canewise {
namespace {

constexpr double kTwoDegrees = 0.035;
constexpr std::size_t kFewestPoints = 80;
constexpr PlaneSettling kSettle{0.2, 0.25, kFewestPoints};

/// Points of one plane that hang together.
struct Patch {
  Plane plane;
  std::vector<Eigen::Vector3d> points;
  Eigen::Vector3d middle = Eigen::Vector3d::Zero();
};

/// Two hints may settle on one face.
bool holds(const std::vector<Patch>& patches, const Plane& plane, const Eigen::Vector3d& middle) {
  return std::any_of(patches.begin(), patches.end(), [&](const Patch& other) {
    constexpr double same_mm = 1.0, same_height_mm = 0.1, same_direction = 0.999;
    return (other.middle - middle).norm() < same_mm && std::abs(other.plane.height(middle)) < same_height_mm &&
           std::abs(other.plane.normal.dot(plane.normal)) > same_direction;
  });
}

/// Flat patches of a part, no longer than a face of the block can be; largest first.
std::vector<Patch> patches_of(const std::vector<Eigen::Vector3d>& points, double longest_mm) {
  std::vector<Patch> patches;
  for (const Plane& hint : consensus_planes(points)) {
    const auto found = settle_plane(points, hint, kSettle);
    if (!found) continue;
    std::vector<Eigen::Vector3d> own;
    for (const auto& p : points) {
      if (std::abs(found->plane.height(p)) < found->limit_mm) own.push_back(p);
    }
    const Eigen::Matrix3Xd columns =
        Eigen::Map<const Eigen::Matrix3Xd>(own.front().data(), 3, static_cast<Eigen::Index>(own.size()));
    constexpr double gap_mm = 1.5;
    for (const Cluster& together : find_clusters(columns, gap_mm, kFewestPoints)) {
      if (together.extent_mm(0) > longest_mm || holds(patches, found->plane, together.middle)) continue;
      Patch patch;
      for (const auto i : together.points) patch.points.emplace_back(columns.col(i));
      patch.plane = found->plane;
      patch.middle = together.middle;
      patches.push_back(std::move(patch));
    }
  }
  std::stable_sort(patches.begin(), patches.end(),
                   [](const Patch& a, const Patch& b) { return a.points.size() > b.points.size(); });
  constexpr std::size_t most = 12;
  if (patches.size() > most) patches.resize(most);
  return patches;
}

bool are_square(const Patch& a, const Patch& b) { return std::abs(a.plane.normal.dot(b.plane.normal)) < kTwoDegrees; }

void turn_outward(Patch& patch, const Eigen::Vector3d& inside) {
  if (patch.plane.height(inside) < 0.0) return;
  patch.plane.normal = -patch.plane.normal;
  patch.plane.distance = -patch.plane.distance;
}

/// How far a block reaches along one of its axes.
struct Extent {
  double length_mm = 0.0;
  bool to_the_end =
      false;  ///< Its points stop all at once there, as at a rim; not one after the other, as in a shadow.
  double outside_mm = 0.0;  ///< How far other faces' points lie outside of the face that the axis is the normal of.
};

double at_share(std::vector<double>& values, double share) {
  const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), at, values.end());
  return *at;
}

Extent extent_along(const Patch& face, const std::array<const Patch*, 2>& others) {
  Extent extent;
  constexpr double all_but = 0.01, rim_mm = 1.0, rim_share = 0.6;
  for (const Patch* other : others) {
    std::vector<double> depths;
    for (const auto& p : other->points) depths.push_back(-face.plane.height(p));
    const double length = at_share(depths, 1.0 - all_but);
    extent.outside_mm = std::max(extent.outside_mm, -at_share(depths, all_but));
    if (length < extent.length_mm) continue;
    extent.length_mm = length;
    const auto last =
        static_cast<double>(std::count_if(depths.begin(), depths.end(), [&](double d) { return d > length - rim_mm; }));
    extent.to_the_end =
        length > 2.0 * rim_mm && last * length > rim_share * rim_mm * static_cast<double>(depths.size());
  }
  return extent;
}

/// Spacing of points on a face, where they lie thinnest: a scanner's lines are farther apart on a steep face.
double coarsest_spacing(const Patch& a, const Patch& b, const Patch& c, const std::array<Extent, 3>& extents) {
  const auto spacing = [](const Patch& face, double length, double width) {
    return std::sqrt(length * width / static_cast<double>(face.points.size()));
  };
  return std::max({spacing(a, extents[1].length_mm, extents[2].length_mm),
                   spacing(b, extents[2].length_mm, extents[0].length_mm),
                   spacing(c, extents[0].length_mm, extents[1].length_mm)});
}

/// Assignments of edges to axes that the extents allow: a block cannot be longer than its edge, and is hardly shorter
/// where its end shows. What fits much worse than another is out.
std::vector<std::array<std::size_t, 3>> edges_that_fit(const std::array<Extent, 3>& extents,
                                                       const std::array<double, 3>& edges_mm, double spacing_mm) {
  constexpr double too_long_mm = 0.3, short_mm = 0.35, usual_mm = 0.15, spread_mm = 0.25, much_worse = 9.0;
  std::vector<std::pair<double, std::array<std::size_t, 3>>> fits;
  std::array<std::size_t, 3> edge_of{0, 1, 2};
  double best = 1e300;
  do {
    double misfit = 0.0;
    bool possible = true;
    for (std::size_t k = 0; k < 3; ++k) {
      const double missing = edges_mm.at(edge_of.at(k)) - extents.at(k).length_mm;
      possible =
          possible && missing > -too_long_mm && (!extents.at(k).to_the_end || missing < short_mm + 2.5 * spacing_mm);
      if (extents.at(k).to_the_end) misfit += square((missing - usual_mm) / spread_mm);
    }
    if (!possible) continue;
    best = std::min(best, misfit);
    fits.emplace_back(misfit, edge_of);
  } while (std::next_permutation(edge_of.begin(), edge_of.end()));
  std::erase_if(fits, [&](const auto& fit) { return fit.first > best + much_worse; });
  std::vector<std::array<std::size_t, 3>> found;
  for (const auto& [misfit, edges] : fits) found.push_back(edges);
  return found;
}

/// Sums of residuals over squares of a face: noise that points share within a square counts once.
class SquareSums {
 public:
  explicit SquareSums(double square_mm) : square_mm_(square_mm) {}
  void add(double x, double y, double residual) {
    sums_[{static_cast<int>(std::floor(x / square_mm_)), static_cast<int>(std::floor(y / square_mm_))}] += residual;
    points_ += 1.0;
  }
  [[nodiscard]] double count() const { return static_cast<double>(sums_.size()); }
  [[nodiscard]] double points() const { return points_; }
  /// Of independent points that would tell as much of the face.
  [[nodiscard]] double variance_a_point() const {
    double squares = 0.0;
    for (const auto& [place, sum] : sums_) squares += square(sum);
    return squares / points_ * count() / std::max(1.0, count() - 3.0);
  }

 private:
  double square_mm_, points_ = 0.0;
  std::map<std::pair<int, int>, double> sums_;
};

struct FittedFace {
  BlockFace face;
  Eigen::Matrix3d normal_matrix = Eigen::Matrix3d::Zero();
  SquareSums sums{2.0}, finer{1.0};  ///< Both as wide as some correlation lengths.
};

/// Points of a face away from its rim, where broken edges, neighbours and half-hit pixels are.
std::vector<Eigen::Vector3d> inner_points(const Patch& patch, const std::vector<Patch>& faces) {
  std::vector<Eigen::Vector3d> inner = patch.points;
  for (const Patch& other : faces) {
    if (!are_square(patch, other)) continue;
    std::vector<double> heights;
    for (const auto& p : patch.points) heights.push_back(other.plane.height(p));
    const double high = at_share(heights, 0.995), low = at_share(heights, 0.005);
    constexpr double rim_mm = 0.5, rim_share = 0.2;
    const double rim = std::min(rim_mm, rim_share * (high - low));
    std::erase_if(inner, [&](const Eigen::Vector3d& p) {
      const double height = other.plane.height(p);
      return height > high - rim || height < low + rim;
    });
  }
  return inner;
}

/// Least-squares plane of a face with everything but the level of its noise.
std::optional<FittedFace> fitted(const Patch& patch, const std::vector<Patch>& faces) {
  const auto inner = inner_points(patch, faces);
  const auto found = settle_plane(inner, patch.plane, kSettle);
  if (!found) return std::nullopt;
  FittedFace fit;
  fit.face.normal = found->plane.normal.dot(patch.plane.normal) > 0.0 ? found->plane.normal : -found->plane.normal;
  fit.face.sigma_mm = found->sigma_mm;
  std::vector<Eigen::Vector3d> own;
  for (const auto& p : inner) {
    if (std::abs(found->plane.height(p)) < found->limit_mm) own.push_back(p);
  }
  for (const auto& p : own) fit.face.middle_mm += p / static_cast<double>(own.size());
  fit.face.u = fit.face.normal.unitOrthogonal();
  fit.face.v = fit.face.normal.cross(fit.face.u);
  for (const auto& p : own) {
    const Eigen::Vector3d d = p - fit.face.middle_mm;
    const Eigen::Vector3d basis(1.0, fit.face.u.dot(d), fit.face.v.dot(d));
    fit.normal_matrix += basis * basis.transpose();
    fit.sums.add(basis(1), basis(2), fit.face.normal.dot(d));
    fit.finer.add(basis(1), basis(2), fit.face.normal.dot(d));
  }
  return fit;
}

/// A block's three faces and those others that show enough to be worth it; empty if one of the three cannot be fitted.
std::vector<FittedFace> fits_of(const std::vector<Patch>& patches) {
  std::vector<FittedFace> fits;
  for (std::size_t i = 0; i < patches.size(); ++i) {
    auto fit = fitted(patches[i], patches);
    if (i < 3 && !fit) return {};
    // A sliver's few points do not tell how noisy they are, and it is seen too flatly to be trusted.
    constexpr double worth_squares = 40.0;
    if (i >= 3 && (!fit || fit->finer.count() < worth_squares)) continue;
    for (int k = 0; k < 3; ++k) {
      if (!are_square(patches[i], patches[static_cast<std::size_t>(k)])) fit->face.axis = k;
    }
    fits.push_back(std::move(*fit));
  }
  return fits;
}

/// Faces with their covariances. Noise reaches over the squares' borders, by which their sums scatter less than it
/// would have them; that share halves from squares to twice as wide ones, so it is taken from the difference of the
/// two. A face that shows few squares takes the others' noise where that is larger.
std::vector<BlockFace> fitted_faces(const std::vector<Patch>& patches) {
  auto fits = fits_of(patches);
  double wide = 0.0, narrow = 0.0, points = 0.0;
  for (const auto& fit : fits) {
    wide += fit.sums.variance_a_point() * fit.sums.points();
    narrow += fit.finer.variance_a_point() * fit.sums.points();
    points += fit.sums.points();
  }
  const double over_the_borders = std::max(1.0, 2.0 - narrow / wide);
  std::vector<BlockFace> faces;
  for (auto& fit : fits) {
    constexpr double enough = 16.0;
    double variance = fit.sums.variance_a_point();
    if (fit.sums.count() < enough) variance = std::max(variance, wide / points);
    fit.face.covariance = over_the_borders * variance * fit.normal_matrix.inverse();
    faces.push_back(fit.face);
  }
  return faces;
}

/// What is known of a corner before its faces are fitted.
struct Corner {
  std::vector<Patch> faces;  ///< Three.
  std::array<Extent, 3> extents;
  double spacing_mm = 0.0;
};

/// Three patches as the corner of a convex body; empty if they are none.
std::optional<Corner> corner_of(const Patch& a, const Patch& b, const Patch& c) {
  if (!are_square(a, b) || !are_square(b, c) || !are_square(c, a)) return std::nullopt;
  Corner corner;
  corner.faces = {a, b, c};
  const Eigen::Vector3d inside = (a.middle + b.middle + c.middle) / 3.0;
  for (auto& face : corner.faces) turn_outward(face, inside);
  for (std::size_t k = 0; k < 3; ++k) {
    corner.extents.at(k) = extent_along(corner.faces[k], {&corner.faces[(k + 1) % 3], &corner.faces[(k + 2) % 3]});
    constexpr double most_outside_mm = 0.4;
    if (corner.extents.at(k).outside_mm > most_outside_mm) return std::nullopt;
  }
  corner.spacing_mm = coarsest_spacing(corner.faces[0], corner.faces[1], corner.faces[2], corner.extents);
  return corner;
}

/// Faces on the far sides, each an edge away from its opposite: they tell that edge exactly.
void add_far_faces(Corner& corner, const std::vector<Patch>& patches, const std::array<double, 3>& edges_mm) {
  for (const Patch& patch : patches) {
    for (std::size_t k = 0; k < 3; ++k) {
      const Plane plane = corner.faces[k].plane;
      if (std::abs(patch.plane.normal.dot(plane.normal)) < 1.0 - 0.5 * square(kTwoDegrees)) continue;
      const double depth = -plane.height(patch.middle);
      constexpr double alike_mm = 0.4;
      const bool an_edge_away =
          std::any_of(edges_mm.begin(), edges_mm.end(), [&](double edge) { return std::abs(edge - depth) < alike_mm; });
      // It belongs to the block if it lies within the other two extents.
      bool within = an_edge_away;
      for (std::size_t j = 0; j < 3; ++j) {
        const double aside = -corner.faces[j].plane.height(patch.middle);
        within = within && (j == k || (aside > 0.0 && aside < corner.extents.at(j).length_mm));
      }
      if (!within) continue;
      Patch far = patch;
      turn_outward(far, corner.faces[k].middle);
      corner.faces.push_back(std::move(far));
      corner.extents.at(k).length_mm = depth;
      corner.extents.at(k).to_the_end = true;
    }
  }
}

/// With as many decimals as a rig file gives.
Argument mm_as_given(double edge_mm) {
  constexpr int most = 4;
  int decimals = 0;
  for (double scaled = edge_mm; decimals < most && std::abs(scaled - std::round(scaled)) > 1e-6; scaled *= 10.0)
    ++decimals;
  return mm(edge_mm, decimals);
}

}  // namespace

BlockSearch find_block(const Eigen::Matrix3Xd& points_mm, const std::vector<Cluster>& parts,
                       const std::array<double, 3>& edges_mm) {
  BlockSearch search;
  search.problem = {"block.no_corner"};
  const auto sorted = [](std::array<double, 3> e) {
    std::sort(e.begin(), e.end());
    return e;
  };
  const double longest_mm = std::hypot(sorted(edges_mm)[1], sorted(edges_mm)[2]) + 1.0;
  for (const auto& part : parts) {
    std::vector<Eigen::Vector3d> points;
    for (const auto i : part.points) points.emplace_back(points_mm.col(i));
    const auto patches = patches_of(points, longest_mm);
    for (std::size_t a = 0; a < patches.size(); ++a) {
      for (std::size_t b = a + 1; b < patches.size(); ++b) {
        for (std::size_t c = b + 1; c < patches.size(); ++c) {
          auto corner = corner_of(patches[a], patches[b], patches[c]);
          if (!corner) continue;
          add_far_faces(*corner, patches, edges_mm);
          SeenBlock block;
          block.edge_of = edges_that_fit(corner->extents, edges_mm, corner->spacing_mm);
          for (std::size_t k = 0; k < 3; ++k) {
            block.axes.at(k) = corner->faces[k].plane.normal;
            block.extent_mm.at(k) = corner->extents.at(k).length_mm;
          }
          if (block.edge_of.empty()) {
            const auto seen = sorted(block.extent_mm), known = sorted(edges_mm);
            search.problem = {"block.other_size",
                              {{"seen_a", mm(seen[0], 1)},
                               {"seen_b", mm(seen[1], 1)},
                               {"seen_c", mm(seen[2], 1)},
                               {"known_a", mm_as_given(known[0])},
                               {"known_b", mm_as_given(known[1])},
                               {"known_c", mm_as_given(known[2])}}};
            continue;
          }
          block.faces = fitted_faces(corner->faces);
          if (block.faces.empty()) continue;
          search.block = std::move(block);
          search.problem = {};
          return search;
        }
      }
    }
  }
  return search;
}

}  // namespace canewise
