#include "scanproc/datum/reed_finder.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

struct Cell {
  double x_mm, y_mm, height_mm;
};

struct Limits {
  double low, high;
  [[nodiscard]] double span() const { return high - low; }
};

/// Something that stands on the plate.
struct Blob {
  std::vector<Cell> cells;
  double area_mm2 = 0.0;
  Eigen::Vector2d centre = Eigen::Vector2d::Zero();
  Eigen::Vector2d axis = Eigen::Vector2d::UnitX();  ///< Long axis.
  Limits along_limits{0, 0}, across_limits{0, 0};   ///< About the centre.
  [[nodiscard]] double length_mm() const { return along_limits.span(); }
  [[nodiscard]] double width_mm() const { return across_limits.span(); }
  [[nodiscard]] Eigen::Vector2d across() const { return {-axis.y(), axis.x()}; }
};

/// Limits that hold the values but for one in `outer_share` at each end.
Limits inner_limits(std::vector<double> values, std::size_t outer_share) {
  std::sort(values.begin(), values.end());
  const auto trim = values.size() / outer_share;
  return {values[trim], values[values.size() - 1 - trim]};
}

/// Limits that hold all but the outermost 0.1 % of the points on each axis.
Limits robust_limits(const Eigen::Matrix3Xd& points, int axis) {
  std::vector<double> values;
  const Eigen::Index step = std::max<Eigen::Index>(1, points.cols() / 20000);
  for (Eigen::Index i = 0; i < points.cols(); i += step) values.push_back(points(axis, i));
  return inner_limits(std::move(values), 1000);
}

struct View {
  Limits x, y;
};

/// Throws NotMeasurable for a view wider than a tray of reeds, the widest that makes sense: one cell needs a few
/// points.
View view_of(const Eigen::Matrix3Xd& points) {
  const View view{robust_limits(points, 0), robust_limits(points, 1)};
  constexpr double largest_view_mm = 1000.0;
  if (view.x.span() > largest_view_mm || view.y.span() > largest_view_mm) {
    constexpr double telling_mm = 1e5;  // A wrong unit's numbers may have any length.
    if (!(view.x.span() < telling_mm && view.y.span() < telling_mm)) throw NotMeasurable({"scan.huge"});
    throw NotMeasurable({"scan.large", {{"length", mm(view.x.span())}, {"width", mm(view.y.span())}}});
  }
  return view;
}

/// What was seen in each cell of the view.
struct Raster {
  struct Sum {
    float height = 0;  ///< Of the high points.
    std::uint32_t high = 0, all = 0;
  };
  double x_low, y_low, cell_mm;
  int columns, rows;
  std::vector<Sum> sums;

  [[nodiscard]] std::size_t index(int row, int column) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(column);
  }
  [[nodiscard]] int row_of(std::size_t index) const {
    return static_cast<int>(index / static_cast<std::size_t>(columns));
  }
  [[nodiscard]] int column_of(std::size_t index) const {
    return static_cast<int>(index % static_cast<std::size_t>(columns));
  }
  [[nodiscard]] bool stands(std::size_t index) const { return 2 * sums[index].high > sums[index].all; }
  [[nodiscard]] Cell cell(std::size_t index) const {
    return {x_low + (column_of(index) + 0.5) * cell_mm, y_low + (row_of(index) + 0.5) * cell_mm,
            static_cast<double>(sums[index].height) / sums[index].high};
  }
};

/// High points are those above the threshold.
Raster raster_of(const Eigen::Matrix3Xd& points, double threshold_mm) {
  const View view = view_of(points);
  const double area = std::max(1.0, view.x.span() * view.y.span());
  const Eigen::Index step = std::max<Eigen::Index>(1, points.cols() / 300000);  // More points say no more.
  const double per_half_cell = 0.25 * static_cast<double>(points.cols()) / static_cast<double>(step) / area;
  const double cell = per_half_cell >= 4.0 ? 0.5 : 1.0;
  const int columns = static_cast<int>(view.x.span() / cell) + 1;
  const int rows = static_cast<int>(view.y.span() / cell) + 1;
  Raster raster{view.x.low, view.y.low, cell, columns, rows, {}};
  raster.sums.resize(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows));
  for (Eigen::Index i = 0; i < points.cols(); i += step) {
    const double u = std::floor((points(0, i) - view.x.low) / cell), v = std::floor((points(1, i) - view.y.low) / cell);
    if (!(u >= 0 && v >= 0 && u < columns && v < rows)) continue;  // Also far strays, which no integer holds.
    Raster::Sum& sum = raster.sums[raster.index(static_cast<int>(v), static_cast<int>(u))];
    ++sum.all;
    if (points(2, i) > threshold_mm) {
      ++sum.high;
      sum.height += static_cast<float>(points(2, i));
    }
  }
  return raster;
}

/// The nearest seen cells all round. What was not seen does not part a thing: each direction is followed over empty
/// cells to the next seen one, as far as `bridged_mm`.
std::vector<std::size_t> seen_about(const Raster& raster, std::size_t index, double bridged_mm) {
  const int row = raster.row_of(index), column = raster.column_of(index);
  const int farthest = static_cast<int>(bridged_mm / raster.cell_mm);
  std::vector<std::size_t> seen;
  for (int dr = -1; dr <= 1; ++dr) {
    for (int dc = -1; dc <= 1; ++dc) {
      for (int k = 1; k <= farthest && (dr != 0 || dc != 0); ++k) {
        const int r = row + k * dr, c = column + k * dc;
        if (r < 0 || c < 0 || r >= raster.rows || c >= raster.columns) break;
        const std::size_t next = raster.index(r, c);
        if (raster.sums[next].all == 0) continue;
        seen.push_back(next);
        break;
      }
    }
  }
  return seen;
}

