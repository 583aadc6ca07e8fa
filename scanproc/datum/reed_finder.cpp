#include "scanproc/datum/reed_finder.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <span>

#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

struct Cell {
  double x_mm, y_mm, height_mm;
};

/// Something that stands on the plate.
struct Blob {
  std::vector<Cell> cells;
  double area_mm2 = 0.0;
  Eigen::Vector2d centre = Eigen::Vector2d::Zero();
  Eigen::Vector2d axis = Eigen::Vector2d::UnitX();                        ///< Long axis.
  double along_low = 0, along_high = 0, across_low = 0, across_high = 0;  ///< About the centre.
  [[nodiscard]] double length_mm() const { return along_high - along_low; }
  [[nodiscard]] double width_mm() const { return across_high - across_low; }
  [[nodiscard]] Eigen::Vector2d across() const { return {-axis.y(), axis.x()}; }
};

/// Limits that hold all but the outermost 0.1 % of the points on each axis.
void robust_limits(const Eigen::Matrix3Xd& points, int axis, double& low, double& high) {
  std::vector<double> values;
  const Eigen::Index step = std::max<Eigen::Index>(1, points.cols() / 20000);
  for (Eigen::Index i = 0; i < points.cols(); i += step) values.push_back(points(axis, i));
  std::sort(values.begin(), values.end());
  const auto trim = values.size() / 1000;
  low = values[trim];
  high = values[values.size() - 1 - trim];
}

std::vector<Blob> blobs_on_plate(const Eigen::Matrix3Xd& points, double threshold_mm, double bridged_mm) {
  double x_low, x_high, y_low, y_high;
  robust_limits(points, 0, x_low, x_high);
  robust_limits(points, 1, y_low, y_high);
  // One cell needs a few points; the widest view that makes sense is a tray of reeds.
  constexpr double largest_view_mm = 1000.0;
  if (x_high - x_low > largest_view_mm || y_high - y_low > largest_view_mm) {
    constexpr double telling_mm = 1e5;  // A wrong unit's numbers may have any length.
    if (!(x_high - x_low < telling_mm && y_high - y_low < telling_mm)) throw NotMeasurable({"scan.huge"});
    throw NotMeasurable({"scan.large", {{"length", mm(x_high - x_low)}, {"width", mm(y_high - y_low)}}});
  }
  const double area = std::max(1.0, (x_high - x_low) * (y_high - y_low));
  const Eigen::Index step = std::max<Eigen::Index>(1, points.cols() / 300000);  // More points say no more.
  const double per_half_cell = 0.25 * static_cast<double>(points.cols()) / static_cast<double>(step) / area;
  const double cell = per_half_cell >= 4.0 ? 0.5 : 1.0;
  const int columns = static_cast<int>((x_high - x_low) / cell) + 1;
  const int rows = static_cast<int>((y_high - y_low) / cell) + 1;
  struct Sum {
    float height = 0;
    std::uint32_t high = 0, all = 0;
  };
  std::vector<Sum> sums(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows));
  for (Eigen::Index i = 0; i < points.cols(); i += step) {
    const double u = std::floor((points(0, i) - x_low) / cell), v = std::floor((points(1, i) - y_low) / cell);
    if (!(u >= 0 && v >= 0 && u < columns && v < rows)) continue;  // Also far strays, which no integer holds.
    const int column = static_cast<int>(u), row = static_cast<int>(v);
    Sum& sum =
        sums[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(column)];
    ++sum.all;
    if (points(2, i) > threshold_mm) {
      ++sum.high;
      sum.height += static_cast<float>(points(2, i));
    }
  }
  std::vector<bool> taken(sums.size(), false);
  const auto stands = [&](std::size_t index) { return 2 * sums[index].high > sums[index].all; };
  std::vector<Blob> blobs;
  std::vector<std::size_t> stack;
  for (std::size_t start = 0; start < sums.size(); ++start) {
    if (taken[start] || !stands(start)) continue;
    Blob blob;
    taken[start] = true;
    stack.push_back(start);
    while (!stack.empty()) {
      const std::size_t index = stack.back();
      stack.pop_back();
      const int column = static_cast<int>(index % static_cast<std::size_t>(columns));
      const int row = static_cast<int>(index / static_cast<std::size_t>(columns));
      blob.cells.push_back({x_low + (column + 0.5) * cell, y_low + (row + 0.5) * cell,
                            static_cast<double>(sums[index].height) / sums[index].high});
      // What was not seen does not part a thing: each direction is followed over empty cells to the next seen one.
      const int farthest = static_cast<int>(bridged_mm / cell);
      for (int dr = -1; dr <= 1; ++dr) {
        for (int dc = -1; dc <= 1; ++dc) {
          for (int k = 1; k <= farthest && (dr != 0 || dc != 0); ++k) {
            const int r = row + k * dr, c = column + k * dc;
            if (r < 0 || c < 0 || r >= rows || c >= columns) break;
            const auto next =
                static_cast<std::size_t>(r) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(c);
            if (sums[next].all == 0) continue;
            if (!taken[next] && stands(next)) {
              taken[next] = true;
              stack.push_back(next);
            }
            break;
          }
        }
      }
    }
    blob.area_mm2 = cell * cell * static_cast<double>(blob.cells.size());
    if (blob.area_mm2 >= 3.0) blobs.push_back(std::move(blob));
  }
  return blobs;
}

