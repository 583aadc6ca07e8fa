#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <limits>
#include <optional>
#include <vector>

namespace canewise {

/// normal . p = distance.
struct Plane {
  Eigen::Vector3d normal = Eigen::Vector3d::UnitZ();
  double distance = 0.0;
  [[nodiscard]] double height(const Eigen::Vector3d& p) const { return normal.dot(p) - distance; }
};

struct FoundPlane {
  Plane plane;
  double sigma_mm = 0.0;  ///< Robust standard deviation of its points about it.
  double limit_mm = 0.0;  ///< Points nearer than this were taken for its own.
  std::size_t inliers = 0;
};

/// At most about `wanted` of the points, each with the same chance, whatever their order along lines; the choice
/// depends on the index alone.
[[nodiscard]] std::vector<Eigen::Vector3d> subsample(const Eigen::Matrix3Xd& points, std::size_t wanted);

/// Least-squares plane through points, by the smallest eigenvalue of their scatter.
[[nodiscard]] Plane total_least_squares(const std::vector<Eigen::Vector3d>& points);

/// What is looked for: the plane with the most points, or the one that all else stands on, which has hardly a point on
/// its other side however few lie in it.
enum class PlaneWanted { largest, ground };

/// The wanted plane: sample consensus [Fischler1981], then robust refits. `tolerance_mm` is how far a
/// point may lie off a first guess, `farthest_mm` off the last: a bound where other surfaces cross the plane. Empty
/// where the points span none.
[[nodiscard]] std::optional<FoundPlane> find_plane(const std::vector<Eigen::Vector3d>& points, double tolerance_mm,
                                                   double farthest_mm = std::numeric_limits<double>::infinity(),
                                                   PlaneWanted wanted = PlaneWanted::largest);

/// Robust refits of a plane that is near already: points within twice the tolerance of it count at first.
[[nodiscard]] std::optional<FoundPlane> refit_plane(const std::vector<Eigen::Vector3d>& points, const Plane& near,
                                                    double tolerance_mm,
                                                    double farthest_mm = std::numeric_limits<double>::infinity());

/// Scatter of single points about planes through their nearest neighbours, robust: a surface's noise whatever its form.
/// NaN where no neighbourhood holds enough points.
[[nodiscard]] double local_scatter(const std::vector<Eigen::Vector3d>& points);

struct PlaneSettling {
  double first_mm = 0.2;      ///< How far points may lie off the guess...
  double farthest_mm = 0.25;  ///< ...and off the plane at last, however much they scatter.
  std::size_t fewest = 80;    ///< Points.
};

/// The plane of the points about a guess, refitted until those within 4.5 standard deviations count and no others. The
/// scatter is taken about the plane, not about its points' median: while a strip of a neighbouring face still draws the
/// plane aside, the limit stays wide. Empty where too few points lie there.
[[nodiscard]] std::optional<FoundPlane> settle_plane(const std::vector<Eigen::Vector3d>& points, const Plane& guess,
                                                     const PlaneSettling& options);

}  // namespace canewise
