#include "scanproc/bendtest/identify_cane.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <optional>

#include "scanproc/bendtest/thickness_doubts.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/mechanics/reed_plate.h"

namespace canewise {
namespace {

using Index = Eigen::Index;

/// What is known before of the parts that are no cane; standard deviations, assumptions where no source is named.
constexpr double kTurnInClamp_rad = 1e-3;  ///< The stock's front gives under the bar, and the edge is crushed.
constexpr double kSinkInClamp_mm = 5e-3;
constexpr double kShareOfLoop = 0.02;      ///< A loop's two sides do not pull quite alike.
constexpr double kPlateModel_rel = 0.006;  ///< Against solids (`./dev solids`).
constexpr double kSlide_mm = 0.02;         ///< Of one scan on the other, along and across.
constexpr double kStandsOver_mm = 0.3;     ///< Where the reed really begins to bend.

/// Without density, which no slow bending tells.
constexpr Index kParts = 5;
constexpr std::array<CanePart, kParts> kFitted{CanePart::e_l, CanePart::e_t, CanePart::g_lt, CanePart::gradient,
                                               CanePart::left_right};
constexpr Index part_index(Index k) { return static_cast<Index>(kFitted.at(static_cast<std::size_t>(k))); }

/// A square of the vamp under one weight.
struct Square {
  double x_mm, y_mm, down_mm;
  double slope_x, slope_y;  ///< What a slide of 1 mm along and across moves it.
  std::vector<Eigen::Vector2d> cells;
  std::size_t weight;
};

class Identifier {
 public:
  explicit Identifier(const IdentifyInputs& inputs) : in_(inputs) {
    mouthpiece_.window_end_mm = in_.edge_mm;
    mouthpiece_.ligature_mm = std::max(in_.clamp_mm, in_.edge_mm);
    for (std::size_t w = 0; w < in_.weights.size(); ++w) gather_squares(w);
    constexpr std::size_t fewest = 25;
    if (squares_.size() < fewest * in_.weights.size()) throw NotMeasurable({"bendtest.little_vamp"});
    doubts_ = thickness_doubts(in_.reed, in_.u_x_mm, in_.u_y_mm);
    cane_ = in_.prior.cane;
    sides_ = in_.prior.left_right;
    reed_ = reed_plate({.map = in_.reed.map,
                        .outline = in_.reed.outline,
                        .bark = in_.reed.assessment.cut.bark,
                        .mouthpiece = mouthpiece_,
                        .cane = cane_,
                        .left_right = sides_});
    for (const Field& doubt : doubts_) {
      const Eigen::VectorXd cells =
          Eigen::Map<const Eigen::ArrayXf>(doubt.data(), doubt.size()).matrix().cast<double>();
      doubt_at_points_.emplace_back(reed_.from_cells * cells);
    }
    count_nuisances();
  }

  IdentifiedCane run() {
    const auto n = static_cast<Index>(squares_.size());
    Eigen::VectorXd state = Eigen::VectorXd::Zero(size_);  // Cane's parts as they move from the prior; nuisances.
    constexpr int most_rounds = 40;
    double noise_mm2 = square(noise_guess_mm());
    Eigen::MatrixXd normal;
    bool converged = false;
    for (int round = 0; round < most_rounds; ++round) {
      // Slopes are dear: those of two rounds lead the rest of the way, unless it is long.
      constexpr int at_first = 2, now_and_then = 5;
      const Eigen::VectorXd computed = linearise(state, round < at_first || round % now_and_then == 0);
      const Eigen::VectorXd off = measured_ - computed;
      const Eigen::MatrixXd weight = weights_of(noise_mm2);
      const Eigen::MatrixXd weighted = weight * jacobian_;
      normal = jacobian_.transpose() * weighted;
      normal += prior_precision_;
      const Eigen::VectorXd right = weighted.transpose() * off - prior_precision_ * state;
      const Eigen::VectorXd step = normal.ldlt().solve(right);
      const Eigen::VectorXd taken = limited(step);
      state += taken;
      constexpr double most_sides = 0.9;
      state(4) = std::clamp(state(4), -most_sides - in_.prior.left_right, most_sides - in_.prior.left_right);
      take(state);
      constexpr double at_rest = 1e-3;  // A tenth of a per cent, far below any U.
      if (step.head(kParts).cwiseAbs().maxCoeff() < at_rest && round >= at_first) {
        converged = true;
        break;
      }
      // After the first round the squares themselves say how much they scatter.
      const Eigen::VectorXd left = off - jacobian_ * taken;
      noise_mm2 = std::max(square(5e-5), left.squaredNorm() / std::max(1.0, static_cast<double>(n) - kParts - 6.0));
    }
    if (!converged) throw NotMeasurable({"bendtest.strained"});
    return found(state, normal, noise_mm2);
  }

