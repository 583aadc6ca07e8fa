#include "scanproc/pipeline/comparison.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string_view>
#include <utility>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/comparison_words.h"
#include "scanproc/pipeline/learned_hand.h"
#include "scanproc/scrape/scrape_region.h"
#include "scanproc/scrape/scrape_steps.h"

namespace canewise {
namespace {

/// A hand's slip: within this distance of a planned place cane may be gone.
constexpr double kSlip_mm = 1.5;

/// Bilinear; NaN where a corner that counts was not measured.
double thickness_at(const ThicknessMap& map, double x_mm, double y_mm) {
  const Grid& grid = map.grid;
  const double row = x_mm / grid.cell_mm - 0.5,
               column = y_mm / grid.cell_mm + 0.5 * static_cast<double>(grid.columns) - 0.5;
  const double first_row = std::floor(row), first_column = std::floor(column);
  double sum = 0.0;
  for (int i = 0; i < 2; ++i) {
    for (int j = 0; j < 2; ++j) {
      const double a = row - first_row, b = column - first_column;
      const double weight = (i == 0 ? 1.0 - a : a) * (j == 0 ? 1.0 - b : b);
      constexpr double rounding = 1e-6;  // Columns of equal cells lie upon each other.
      if (weight < rounding) continue;
      const auto r = static_cast<Eigen::Index>(first_row) + i, c = static_cast<Eigen::Index>(first_column) + j;
      if (r < 0 || c < 0 || r >= grid.rows || c >= grid.columns) return std::nan("");
      sum += weight * static_cast<double>(map.thickness_mm(r, c));
    }
  }
  return sum;
}

/// Slope over some cells to either side; 0 where it cannot be had.
Field slope_of(const ThicknessMap& map, bool along) {
  constexpr Eigen::Index reach = 3;
  Field slope = Field::Zero(map.grid.rows, map.grid.columns);
  const Eigen::Index dr = along ? reach : 0, dc = along ? 0 : reach;
  for (Eigen::Index c = dc; c < map.grid.columns - dc; ++c) {
    for (Eigen::Index r = dr; r < map.grid.rows - dr; ++r) {
      const float rise = map.thickness_mm(r + dr, c + dc) - map.thickness_mm(r - dr, c - dc);
      if (!std::isnan(rise))
        slope(r, c) = rise / static_cast<float>(2.0 * static_cast<double>(reach) * map.grid.cell_mm);
    }
  }
  return slope;
}

double white_variance(const LocalNoise& noise) {
  return noise.covariance_sum_mm2 / (noise.bins_per_cell * noise.filled_share);
}

/// Whether the point lies in the polygon or nearer to it than the hand's slip.
bool near(const ScrapeStep& step, double x_mm, double y_mm) {
  if (x_mm < step.from_mm - kSlip_mm || x_mm > step.to_mm + kSlip_mm) return false;
  if (holds(step.polygon, x_mm, y_mm)) return true;
  const auto& p = step.polygon;
  for (std::size_t i = 0, j = p.size() - 1; i < p.size(); j = i++) {
    const double ax = p[j].x_mm, ay = p[j].y_mm, bx = p[i].x_mm - ax, by = p[i].y_mm - ay;
    const double length2 = square(bx) + square(by);
    const double t = length2 > 0.0 ? std::clamp(((x_mm - ax) * bx + (y_mm - ay) * by) / length2, 0.0, 1.0) : 0.0;
    if (square(x_mm - ax - t * bx) + square(y_mm - ay - t * by) < square(kSlip_mm)) return true;
  }
  return false;
}

/// Mean over cells with everything that is common to them.
struct CellMean {
  double mean_mm = 0.0, u_mm = 0.0, planned_mm = 0.0;
  Eigen::Index cells = 0;
};

class Comparer {
 public:
  Comparer(const Result& before, const Result& after, const CompareOptions& options)
      : before_(before), after_(after), options_(options) {}