void find_axes(Blob& blob) {
  for (const auto& c : blob.cells) blob.centre += Eigen::Vector2d(c.x_mm, c.y_mm);
  blob.centre /= static_cast<double>(blob.cells.size());
  Eigen::Matrix2d scatter = Eigen::Matrix2d::Zero();
  for (const auto& c : blob.cells) {
    const Eigen::Vector2d d = Eigen::Vector2d(c.x_mm, c.y_mm) - blob.centre;
    scatter += d * d.transpose();
  }
  blob.axis = Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d>(scatter).eigenvectors().col(1);
  std::vector<double> along, across;
  for (const auto& c : blob.cells) {
    const Eigen::Vector2d d = Eigen::Vector2d(c.x_mm, c.y_mm) - blob.centre;
    along.push_back(d.dot(blob.axis));
    across.push_back(d.dot(blob.across()));
  }
  const auto limits = [](std::vector<double>& values, double& low, double& high) {
    std::sort(values.begin(), values.end());
    const auto trim = values.size() / 400;
    low = values[trim];
    high = values[values.size() - 1 - trim];
  };
  limits(along, blob.along_low, blob.along_high);
  limits(across, blob.across_low, blob.across_high);
}

/// Mean height over the last `stretch_mm` at the low (-1) or high (+1) end of the long axis.
double end_height(const Blob& blob, int end, double stretch_mm) {
  double sum = 0.0;
  int count = 0;
  for (const auto& c : blob.cells) {
    const double along = (Eigen::Vector2d(c.x_mm, c.y_mm) - blob.centre).dot(blob.axis);
    const double from_end = end < 0 ? along - blob.along_low : blob.along_high - along;
    if (from_end > stretch_mm) continue;
    sum += c.height_mm;
    ++count;
  }
  return count > 0 ? sum / count : 0.0;
}

/// Root mean square of the top about its own plane.
double flatness(const Blob& blob) {
  const auto n = static_cast<Eigen::Index>(blob.cells.size());
  Eigen::MatrixXd design(n, 3);
  Eigen::VectorXd z(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Cell& c = blob.cells[static_cast<std::size_t>(i)];
    design.row(i) << 1.0, c.x_mm - blob.centre.x(), c.y_mm - blob.centre.y();
    z(i) = c.height_mm;
  }
  return n > 3 ? fit_linear_robust(design, z, 1e-3).residual_sd : 0.0;
}

constexpr double kReedWidthLow = 9.0, kReedWidthHigh = 21.5;
constexpr double kReedLengthLow = 48.0, kReedLengthHigh = 98.0;

bool is_reed_sized(const Blob& blob) {
  return blob.width_mm() > kReedWidthLow && blob.width_mm() < kReedWidthHigh && blob.length_mm() > kReedLengthLow &&
         blob.length_mm() < kReedLengthHigh;
}

[[noreturn]] void refuse_what_is_there(const std::vector<Blob>& blobs, double plate_noise_mm) {
  constexpr double hopeless_noise_mm = 0.08;  // The front of a reed then drowns in the search's threshold.
  if (plate_noise_mm > hopeless_noise_mm) {
    throw NotMeasurable(
        {"scan.hopeless_noise",
         {{"scatter", um(um_from_mm(plate_noise_mm))}, {"tip", um(100.0)}, {"least", um(10.0)}, {"most", um(30.0)}}});
  }
  if (blobs.empty()) throw NotMeasurable({"reed.none"});
  const Blob& largest = *std::max_element(blobs.begin(), blobs.end(),
                                          [](const Blob& a, const Blob& b) { return a.area_mm2 < b.area_mm2; });
  const Arguments size{{"length", mm(largest.length_mm())}, {"width", mm(largest.width_mm())}};
  if (largest.length_mm() < 1.5 * largest.width_mm()) {
    throw NotMeasurable({"reed.round", size});
  }
  if (largest.width_mm() > kReedWidthLow && largest.width_mm() < kReedWidthHigh &&
      largest.length_mm() <= kReedLengthLow) {
    const double thin = std::min(end_height(largest, -1, 3.0), end_height(largest, 1, 3.0));
    throw NotMeasurable(
        {"reed.half", {{"length", mm(largest.length_mm())}, {"missing", word(thin > 0.9 ? "tip" : "butt")}}});
  }
  throw NotMeasurable({"reed.other_size", size});
}

}  // namespace