 private:
  void gather_squares(std::size_t w) {
    const HungWeight& weight = in_.weights[w];
    const Deflection& d = weight.deflection;
    const Grid& grid = d.grid;
    constexpr double square_mm = 1.5, inside_mm = 0.5, from_edge_mm = 1.5, from_tip_mm = 1.0, from_thread_mm = 1.3;
    const auto cells = std::max<Index>(2, std::lround(square_mm / grid.cell_mm));
    const Index half_columns = grid.columns / 2;
    // Squares lie on either side of the centreline, so that a reed and its mirror image are cut alike.
    for (Index r = 0; r + cells <= grid.rows; r += cells) {
      for (Index c = half_columns % cells; c + cells <= grid.columns; c += cells) {
        Square s{0.0, 0.0, 0.0, 0.0, 0.0, {}, w};
        bool complete = true;
        for (Index j = c; j < c + cells && complete; ++j) {
          for (Index i = r; i < r + cells && complete; ++i) {
            const double x = grid.x_mm(i), y = grid.y_mm(j);
            complete = std::isfinite(d.down_mm(i, j)) && in_.reed.outline.holds(x, y, inside_mm) && x > from_tip_mm &&
                       x < in_.edge_mm - from_edge_mm && std::abs(x - weight.place.at_mm) > from_thread_mm;
            s.cells.emplace_back(x, y);
            s.down_mm += static_cast<double>(d.down_mm(i, j));
          }
        }
        if (!complete) continue;
        const auto count = static_cast<double>(s.cells.size());
        s.down_mm /= count;
        for (const auto& cell : s.cells) s.x_mm += cell.x() / count, s.y_mm += cell.y() / count;
        // A slide of one scan on the other, less what laying the stock on itself made of it.
        const Eigen::Vector2d slope = slope_over(in_.reed.map, r, c, cells);
        if (!slope.allFinite()) continue;
        const Eigen::Vector3d here(1.0, s.x_mm, s.y_mm);
        s.slope_x = slope.x() - d.by_slide_along.dot(here);
        s.slope_y = slope.y() - d.by_slide_across.dot(here);
        squares_.push_back(std::move(s));
      }
    }
  }