  Comparison run() {
    check_that_it_is_one_reed();
    const std::size_t shares = options_.strokes_done.size();
    if (shares > 1 && shares != before_.plan.steps.size()) {
      throw UsageError(
          {"comparison.shares_of_strokes", {{"shares", count(shares)}, {"steps", count(before_.plan.steps.size())}}});
    }
    out_.scraping = scraping_name(before_);
    out_.grid = before_.map.grid;
    out_.left_right_only = before_.state != after_.state;
    find_clip();
    planned_mm_ = whole_plan_mm_ = removal_of(out_.grid, before_.plan.steps);
    subtract();
    spread_shapes();
    if (out_.left_right_only) {
      keep_left_over_right(out_.removed_mm);
      keep_left_over_right(planned_mm_);
      for (Shape& shape : shapes_) keep_left_over_right(shape.field);
      variance_ *= 2.0;
      slow_variance_ *= 2.0;
    }
    fit_untouched();
    check_order();
    judge_steps();
    learn_hand();
    look_elsewhere();
    put_in_words(out_, before_, after_);
    return std::move(out_);
  }

 private:
  struct Shape {
    Field field;  ///< For one standard deviation of its prior, mm.
  };

  [[noreturn]] static void refuse(Message why) {
    throw NotMeasurable({"comparison.not_one_reed", {{"why", part(std::move(why))}}});
  }

  void check_that_it_is_one_reed() const {
    const auto same_file = [](const ScanSource& a, const ScanSource& b) { return a.sha256 == b.sha256; };
    if (!before_.scans.empty() &&
        std::equal(before_.scans.begin(), before_.scans.end(), after_.scans.begin(), after_.scans.end(), same_file)) {
      throw NotMeasurable(Message{"comparison.same_scan"});
    }
    if (before_.instrument != after_.instrument) {
      const auto title = [](const Result& result) {
        return part({"instrument.title", {{"instrument", word(result.instrument)}}});
      };
      refuse({"comparison.other_instrument", {{"before", title(before_)}, {"after", title(after_)}}});
    }
    const auto compare_dimension = [&](const Measured& a, const Measured& b, double spare_mm, std::string_view name) {
      if (!std::isfinite(a.value) || !std::isfinite(b.value)) return;
      const double u95 = kCoverage95 * std::hypot(a.u, b.u);
      if (std::abs(a.value - b.value) > spare_mm + u95)
        refuse({"comparison.other_size", {{"what", word(name)}, {"by", mm(std::abs(a.value - b.value), 2)}}});
    };
    // Cane swells by some hundredths, wet against dry by more; scanners' edges differ by some more.
    compare_dimension(before_.assessment.cut.stock_height_mm, after_.assessment.cut.stock_height_mm,
                      before_.state == after_.state ? 0.12 : 0.35, "stock height");
    compare_dimension(before_.assessment.cut.butt_width_mm, after_.assessment.cut.butt_width_mm, 0.25, "butt width");
    constexpr double most_clipped_mm = 3.0, u_edges_mm = 0.3;
    const double shorter = before_.outline.length_mm - after_.outline.length_mm;
    if (shorter > most_clipped_mm) refuse({"comparison.shorter", {{"by", mm(shorter, 1)}}});
    if (shorter < -u_edges_mm) {
      throw NotMeasurable({"comparison.longer", {{"by", mm(-shorter, 1)}}});
    }
  }

  void find_clip() {
    const double shorter = before_.outline.length_mm - after_.outline.length_mm;
    const double u = std::hypot(before_.outline.u_length_mm, after_.outline.u_length_mm);
    shift_mm_ = shorter;  // From the butt, which nobody scrapes.
    constexpr double least_mm = 0.05;
    if (shorter > std::max(least_mm, 3.0 * u)) {
      out_.clipped_mm = shorter;
      out_.u_clipped_mm = u;
    }
  }

  void subtract() {
    const Grid& grid = out_.grid;
    out_.removed_mm = Field::Constant(grid.rows, grid.columns, std::numeric_limits<float>::quiet_NaN());
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      for (Eigen::Index r = 0; r < grid.rows; ++r) {
        if (!before_.map.measured(r, c)) continue;
        const double now = thickness_at(after_.map, grid.x_mm(r) - shift_mm_, grid.y_mm(c));
        out_.removed_mm(r, c) = static_cast<float>(static_cast<double>(before_.map.thickness_mm(r, c)) - now);
      }
    }
    variance_ = white_variance(before_.map.noise) + white_variance(after_.map.noise);
    slow_variance_ = square(before_.map.noise.smooth_mm) + square(after_.map.noise.smooth_mm);
    slow_length_mm_ = std::max(before_.map.noise.smooth_length_mm, after_.map.noise.smooth_length_mm);
  }