namespace {

void refuse_table_up(const Blob& reed, double plate_noise_mm) {
  const double low_end = end_height(reed, -1, 8.0);
  const double high_end = end_height(reed, 1, 8.0);
  const double flat_limit_mm = std::max(0.08, plate_noise_mm);
  if (flatness(reed) < flat_limit_mm || std::min(low_end, high_end) > 0.6 * std::max(low_end, high_end)) {
    throw NotMeasurable({"reed.upside_down"});
  }
}

/// The frame of a reed-sized thing.
ReedGuess guess_from(Blob reed) {
  const double low_end = end_height(reed, -1, 8.0);
  const double high_end = end_height(reed, 1, 8.0);
  if (high_end < low_end) {  // x must point to the thick end.
    reed.axis = -reed.axis;
    std::swap(reed.along_low, reed.along_high);
    reed.along_low = -reed.along_low;
    reed.along_high = -reed.along_high;
    std::swap(reed.across_low, reed.across_high);
    reed.across_low = -reed.across_low;
    reed.across_high = -reed.across_high;
  }
  ReedGuess guess;
  const Eigen::Vector2d across = reed.across();
  const double middle_across = 0.5 * (reed.across_low + reed.across_high);
  // The tip is too thin for the threshold: the reed starts some millimetres before the blob.
  const Eigen::Vector2d origin = reed.centre + reed.along_low * reed.axis + middle_across * across;
  Eigen::Matrix3d rotation = Eigen::Matrix3d::Identity();
  rotation.row(0).head<2>() = reed.axis.transpose();
  rotation.row(1).head<2>() = across.transpose();
  guess.rough_from_plate.linear() = rotation;
  guess.rough_from_plate.translation() = -(rotation * Eigen::Vector3d(origin.x(), origin.y(), 0.0));
  guess.length_mm = reed.length_mm();
  guess.width_mm = reed.width_mm();
  return guess;
}

std::vector<Blob> blobs_with_axes(const Eigen::Matrix3Xd& points_mm, double plate_noise_mm, Beside beside) {
  // Without a plate everything that is seen stands.
  constexpr double everything_mm = -1e9;
  const double threshold_mm = beside == Beside::plate ? std::max(0.25, 5.0 * plate_noise_mm) : everything_mm;
  // On a plate only what was not seen lies between two parts of one reed: a shadow, a missing strip. In the air nothing
  // is seen beside the reed either.
  const double bridged_mm = beside == Beside::plate ? 9.0 : 3.0;
  auto blobs = blobs_on_plate(points_mm, threshold_mm, bridged_mm);
  for (auto& blob : blobs) find_axes(blob);
  return blobs;
}

}  // namespace

ReedGuess find_reed(const Eigen::Matrix3Xd& points_mm, double plate_noise_mm, Beside beside) {
  const auto blobs = blobs_with_axes(points_mm, plate_noise_mm, beside);
  std::vector<const Blob*> reeds;
  for (const auto& blob : blobs) {
    if (is_reed_sized(blob)) reeds.push_back(&blob);
  }
  if (reeds.empty()) refuse_what_is_there(blobs, plate_noise_mm);
  if (reeds.size() > 1) {
    throw NotMeasurable({"reed.several", {{"reeds", count(reeds.size())}}});
  }
  refuse_table_up(*reeds.front(), plate_noise_mm);
  ReedGuess guess = guess_from(*reeds.front());
  const std::size_t clutter = blobs.size() - 1;
  if (clutter > 0) {
    guess.notes.push_back({"scan.clutter", {{"things", count(clutter)}}});
  }
  return guess;
}

std::vector<ReedGuess> find_reeds(const Eigen::Matrix3Xd& points_mm, double plate_noise_mm) {
  const auto blobs = blobs_with_axes(points_mm, plate_noise_mm, Beside::plate);
  std::vector<ReedGuess> reeds;
  for (const auto& blob : blobs) {
    if (is_reed_sized(blob)) reeds.push_back(guess_from(blob));
  }
  if (reeds.empty()) refuse_what_is_there(blobs, plate_noise_mm);
  // y of the first reed's own frame runs to the right when its tip points up.
  const Eigen::Isometry3d first = reeds.front().rough_from_plate;
  const auto to_the_right = [&](const ReedGuess& reed) {
    return (first * reed.rough_from_plate.inverse() * Eigen::Vector3d(0.5 * reed.length_mm, 0.0, 0.0)).y();
  };
  std::sort(reeds.begin(), reeds.end(),
            [&](const ReedGuess& a, const ReedGuess& b) { return to_the_right(a) < to_the_right(b); });
  return reeds;
}

}  // namespace canewise