  /// Columns: cane, doubts of the thickness, force and model, where the reed begins to bend; then for every weight
  /// sink, turn along, turn across, slide along, slide across, thread's place, the loop's share.
  void count_nuisances() {
    const auto weights = static_cast<Index>(in_.weights.size());
    first_doubt_ = kParts;
    common_ = first_doubt_ + static_cast<Index>(doubts_.size());
    constexpr Index common = 2;
    constexpr Index each = 7;
    first_weight_ = common_ + common;
    each_ = each;
    size_ = first_weight_ + each * weights;
    prior_precision_ = Eigen::MatrixXd::Zero(size_, size_);
    const Eigen::Matrix<double, 6, 6> covariance = covariance_of(in_.prior);
    Eigen::Matrix<double, kParts, kParts> cane;
    for (Index i = 0; i < kParts; ++i)
      for (Index j = 0; j < kParts; ++j) cane(i, j) = covariance(part_index(i), part_index(j));
    prior_precision_.topLeftCorner<kParts, kParts>() = cane.inverse();
    for (Index k = first_doubt_; k < common_; ++k) prior_precision_(k, k) = 1.0;
    const auto known = [&](Index k, double sd) { prior_precision_(k, k) = 1.0 / square(sd); };
    known(common_, std::hypot(in_.u_force_rel, kPlateModel_rel, in_.reed.rig.priors.scale_rel));
    known(common_ + 1, std::hypot(kStandsOver_mm, in_.u_edge_mm));
    for (Index w = 0; w < weights; ++w) {
      const HungWeight& weight = in_.weights[static_cast<std::size_t>(w)];
      const Index first = first_weight_ + w * each_;
      // Laid on the stock, and what the clamp lets go: the two add up.
      Eigen::Matrix3d laid = weight.deflection.laid;
      laid.diagonal() += Eigen::Vector3d(square(kSinkInClamp_mm) + square(in_.edge_mm * kTurnInClamp_rad),
                                         square(kTurnInClamp_rad), square(kTurnInClamp_rad));
      laid(0, 1) -= in_.edge_mm * square(kTurnInClamp_rad);
      laid(1, 0) = laid(0, 1);
      prior_precision_.block<3, 3>(first, first) = laid.inverse();
      known(first + 3, std::hypot(kSlide_mm, weight.deflection.u_along_mm));
      known(first + 4, std::hypot(kSlide_mm, weight.deflection.u_across_mm));
      known(first + 5, weight.place.u_mm);
      known(first + 6, kShareOfLoop);
    }
    measured_.resize(static_cast<Index>(squares_.size()));
    for (Index k = 0; k < measured_.size(); ++k) measured_(k) = squares_[static_cast<std::size_t>(k)].down_mm;
  }

  [[nodiscard]] double noise_guess_mm() const {
    double sum = 0.0;
    for (const HungWeight& weight : in_.weights) {
      const Field& u = weight.deflection.u_mm;
      double squares = 0.0, count = 0.0;
      for (Index k = 0; k < u.size(); ++k) {
        if (!std::isfinite(u.data()[k])) continue;
        squares += square(static_cast<double>(u.data()[k]));
        count += 1.0;
      }
      sum += squares / std::max(1.0, count);
    }
    return 0.5 * std::sqrt(sum / static_cast<double>(in_.weights.size()));
  }

  /// 3N forces of one weight at its place, moved by `along_mm`; `share` more than half of a loop pulls on the right.
  [[nodiscard]] Eigen::VectorXd force(const Plate& plate, const HungWeight& weight, double along_mm,
                                      double share) const {
    const double x = weight.place.at_mm + along_mm;
    constexpr double from_rim_mm = 0.1;
    PointLoads loads;
    loads.points_mm.resize(2, 2);
    loads.points_mm << x, x, in_.reed.outline.left.at(x) + from_rim_mm, in_.reed.outline.right.at(x) - from_rim_mm;
    loads.weights.resize(2);
    switch (weight.side) {
      case LoadSide::left:
        loads.weights << weight.force_n, 0.0;
        break;
      case LoadSide::right:
        loads.weights << 0.0, weight.force_n;
        break;
      case LoadSide::centre:
        loads.weights << (0.5 - share) * weight.force_n, (0.5 + share) * weight.force_n;
        break;
    }
    return plate.load_of(loads);
  }

  [[nodiscard]] Plate plate_of(double edge_shift_mm = 0.0) const {
    PlateModel model = reed_.model;
    if (edge_shift_mm != 0.0) model = plate_model_at(edge_shift_mm);
    model.cane = cane_;
    model.left_right = sides_;
    return Plate(std::move(model));
  }
  [[nodiscard]] PlateModel plate_model_at(double edge_shift_mm) const {
    Mouthpiece shifted = mouthpiece_;
    shifted.window_end_mm += edge_shift_mm;
    shifted.ligature_mm += edge_shift_mm;
    return reed_plate({.map = in_.reed.map,
                       .outline = in_.reed.outline,
                       .bark = in_.reed.assessment.cut.bark,
                       .mouthpiece = shifted,
                       .cane = cane_,
                       .left_right = sides_})
        .model;
  }