  /// What may differ between two layings-down of one reed, each with its spread in both scans.
  void spread_shapes() {
    const Grid& grid = out_.grid;
    const double length = before_.outline.length_mm, half = before_.outline.half_width_mm(0.0);
    const double fade_at = half_millimetre_station();
    const Field slope_x = slope_of(before_.map, true), slope_y = slope_of(before_.map, false);
    const auto add = [&](double size_mm, const auto& value) {
      if (!(size_mm > 0.0)) return;
      Shape shape{Field(grid.rows, grid.columns)};
      for (Eigen::Index c = 0; c < grid.columns; ++c) {
        for (Eigen::Index r = 0; r < grid.rows; ++r)
          shape.field(r, c) = static_cast<float>(size_mm * value(grid.x_mm(r), grid.y_mm(c), r, c));
      }
      shapes_.push_back(std::move(shape));
    };
    using Index = Eigen::Index;
    // From both sides neither what lies under the table nor how the tip curls is taken for cane.
    const auto is_two_sided = [](const Result& result) { return result.datum == name_of(DatumMode::two_sided); };
    const auto of_those = [&](double Priors::*prior, bool two_sided, bool one_sided) {
      double sum = 0.0;
      for (const Result* result : {&before_, &after_})
        if (is_two_sided(*result) ? two_sided : one_sided) sum += square(result->rig.priors.*prior);
      return mm_from_um(std::sqrt(sum));
    };
    const auto both = [&](double Priors::*prior) { return of_those(prior, true, true); };
    const auto on_plate = [&](double Priors::*prior) { return of_those(prior, false, true); };
    const auto along = [&](double x) { return (2.0 * x - length) / length; };
    const auto fade = [&](double x) { return x < fade_at ? square(1.0 - std::max(0.0, x) / fade_at) : 0.0; };
    // Swelling first: it is reported. Nobody dries a reed twice to the same degree.
    constexpr double one_state = 0.003, one_unknown = 0.01, wet_and_dry = 0.05;  // Assumptions.
    swelling_spread_ = before_.state != after_.state             ? wet_and_dry
                       : before_.state == MoistureState::unknown ? one_unknown
                                                                 : one_state;
    add(swelling_spread_, [&](double, double, Index r, Index c) {
      return before_.map.measured(r, c) ? -static_cast<double>(before_.map.thickness_mm(r, c)) : 0.0;
    });
    const auto plane_u = [&](Index k) {
      return std::sqrt(before_.frame.plate_plane(k, k) + after_.frame.plate_plane(k, k));
    };
    const bool other_rig = before_.rig.name != after_.rig.name;
    add(std::hypot(on_plate(&Priors::seating_offset_um), plane_u(0), other_rig ? both(&Priors::penetration_um) : 0.0),
        [](double, double, Index, Index) { return 1.0; });
    add(std::hypot(on_plate(&Priors::seating_roll_um), half * plane_u(2)),
        [&](double, double y, Index, Index) { return y / half; });
    add(std::hypot(on_plate(&Priors::seating_pitch_um), 0.75 * length * plane_u(1)),
        [&](double x, double, Index, Index) { return 1.0 - x / (0.75 * length); });
    // Of the table's form only its change counts; that is taken for a third of what is not known of the form itself.
    constexpr double change = 1.0 / 3.0;
    add(std::hypot(change * on_plate(&Priors::table_bow_um), of_those(&Priors::pose_bending_um, true, false)),
        [&](double x, double, Index, Index) { return 1.0 - square(along(x)); });
    add(change * on_plate(&Priors::table_cup_um),
        [&](double, double y, Index, Index) { return 1.0 - square(y / half); });
    add(change * on_plate(&Priors::table_twist_um),
        [&](double x, double y, Index, Index) { return along(x) * y / half; });
    add(on_plate(&Priors::tip_lift_um), [&](double x, double, Index, Index) { return fade(x); });
    add(on_plate(&Priors::tip_curl_side_um), [&](double x, double y, Index, Index) { return fade(x) * y / half; });
    // Light that falls on a slope from one side reads it too high or too low, as a shift along it would; the reed may
    // lie the other way round in the second scan. An assumption: micrometres for a slope of one.
    constexpr double light_per_slope_mm = 0.005;
    add(std::hypot(before_.outline.u_length_mm, after_.outline.u_length_mm, light_per_slope_mm),
        [&](double, double, Index r, Index c) { return static_cast<double>(slope_x(r, c)); });
    add(std::hypot(before_.frame.y_mm, after_.frame.y_mm, light_per_slope_mm),
        [&](double, double, Index r, Index c) { return static_cast<double>(slope_y(r, c)); });
    add(std::hypot(before_.frame.yaw_rad, after_.frame.yaw_rad), [&](double x, double, Index r, Index c) {
      return (x - before_.frame.pivot_x_mm) * static_cast<double>(slope_y(r, c));
    });
    // Light enters a fresh cut otherwise than the skin that was there: by a third of what is not known of it. Nothing
    // untouched can show that.
    add(change * both(&Priors::penetration_um),
        [&](double, double, Index r, Index c) { return planned_mm_(r, c) > 0.0F ? 1.0 : 0.0; });
    if (other_rig) {
      add(std::hypot(before_.rig.priors.scale_rel, after_.rig.priors.scale_rel), [&](double, double, Index r, Index c) {
        return before_.map.measured(r, c) ? static_cast<double>(before_.map.thickness_mm(r, c)) : 0.0;
      });
    }
  }