/// Cells that hang together, one list a thing.
std::vector<std::vector<Cell>> connected_cells(const Raster& raster, double bridged_mm) {
  std::vector<bool> taken(raster.sums.size(), false);
  std::vector<std::vector<Cell>> things;
  std::vector<std::size_t> stack;
  const auto take = [&](std::size_t index) {
    if (taken[index] || !raster.stands(index)) return;
    taken[index] = true;
    stack.push_back(index);
  };
  for (std::size_t start = 0; start < raster.sums.size(); ++start) {
    take(start);
    if (stack.empty()) continue;
    std::vector<Cell>& cells = things.emplace_back();
    while (!stack.empty()) {
      const std::size_t index = stack.back();
      stack.pop_back();
      cells.push_back(raster.cell(index));
      for (const std::size_t next : seen_about(raster, index, bridged_mm)) take(next);
    }
  }
  return things;
}

/// The thing that the cells are, with its axes.
Blob blob_from(std::vector<Cell> cells, double area_mm2) {
  Blob blob;
  blob.area_mm2 = area_mm2;
  for (const auto& c : cells) blob.centre += Eigen::Vector2d(c.x_mm, c.y_mm);
  blob.centre /= static_cast<double>(cells.size());
  Eigen::Matrix2d scatter = Eigen::Matrix2d::Zero();
  for (const auto& c : cells) {
    const Eigen::Vector2d d = Eigen::Vector2d(c.x_mm, c.y_mm) - blob.centre;
    scatter += d * d.transpose();
  }
  blob.axis = Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d>(scatter).eigenvectors().col(1);
  std::vector<double> along, across;
  for (const auto& c : cells) {
    const Eigen::Vector2d d = Eigen::Vector2d(c.x_mm, c.y_mm) - blob.centre;
    along.push_back(d.dot(blob.axis));
    across.push_back(d.dot(blob.across()));
  }
  blob.along_limits = inner_limits(std::move(along), 400);
  blob.across_limits = inner_limits(std::move(across), 400);
  blob.cells = std::move(cells);
  return blob;
}

/// Mean height over the last `stretch_mm` at the low (-1) or high (+1) end of the long axis.
double end_height(const Blob& blob, int end, double stretch_mm) {
  double sum = 0.0;
  int count = 0;
  for (const auto& c : blob.cells) {
    const double along = (Eigen::Vector2d(c.x_mm, c.y_mm) - blob.centre).dot(blob.axis);
    const double from_end = end < 0 ? along - blob.along_limits.low : blob.along_limits.high - along;
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

void refuse_table_up(const Blob& reed, double plate_noise_mm) {
  const double low_end = end_height(reed, -1, 8.0);
  const double high_end = end_height(reed, 1, 8.0);
  const double flat_limit_mm = std::max(0.08, plate_noise_mm);
  if (flatness(reed) < flat_limit_mm || std::min(low_end, high_end) > 0.6 * std::max(low_end, high_end)) {
    throw NotMeasurable({"reed.upside_down"});
  }
}

/// The limits on an axis that points the other way.
Limits turned(const Limits& limits) { return {-limits.high, -limits.low}; }

/// The frame of a reed-sized thing.
ReedGuess guess_from(Blob reed) {
  const double low_end = end_height(reed, -1, 8.0);
  const double high_end = end_height(reed, 1, 8.0);
  if (high_end < low_end) {  // x must point to the thick end.
    reed.axis = -reed.axis;
    reed.along_limits = turned(reed.along_limits);
    reed.across_limits = turned(reed.across_limits);
  }
  ReedGuess guess;
  const Eigen::Vector2d across = reed.across();
  const double middle_across = 0.5 * (reed.across_limits.low + reed.across_limits.high);
  // The tip is too thin for the threshold: the reed starts some millimetres before the blob.
  const Eigen::Vector2d origin = reed.centre + reed.along_limits.low * reed.axis + middle_across * across;
  Eigen::Matrix3d rotation = Eigen::Matrix3d::Identity();
  rotation.row(0).head<2>() = reed.axis.transpose();
  rotation.row(1).head<2>() = across.transpose();
  guess.rough_from_plate.linear() = rotation;
  guess.rough_from_plate.translation() = -(rotation * Eigen::Vector3d(origin.x(), origin.y(), 0.0));
  guess.length_mm = reed.length_mm();
  guess.width_mm = reed.width_mm();
  return guess;
}

std::vector<Blob> find_blobs(const Eigen::Matrix3Xd& points_mm, double plate_noise_mm, Beside beside) {
  // Without a plate everything that is seen stands.
  constexpr double everything_mm = -1e9;
  const double threshold_mm = beside == Beside::plate ? std::max(0.25, 5.0 * plate_noise_mm) : everything_mm;
  // On a plate only what was not seen lies between two parts of one reed: a shadow, a missing strip. In the air nothing
  // is seen beside the reed either.
  const double bridged_mm = beside == Beside::plate ? 9.0 : 3.0;
  const Raster raster = raster_of(points_mm, threshold_mm);
  std::vector<Blob> blobs;
  for (auto& cells : connected_cells(raster, bridged_mm)) {
    constexpr double least_mm2 = 3.0;
    const double area_mm2 = raster.cell_mm * raster.cell_mm * static_cast<double>(cells.size());
    if (area_mm2 >= least_mm2) blobs.push_back(blob_from(std::move(cells), area_mm2));
  }
  return blobs;
}

}  // namespace

ReedGuess find_reed(const Eigen::Matrix3Xd& points_mm, double plate_noise_mm, Beside beside) {
  const auto blobs = find_blobs(points_mm, plate_noise_mm, beside);
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
  const auto blobs = find_blobs(points_mm, plate_noise_mm, Beside::plate);
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