  /// Mean over each square of one weight as 3N coefficients.
  [[nodiscard]] Eigen::MatrixXd means(const Plate& plate, std::size_t w) const {
    std::vector<Index> own;
    for (std::size_t k = 0; k < squares_.size(); ++k)
      if (squares_[k].weight == w) own.push_back(static_cast<Index>(k));
    Eigen::MatrixXd all(3 * plate.model().mesh.nodes(), static_cast<Index>(own.size()));
    for (Index j = 0; j < all.cols(); ++j) {
      const Square& s = squares_[static_cast<std::size_t>(own[static_cast<std::size_t>(j)])];
      PointLoads mean;
      const auto count = static_cast<Index>(s.cells.size());
      mean.points_mm.resize(2, count);
      for (Index k = 0; k < count; ++k) mean.points_mm.col(k) = s.cells[static_cast<std::size_t>(k)];
      mean.weights = Eigen::VectorXd::Constant(count, 1.0 / static_cast<double>(count));
      all.col(j) = plate.load_of(mean);
    }
    return all;
  }

  /// What the plate and the nuisances make of the squares now; with slopes it fills jacobian_ anew.
  Eigen::VectorXd linearise(const Eigen::VectorXd& state, bool with_slopes) {
    const auto n = static_cast<Index>(squares_.size());
    if (with_slopes) jacobian_ = Eigen::MatrixXd::Zero(n, size_);
    Eigen::VectorXd computed(n);
    const Plate plate = plate_of();
    const std::optional<Plate> shifted = with_slopes ? std::optional<Plate>(plate_of(kEdgeStep_mm)) : std::nullopt;
    Index row = 0;
    for (std::size_t w = 0; w < in_.weights.size(); ++w) {
      const Eigen::MatrixXd mean = means(plate, w);
      const Eigen::VectorXd moved = plate.solve(force(plate, in_.weights[w], 0.0, 0.0)).col(0);
      computed.segment(row, mean.cols()) = mean.transpose() * moved;
      if (with_slopes) add_slopes(w, row, {plate, *shifted, mean, moved});
      row += mean.cols();
    }
    // Nuisances act in a straight line.
    return computed + jacobian_.rightCols(size_ - kParts) * state.tail(size_ - kParts);
  }

  struct Bent {
    const Plate& plate;
    const Plate& shifted;          ///< Of a reed that stands over a little more.
    const Eigen::MatrixXd& mean;   ///< See means().
    const Eigen::VectorXd& moved;  ///< 3N, by the weight.
  };