  double half_millimetre_station() const {
    const Grid& grid = out_.grid;
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      const double middle = thickness_at(before_.map, grid.x_mm(r), 0.0);
      if (middle >= 0.5) return grid.x_mm(r);
    }
    return grid.x_mm(grid.rows - 1);
  }

  void keep_left_over_right(Field& field) const { field = Field(field - field.rowwise().reverse()); }

  /// Away from everything that was to be scraped; without a plan only bark and heart are sure to be so.
  bool untouched(Eigen::Index r, Eigen::Index c) const {
    const Grid& grid = out_.grid;
    const double x = grid.x_mm(r), y = grid.y_mm(c), vamp = before_.assessment.cut.vamp_length_mm.value;
    constexpr double off_rim_mm = 0.6;
    if (!before_.outline.holds(x, y, off_rim_mm)) return false;
    if (std::abs(x - vamp) < 1.5) return false;  // The shoulder is steep.
    if (x > vamp) return true;
    if (before_.plan.steps.empty()) {
      const double t = x / vamp, e = std::abs(y) / before_.outline.half_width_mm(x);
      return t > ZoneLimits::t[2] && t < ZoneLimits::t[3] && e < ZoneLimits::e[1];
    }
    return std::none_of(before_.plan.steps.begin(), before_.plan.steps.end(), [&](const ScrapeStep& step) {
      return near(step, x, y) || (out_.left_right_only && near(step, x, -y));
    });
  }