  /// The rows of one weight from `row` on.
  void add_slopes(std::size_t w, Index row, const Bent& bent) {
    const HungWeight& weight = in_.weights[w];
    const Index first = first_weight_ + static_cast<Index>(w) * each_, count = bent.mean.cols();
    constexpr double step_mm = 0.05, step_share = 0.05;
    Eigen::MatrixXd forces(bent.moved.size(), 2);
    forces.col(0) =
        (force(bent.plate, weight, step_mm, 0.0) - force(bent.plate, weight, -step_mm, 0.0)) / (2.0 * step_mm);
    forces.col(1) =
        (force(bent.plate, weight, 0.0, step_share) - force(bent.plate, weight, 0.0, -step_share)) / (2.0 * step_share);
    const Eigen::MatrixXd by_force = bent.mean.transpose() * bent.plate.solve(forces);
    const Eigen::MatrixXd adjoint = bent.plate.solve(bent.mean);
    const Eigen::VectorXd down = bent.mean.transpose() * bent.moved;
    const Eigen::VectorXd of_shifted =
        means(bent.shifted, w).transpose() * bent.shifted.solve(force(bent.shifted, weight, 0.0, 0.0)).col(0);
    const std::vector<PlateDerivative> derivatives =
        bent.plate.work_derivatives(adjoint, bent.moved.replicate(1, count));
    for (Index j = 0; j < count; ++j) {
      const Square& s = squares_[static_cast<std::size_t>(row + j)];
      const PlateDerivative& by = derivatives[static_cast<std::size_t>(j)];
      auto slopes = jacobian_.row(row + j);
      for (Index k = 0; k < kParts; ++k) slopes(k) = by.by_cane(part_index(k));
      for (std::size_t k = 0; k < doubt_at_points_.size(); ++k)
        slopes(first_doubt_ + static_cast<Index>(k)) = by.by_thickness.dot(doubt_at_points_[k]);
      slopes(common_) = down(j);
      slopes(common_ + 1) = (of_shifted(j) - down(j)) / kEdgeStep_mm;
      slopes.segment(first, each_) << 1.0, s.x_mm, s.y_mm, s.slope_x, s.slope_y, by_force(j, 0), by_force(j, 1);
    }
  }

  /// Inverse covariance of the squares' noise: their scatter, and the scanner's slow error where it did not stand
  /// still.
  [[nodiscard]] Eigen::MatrixXd weights_of(double noise_mm2) const {
    const auto n = static_cast<Index>(squares_.size());
    Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(n, n);
    const LocalNoise& noise = in_.reed.map.noise;
    const double length = std::max(1.0, noise.smooth_length_mm);
    for (Index i = 0; i < n; ++i) {
      const Square& a = squares_[static_cast<std::size_t>(i)];
      const bool still = in_.weights[a.weight].deflection.same_place;
      // Two scans, each with its own; where both were seen from one place, what is left of it.
      constexpr double left = 0.25;
      const double slow_mm2 = 2.0 * square(noise.smooth_mm) * (still ? square(left) : 1.0);
      covariance(i, i) = noise_mm2;
      for (Index j = 0; j < n; ++j) {
        const Square& b = squares_[static_cast<std::size_t>(j)];
        if (a.weight != b.weight) continue;
        covariance(i, j) += slow_mm2 * std::exp(-std::hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm) / length);
      }
    }
    return covariance.llt().solve(Eigen::MatrixXd::Identity(n, n));
  }

  /// A modulus more than halved or doubled in one step leaves the straight line.
  [[nodiscard]] Eigen::VectorXd limited(Eigen::VectorXd step) const {
    constexpr double most = 0.5;
    const double largest = step.head(kParts).cwiseAbs().maxCoeff();
    if (largest > most) step *= most / largest;
    return step;
  }

  void take(const Eigen::VectorXd& state) {
    cane_ = in_.prior.cane;
    cane_.e_l_mpa *= std::exp(state(0));
    cane_.e_t_mpa *= std::exp(state(1));
    cane_.g_lt_mpa *= std::exp(state(2));
    cane_.gradient_per_mm += state(3);
    sides_ = in_.prior.left_right + state(4);
  }

  /// Squares beside each other share more than noise where the model or the slow error leaves something: by so much
  /// are there fewer of them.
  [[nodiscard]] double alike_neighbours(const Eigen::VectorXd& left) const {
    double products = 0.0, squares = 0.0, pairs = 0.0;
    constexpr double near_mm = 1.6;
    for (std::size_t i = 0; i < squares_.size(); ++i) {
      squares += square(left(static_cast<Index>(i)));
      for (std::size_t j = i + 1; j < squares_.size(); ++j) {
        if (squares_[i].weight != squares_[j].weight ||
            std::hypot(squares_[i].x_mm - squares_[j].x_mm, squares_[i].y_mm - squares_[j].y_mm) > near_mm)
          continue;
        products += left(static_cast<Index>(i)) * left(static_cast<Index>(j));
        pairs += 1.0;
      }
    }
    if (pairs == 0.0 || squares == 0.0) return 1.0;
    constexpr double most = 0.8;
    const double alike = std::clamp(products / pairs / (squares / static_cast<double>(squares_.size())), 0.0, most);
    return square((1.0 + alike) / (1.0 - alike));
  }

  [[nodiscard]] IdentifiedCane found(const Eigen::VectorXd& state, const Eigen::MatrixXd& normal, double noise_mm2) {
    IdentifiedCane out;
    out.cane = cane_;
    out.left_right = sides_;
    const Eigen::VectorXd left = measured_ - linearise(state, true);
    // As they scatter beside the slow error that is counted already.
    const Eigen::MatrixXd root = weights_of(noise_mm2).llt().matrixU();
    const double fewer = alike_neighbours(root * left);
    // What the squares tell, with as many of them as are independent; priors as they were.
    const Eigen::MatrixXd from_data = (normal - prior_precision_) / fewer;
    const Eigen::MatrixXd covariance =
        (from_data + prior_precision_).ldlt().solve(Eigen::MatrixXd::Identity(size_, size_));
    out.covariance = covariance_of(in_.prior);
    for (Index i = 0; i < kParts; ++i)
      for (Index j = 0; j < kParts; ++j) out.covariance(part_index(i), part_index(j)) = covariance(i, j);
    // The covariance in files is symmetric to the last digit.
    out.covariance = (0.5 * (out.covariance + out.covariance.transpose())).eval();
    const Eigen::VectorXd nuisances = state.tail(size_ - kParts);
    out.strained = nuisances.dot(prior_precision_.bottomRightCorner(size_ - kParts, size_ - kParts) * nuisances);
    out.nuisances = static_cast<int>(nuisances.size());
    // The farthest that any of them, or of the cane's parts beside the modulus, is from what was taken of it.
    const Eigen::MatrixXd prior_root = prior_precision_.llt().matrixU();
    out.farthest = (prior_root * state).tail(size_ - 1).cwiseAbs().maxCoeff();
    const Plate plate = plate_of();
    for (std::size_t w = 0; w < in_.weights.size(); ++w) {
      out.computed.push_back(computed_of(plate, w, left, state, covariance));
      out.turned_in_clamp_rad =
          std::max(out.turned_in_clamp_rad, std::abs(state(first_weight_ + static_cast<Index>(w) * each_ + 1)));
    }
    return out;
  }

  /// Where the weight pulls; a loop's two sides stand for their middle.
  [[nodiscard]] double place_across(const HungWeight& weight) const {
    constexpr double from_rim_mm = 1.0;
    const double x = weight.place.at_mm;
    return weight.side == LoadSide::left    ? in_.reed.outline.left.at(x) + from_rim_mm
           : weight.side == LoadSide::right ? in_.reed.outline.right.at(x) - from_rim_mm
                                            : 0.0;
  }