  /// Linear model with priors, iteratively reweighted: what lies far off was scraped without a plan.
  void fit_untouched() {
    const auto count = static_cast<Eigen::Index>(shapes_.size());
    std::vector<Eigen::Index> cells;
    // Of mirror images that say the same one counts.
    for (Eigen::Index c = out_.left_right_only ? out_.grid.columns / 2 : 0; c < out_.grid.columns; ++c) {
      for (Eigen::Index r = 0; r < out_.grid.rows; ++r)
        if (!std::isnan(out_.removed_mm(r, c)) && untouched(r, c)) cells.push_back(c * out_.grid.rows + r);
    }
    constexpr std::size_t fewest = 50;
    if (cells.size() < fewest) {
      throw NotMeasurable(Message{"comparison.too_little_untouched"});
    }
    Eigen::VectorXd fitted = Eigen::VectorXd::Zero(count);
    Eigen::MatrixXd covariance = Eigen::MatrixXd::Identity(count, count);
    double scale = 1.0, cell_sd_mm = 0.0;
    for (int round = 0; round < 8; ++round) {
      Eigen::MatrixXd normal = Eigen::MatrixXd::Identity(count, count);
      Eigen::VectorXd right = Eigen::VectorXd::Zero(count);
      Eigen::VectorXd row(count);
      std::vector<double> rest;
      rest.reserve(cells.size());
      const double sd = std::sqrt(variance_) * scale;
      // Cells within the reach of a slow error repeat each other.
      const double alike_cells = std::numbers::pi / 4.0 * square(slow_length_mm_ / out_.grid.cell_mm);
      const double repeats = 1.0 + slow_variance_ * alike_cells / square(sd);
      for (const Eigen::Index cell : cells) {
        for (Eigen::Index k = 0; k < count; ++k)
          row(k) = static_cast<double>(shapes_[static_cast<std::size_t>(k)].field.data()[cell]);
        const double value = out_.removed_mm.data()[cell], residual = value - row.dot(fitted);
        rest.push_back(residual);
        constexpr double huber = 1.5;
        const double weight = (round == 0 ? 1.0 : std::min(1.0, huber * sd / std::abs(residual))) / square(sd);
        normal += weight / repeats * row * row.transpose();
        right += weight / repeats * value * row;
      }
      covariance = normal.inverse();
      fitted = covariance * right;
      // Noise that the scans' own estimates do not know (another seating of dust, say) widens everything.
      cell_sd_mm = mad_sigma(rest, 0.0);
      scale = std::clamp(cell_sd_mm / std::sqrt(variance_), 1.0, 10.0);
    }
    root_ = covariance.llt().matrixL();
    for (Eigen::Index k = 0; k < count; ++k)
      out_.removed_mm -= static_cast<float>(fitted(k)) * shapes_[static_cast<std::size_t>(k)].field;
    // Swelling is a gain of thickness, hence the shape's sign.
    out_.swelling_rel = fitted(0) * swelling_spread_;
    out_.u_swelling_rel = std::sqrt(covariance(0, 0)) * swelling_spread_;
    out_.u_mm = Field::Constant(out_.grid.rows, out_.grid.columns, std::numeric_limits<float>::quiet_NaN());
    variance_ *= square(scale);
    Eigen::VectorXd row(count);
    for (Eigen::Index i = 0; i < out_.u_mm.size(); ++i) {
      if (std::isnan(out_.removed_mm.data()[i])) continue;
      for (Eigen::Index k = 0; k < count; ++k)
        row(k) = static_cast<double>(shapes_[static_cast<std::size_t>(k)].field.data()[i]);
      out_.u_mm.data()[i] = static_cast<float>(std::hypot(cell_sd_mm, (root_.transpose() * row).norm()));
    }
  }

  template <typename Take>
  CellMean mean_where(const Take& take) const {
    return mean_where(planned_mm_, take);
  }
  template <typename Take>
  CellMean mean_where(const Field& planned_mm, const Take& take) const {
    CellMean mean;
    Eigen::VectorXd common = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(shapes_.size()));
    for (Eigen::Index c = 0; c < out_.grid.columns; ++c) {
      for (Eigen::Index r = 0; r < out_.grid.rows; ++r) {
        if (std::isnan(out_.removed_mm(r, c)) || !take(r, c)) continue;
        ++mean.cells;
        mean.mean_mm += static_cast<double>(out_.removed_mm(r, c));
        mean.planned_mm += static_cast<double>(planned_mm(r, c));
        for (std::size_t k = 0; k < shapes_.size(); ++k)
          common(static_cast<Eigen::Index>(k)) += static_cast<double>(shapes_[k].field(r, c));
      }
    }
    const auto n = static_cast<double>(mean.cells);
    mean.mean_mm /= n;
    mean.planned_mm /= n;
    const double size_mm = out_.grid.cell_mm * std::sqrt(n);
    const double alike = slow_length_mm_ > 0.0 ? square(slow_length_mm_ / (slow_length_mm_ + size_mm)) : 0.0;
    mean.u_mm = std::sqrt(variance_ / n + slow_variance_ * alike + (root_.transpose() * (common / n)).squaredNorm());
    return mean;
  }

  bool on_vamp(Eigen::Index r, Eigen::Index c) const {
    const double x = out_.grid.x_mm(r);
    return x < before_.assessment.cut.vamp_length_mm.value - 1.0 && before_.outline.holds(x, out_.grid.y_mm(c), 0.3) &&
           x > out_.clipped_mm + 0.3;
  }

  void check_order() {
    if (out_.left_right_only) return;
    const CellMean vamp = mean_where([&](Eigen::Index r, Eigen::Index c) { return on_vamp(r, c); });
    if (vamp.cells == 0) throw NotMeasurable(Message{"comparison.no_vamp"});
    const double area = static_cast<double>(vamp.cells) * square(out_.grid.cell_mm);
    out_.volume_mm3 = vamp.mean_mm * area;
    out_.u_volume_mm3 = vamp.u_mm * area;
    double gone_mm2 = 0.0, grown_mm2 = 0.0;
    for (Eigen::Index c = 0; c < out_.grid.columns; ++c) {
      for (Eigen::Index r = 0; r < out_.grid.rows; ++r) {
        constexpr double sure = 3.0, least_mm = 0.008;
        const double removed = out_.removed_mm(r, c);
        if (std::isnan(removed) || !on_vamp(r, c) ||
            std::abs(removed) < std::max(least_mm, sure * static_cast<double>(out_.u_mm(r, c))))
          continue;
        (removed > 0.0 ? gone_mm2 : grown_mm2) += square(out_.grid.cell_mm);
      }
    }
    constexpr double more_than_dust_mm2 = 4.0, another_reed_mm2 = 40.0;
    if (grown_mm2 > another_reed_mm2 && gone_mm2 > another_reed_mm2) {
      refuse({"comparison.thicker_and_thinner", {{"thicker", number(grown_mm2)}, {"thinner", number(gone_mm2)}}});
    }
    if (grown_mm2 > more_than_dust_mm2 && grown_mm2 > 2.0 * gone_mm2) {
      throw NotMeasurable({"comparison.more_cane", {{"thicker", number(grown_mm2)}}});
    }
  }

  void judge_steps() {
    for (const ScrapeStep& step : before_.plan.steps) {
      RemovedStep removed;
      removed.where = step.where;
      const auto here = [&](Eigen::Index r, Eigen::Index c) {
        return out_.grid.x_mm(r) > out_.clipped_mm + 0.3 && holds(step.polygon, out_.grid.x_mm(r), out_.grid.y_mm(c));
      };
      const CellMean mean = mean_where(here);
      // What all steps together were to leave here, with the tool's soft borders: layers of one fault lie over each
      // other.
      const double planned_mm = mean_where(whole_plan_mm_, here).planned_mm;
      removed.planned_um = mean.cells > 0 ? um_from_mm(planned_mm) : step.depth_um;
      constexpr Eigen::Index fewest = 8;
      // What came off both sides alike shows in no left-right difference.
      constexpr double whole = 0.9;
      const bool hidden = out_.left_right_only && !(mean.planned_mm > whole * planned_mm);
      if (mean.cells < fewest || hidden) {
        removed.removed_um = removed.u_um = std::nan("");
      } else {
        removed.removed_um = um_from_mm(mean.mean_mm);
        removed.u_um = um_from_mm(mean.u_mm);
        removed.as_planned =
            judge(removed.removed_um - removed.planned_um, removed.u_um, -tolerated_um(removed), tolerated_um(removed));
      }
      out_.steps.push_back(std::move(removed));
    }
  }

  static double tolerated_um(const RemovedStep& step) { return std::max(5.0, 0.25 * step.planned_um); }

  /// The plan as far as its strokes were made.
  std::vector<ScrapeStep> worked_steps() const {
    std::vector<ScrapeStep> worked;
    const auto& shares = options_.strokes_done;
    for (std::size_t k = 0; k < before_.plan.steps.size(); ++k) {
      const double share = shares.empty() ? 1.0 : shares.size() == 1 ? shares.front() : shares[k];
      if (!(share > 0.0)) continue;
      worked.push_back(before_.plan.steps[k]);
      worked.back().depth_um *= share;
      worked.back().volume_mm3 *= share;
    }
    return worked;
  }

  CellMean mean_about(const std::vector<ScrapeStep>& steps, const Field& planned_mm) const {
    return mean_where(planned_mm, [&](Eigen::Index r, Eigen::Index c) {
      const double x = out_.grid.x_mm(r), y = out_.grid.y_mm(c);
      return x >= out_.clipped_mm + 0.3 &&
             std::any_of(steps.begin(), steps.end(), [&](const ScrapeStep& step) { return near(step, x, y); });
    });
  }

  /// Volumes about the places, so that a hand that slips a little is not taken for a light one.
  void learn_hand() {
    const std::vector<ScrapeStep> worked = worked_steps();
    if (worked.empty()) return;
    Field made_mm = removal_of(out_.grid, worked);
    if (out_.left_right_only) keep_left_over_right(made_mm);
    const CellMean all = mean_about(before_.plan.steps, planned_mm_), made = mean_about(worked, made_mm);
    // Only what both scans saw can be counted, and only if that is most of it; left over right, a pair is nothing.
    const auto mostly_seen = [&](const CellMean& mean, const std::vector<ScrapeStep>& steps) {
      double whole = 0.0;
      for (const ScrapeStep& step : steps) whole += step.volume_mm3;
      constexpr double most = 0.5;
      return mean.cells > 0 &&
             mean.planned_mm * static_cast<double>(mean.cells) * square(out_.grid.cell_mm) > most * whole;
    };
    if (!mostly_seen(all, before_.plan.steps) || !mostly_seen(made, worked)) return;
    if (!(made.mean_mm > 2.0 * made.u_mm)) return;  // Nothing was done, or nothing is seen.
    LearnedHand hand;
    hand.removed_over_planned = all.mean_mm / all.planned_mm;
    hand.u_removed_over_planned = all.u_mm / all.planned_mm;
    // Told strokes were made as `before_.player` says.
    hand.seen_um = before_.player.depth_per_stroke_um * made.mean_mm / made.planned_mm;
    hand.u_seen_rel = made.u_mm / made.mean_mm;
    if (weigh_in(hand, options_.player, out_.scraping)) out_.hand = hand;
  }

  /// Cane that is gone where nobody planned it: the zone that lost most.
  void look_elsewhere() {
    const Grid& grid = out_.grid;
    for (const ZoneThickness& zone : before_.assessment.zone_thickness) {
      const double vamp = before_.assessment.cut.vamp_length_mm.value;
      const auto a = static_cast<std::size_t>(zone.zone.along), e = static_cast<std::size_t>(zone.zone.across);
      const CellMean mean = mean_where([&](Eigen::Index r, Eigen::Index c) {
        const double x = grid.x_mm(r), y = grid.y_mm(c), t = x / vamp,
                     share = std::abs(y) / before_.outline.half_width_mm(x);
        if ((y < 0.0) != (zone.zone.side == Side::left) || !on_vamp(r, c)) return false;
        if (t < ZoneLimits::t.at(a) || t >= ZoneLimits::t.at(a + 1)) return false;
        if (share < ZoneLimits::e.at(e) || share >= ZoneLimits::e.at(e + 1)) return false;
        return std::none_of(before_.plan.steps.begin(), before_.plan.steps.end(),
                            [&](const ScrapeStep& step) { return near(step, x, y); });
      });
      constexpr Eigen::Index fewest = 20;
      constexpr double sure = 3.0, least_mm = 0.005;
      if (mean.cells < fewest || mean.mean_mm < std::max(least_mm, sure * mean.u_mm) ||
          (out_.elsewhere && um_from_mm(mean.mean_mm) < out_.elsewhere->removed_um))
        continue;
      out_.elsewhere = {zone.zone, um_from_mm(mean.mean_mm)};
    }
  }

  const Result& before_;
  const Result& after_;
  const CompareOptions& options_;
  Comparison out_;
  std::vector<Shape> shapes_;
  Field planned_mm_;      ///< As removed_mm: off each cell, or left over right.
  Field whole_plan_mm_;   ///< Off each cell.
  Eigen::MatrixXd root_;  ///< Of the fitted shapes' covariance.
  double shift_mm_ = 0.0, swelling_spread_ = 0.0;
  double slow_variance_ = 0.0, slow_length_mm_ = 0.0;  ///< Of what the scanners' slow errors leave in a difference.
  double variance_ = 0.0;  ///< Over n cells a mean has this over n: neighbours' correlation is in it.
};

}  // namespace

Comparison compare(const Result& before, const Result& after, const CompareOptions& options) {
  return Comparer(before, after, options).run();
}

}  // namespace canewise