  [[nodiscard]] ComputedDeflection computed_of(const Plate& plate, std::size_t w, const Eigen::VectorXd& left,
                                               const Eigen::VectorXd& state, const Eigen::MatrixXd& covariance) const {
    ComputedDeflection computed;
    const HungWeight& weight = in_.weights[w];
    const Eigen::VectorXd moved = plate.solve(force(plate, weight, 0.0, 0.0)).col(0);
    const Index first = first_weight_ + static_cast<Index>(w) * each_;
    // With everything that was found beside the cane: what is left is unexplained.
    PlateModel as_found = plate.model();
    for (std::size_t k = 0; k < doubt_at_points_.size(); ++k)
      as_found.thickness_mm += state(first_doubt_ + static_cast<Index>(k)) * doubt_at_points_[k];
    as_found.thickness_mm = as_found.thickness_mm.cwiseMax(kThinnestPlate_mm);
    const Plate found(std::move(as_found)), shifted = plate_of(kEdgeStep_mm);
    const Eigen::VectorXd bent =
        (1.0 + state(common_)) * found.solve(force(found, weight, state(first + 5), state(first + 6))).col(0);
    const Eigen::VectorXd of_shifted = shifted.solve(force(shifted, weight, 0.0, 0.0)).col(0);
    const Grid& grid = in_.reed.map.grid;
    Eigen::Matrix2Xd points(2, grid.rows * grid.columns);
    for (Index c = 0; c < grid.columns; ++c)
      for (Index r = 0; r < grid.rows; ++r) points.col(c * grid.rows + r) << grid.x_mm(r), grid.y_mm(c);
    const Eigen::VectorXd by_edge =
        (shifted.deflection_at(points, of_shifted) - plate.deflection_at(points, moved)) / kEdgeStep_mm;
    Eigen::VectorXd down = found.deflection_at(points, bent) + state(common_ + 1) * by_edge;
    down += (state(first) + state(first + 1) * points.row(0).array() + state(first + 2) * points.row(1).array())
                .matrix()
                .transpose();
    computed.down_mm = Eigen::Map<const Eigen::ArrayXXd>(down.data(), grid.rows, grid.columns).cast<float>();
    for (Index k = 0; k < computed.down_mm.size(); ++k)
      if (std::isfinite(computed.down_mm.data()[k]))
        computed.largest_mm = std::max(computed.largest_mm, static_cast<double>(computed.down_mm.data()[k]));
    double squares = 0.0, count = 0.0;
    for (std::size_t k = 0; k < squares_.size(); ++k) {
      if (squares_[k].weight != w) continue;
      squares += square(left(static_cast<Index>(k)));
      count += 1.0;
    }
    computed.rms_left_mm = std::sqrt(squares / std::max(1.0, count));
    computed.noise_mm = noise_guess_mm();
    Eigen::Matrix2Xd at(2, 1);
    at << weight.place.at_mm, place_across(weight);
    computed.at_thread_mm = plate.deflection_at(at, moved)(0);
    // How far the reed itself goes down there follows cane, thickness, force and where it begins to bend.
    const Eigen::VectorXd thread = plate.load_of({at, Eigen::VectorXd::Ones(1)});
    const PlateDerivative by = plate.work_derivatives(plate.solve(thread), moved).front();
    Eigen::VectorXd row = Eigen::VectorXd::Zero(size_);
    for (Index k = 0; k < kParts; ++k) row(k) = by.by_cane(part_index(k));
    for (std::size_t k = 0; k < doubt_at_points_.size(); ++k)
      row(first_doubt_ + static_cast<Index>(k)) = by.by_thickness.dot(doubt_at_points_[k]);
    row(common_) = computed.at_thread_mm;
    row(common_ + 1) = (shifted.deflection_at(at, of_shifted)(0) - computed.at_thread_mm) / kEdgeStep_mm;
    computed.u_at_thread_mm = std::sqrt(std::max(0.0, row.dot(covariance * row)));
    const Index beside_cane = first_weight_ - first_doubt_;
    computed.at_thread_mm += row.segment(first_doubt_, beside_cane).dot(state.segment(first_doubt_, beside_cane));
    return computed;
  }

  static constexpr double kEdgeStep_mm = 0.25;
  const IdentifyInputs& in_;
  Mouthpiece mouthpiece_;
  std::vector<Square> squares_;
  std::vector<Field> doubts_;
  std::vector<Eigen::VectorXd> doubt_at_points_;
  ReedPlate reed_;
  Cane cane_;
  double sides_ = 0.0;
  Index first_doubt_ = 0, common_ = 0, first_weight_ = 0, each_ = 0, size_ = 0;
  Eigen::MatrixXd prior_precision_, jacobian_;
  Eigen::VectorXd measured_;
};

}  // namespace

IdentifiedCane identify_cane(const IdentifyInputs& inputs) { return Identifier(inputs).run(); }

}  // namespace canewise
