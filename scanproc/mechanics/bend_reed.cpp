#include "scanproc/mechanics/bend_reed.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <optional>
#include <utility>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

/// `per_mm` by cells, as the effect of 10 um off a square millimetre.
Field per_ten_micrometres(const ThicknessMap& map, const Field& per_mm) {
  constexpr double removed_mm = 0.010;
  const double cells_per_mm2 = 1.0 / square(map.grid.cell_mm);
  Field field = per_mm * static_cast<float>(-removed_mm * cells_per_mm2);
  for (Eigen::Index c = 0; c < field.cols(); ++c) {
    for (Eigen::Index r = 0; r < field.rows(); ++r)
      if (!map.measured(r, c)) field(r, c) = std::numeric_limits<float>::quiet_NaN();
  }
  return field;
}

double cane_uncertainty(const Eigen::Matrix<double, 6, 1>& by_cane, const CaneState& cane) {
  return std::sqrt(by_cane.dot(covariance_of(cane) * by_cane));
}

class Bender {
 public:
  Bender(const BendInputs& inputs, const CaneState& cane, const BendingFigures& figures, Mechanics& mechanics)
      : map_(inputs.map),
        outline_(inputs.outline),
        lip_(lip_of(inputs.player, inputs.instrument)),
        cane_(cane),
        figures_(figures),
        on_facing_(figures.plate(), figures.places()),
        out_(mechanics) {
    const double widest = std::max(outline_.half_width_mm(0.0), outline_.half_width_mm(30.0));
    shape_side_ = static_cast<Eigen::Index>(std::ceil(widest / out_.shape_step_mm));
    out_.shape_first_y_mm = (0.5 - static_cast<double>(shape_side_)) * out_.shape_step_mm;
  }

  [[nodiscard]] const ReedOnFacing& on_facing() const { return on_facing_; }

  void static_figures() {
    even_ = figures_.on(figures_.even_mouthpiece(), figures_.plate(), on_facing_, true);
    for (const BendingFigure figure : kBendingFigures) {
      const auto k = index_of(figure);
      const PlateDerivative& derivative = even_.derivative.at(k);
      const Field by_cells = figures_.reed().by_cells(derivative.by_thickness);
      out_.figures.at(k) = {even_.value.at(k), scan_uncertainty(map_, by_cells),
                            cane_uncertainty(derivative.by_cane, cane_)};
      out_.sensitivity.at(k) = per_ten_micrometres(map_, by_cells);
      // What the shape says, unless the cane was bent: else its own difference is the rolling test's to find.
      const SpreadValue& found = out_.figures.at(k);
      const double u = cane_.measured ? std::hypot(found.u_scan, found.u_cane) : found.u_scan;
      out_.verdicts.at(k) =
          is_imbalance(figure) ? judge_sides(found.value, u, out_.imbalance_tolerance) : Verdict::cannot_tell;
    }
  }

  /// Touches nothing that the others write, so that it may run beside them.
  [[nodiscard]] std::vector<ReedMode> modes(int count) const {
    std::vector<ReedMode> found;
    const Plate& plate = figures_.plate();
    const Modes modes = plate.modes(count);
    const std::vector<PlateDerivative> derivatives = plate.frequency_derivatives(modes);
    for (int k = 0; k < count; ++k) {
      const PlateDerivative& derivative = derivatives[static_cast<std::size_t>(k)];
      ReedMode mode;
      mode.frequency_hz = {modes.frequency_hz(k),
                           scan_uncertainty(map_, figures_.reed().by_cells(derivative.by_thickness)),
                           cane_uncertainty(derivative.by_cane, cane_)};
      mode.shape = on_grid(modes.shapes.col(k));
      const double largest = mode.shape.isNaN().select(0.0, mode.shape).abs().maxCoeff();
      mode.kind = kind_of(mode.shape);
      mode.shape /= largest;
      found.push_back(std::move(mode));
    }
    return found;
  }

  /// What a small further force does to the reed as the lip has half closed it.
  void along(const HalfClosed& closed) {
    const double half = outline_.half_width_mm(lip_.tip_patch_at_mm), aside = kTipPatchAside * half;
    std::vector<double> stations;
    const double last = mouthpiece_end() - 4.0;
    for (double x = 2.5; x < last; x += 2.5) stations.push_back(x);
    Eigen::MatrixXd loads(3 * figures_.reed().model.mesh.nodes(), static_cast<Eigen::Index>(3 * stations.size()));
    for (std::size_t s = 0; s < stations.size(); ++s) {
      for (int side = -1; side <= 1; ++side) {
        loads.col(static_cast<Eigen::Index>(3 * s) + side + 1) =
            figures_.patch(stations[s], side * aside, kTipPatch_mm, kTipPatch_mm);
      }
    }
    const Eigen::MatrixXd moved = on_facing_.further(closed.pressed, figures_.plate().solve(loads));
    for (std::size_t s = 0; s < stations.size(); ++s) {
      const auto k = static_cast<Eigen::Index>(3 * s);
      const auto compliance = [&](Eigen::Index i) { return loads.col(k + i).dot(moved.col(k + i)); };
      out_.along.push_back({stations[s], compliance(0), compliance(1), compliance(2)});
    }
  }

  void bent(const HalfClosed& closed) { out_.bent_mm = on_grid(closed.moved_mm); }

  void on_the_mouthpiece(const Mouthpiece& mouthpiece) {
    const HalfClosed closed = figures_.closed_by_lip(mouthpiece, figures_.plate(), on_facing_);
    along(closed);
    bent(closed);
    out_.lying = lie_on_rails({figures_, on_facing_, mouthpiece, even_, closed});
  }

 private:
  double mouthpiece_end() const { return figures_.reed().model.mesh.nodes_mm.row(0).maxCoeff(); }

  [[nodiscard]] Eigen::ArrayXXd on_grid(const Eigen::VectorXd& solution) const {
    const double step = out_.shape_step_mm;
    const auto rows = static_cast<Eigen::Index>(mouthpiece_end() / step);
    Eigen::Matrix2Xd points(2, rows * 2 * shape_side_);
    for (Eigen::Index c = 0; c < 2 * shape_side_; ++c) {
      for (Eigen::Index r = 0; r < rows; ++r) {
        points.col(c * rows + r) << (static_cast<double>(r) + 0.5) * step,
            out_.shape_first_y_mm + static_cast<double>(c) * step;
      }
    }
    const Eigen::VectorXd deflection = figures_.plate().deflection_at(points, solution);
    return Eigen::Map<const Eigen::ArrayXXd>(deflection.data(), rows, 2 * shape_side_);
  }

  /// Mirror the shape: what stays alike bends, what turns its sign twists.
  static std::string kind_of(const Eigen::ArrayXXd& shape) {
    double even = 0.0, odd = 0.0;
    for (Eigen::Index c = 0; c < shape.cols(); ++c) {
      for (Eigen::Index r = 0; r < shape.rows(); ++r) {
        const double a = shape(r, c), b = shape(r, shape.cols() - 1 - c);
        if (std::isnan(a) || std::isnan(b)) continue;
        even += square(a + b);
        odd += square(a - b);
      }
    }
    return even >= odd ? "bending" : "twisting";
  }

  const ThicknessMap& map_;
  const Outline& outline_;
  Lip lip_;
  const CaneState& cane_;
  const BendingFigures& figures_;
  ReedOnFacing on_facing_;
  BendingValues even_;  ///< On even rails.
  Mechanics& out_;
  Eigen::Index shape_side_ = 0;  ///< Columns of a shape on either side.
};

/// `own_cane`: it was bent with its own.
Message sentence_of(const Mechanics& m, bool own_cane) {
  const SpreadValue& tip = m.figure(BendingFigure::imbalance_tip);
  const SpreadValue& lip = m.figure(BendingFigure::imbalance_lip);
  const auto signed_percent = [](double share) -> Argument { return Number{100.0 * share, 1, true}; };
  const Argument tolerated = number(100.0 * m.imbalance_tolerance);
  const auto verdict = [&](BendingFigure f) { return m.verdicts.at(index_of(f)); };
  if (verdict(BendingFigure::imbalance_tip) == Verdict::outside ||
      verdict(BendingFigure::imbalance_lip) == Verdict::outside) {
    const bool at_tip = std::abs(tip.value) >= std::abs(lip.value);
    const double worse = at_tip ? tip.value : lip.value;
    return {own_cane ? MessageId("bending.own_uneven") : MessageId("bending.uneven"),
            {{"side", word(worse > 0.0 ? "right" : "left")},
             {"percent", number(std::abs(100.0 * worse))},
             {"at", word(at_tip ? "tip" : "lip")}}};
  }
  if (verdict(BendingFigure::imbalance_tip) == Verdict::within &&
      verdict(BendingFigure::imbalance_lip) == Verdict::within) {
    return {own_cane ? MessageId("bending.own_even") : MessageId("bending.even"),
            {{"tip", signed_percent(tip.value)}, {"lip", signed_percent(lip.value)}, {"tolerated", tolerated}}};
  }
  return {"bending.too_close",
          {{"tip", signed_percent(tip.value)},
           {"u", number(100.0 * kCoverage95 * (own_cane ? std::hypot(tip.u_scan, tip.u_cane) : tip.u_scan), 1)},
           {"tolerated", tolerated}}};
}

/// What the bend test found, in short.
Message found_of_cane(const MeasuredCane& cane) {
  const BestKnownModulus best = best_known_modulus(cane);
  const double ratio = best.e_l_mpa / modulus_at(cane_in(cane.state).cane, best.depth_mm) - 1.0;
  constexpr auto sides = static_cast<Eigen::Index>(CanePart::left_right);
  const double u_sides = kCoverage95 * std::sqrt(cane.covariance(sides, sides));
  constexpr double like_usual = 0.1;
  return {"bending.found_of_cane",
          {{"than", word(std::abs(ratio) < like_usual ? "like"
                         : ratio > 0.0                ? "stiffer"
                                                      : "softer")},
           {"percent", number(100.0 * std::abs(ratio))},
           {"side", word(std::abs(cane.left_right) < u_sides ? "none"
                         : cane.left_right > 0.0             ? "right"
                                                             : "left")},
           {"sides", number(100.0 * std::abs(cane.left_right), 1)},
           {"u", number(100.0 * u_sides, 1)}}};
}

/// Why this reed cannot be bent on this mouthpiece; empty if it can.
Message what_does_not_fit(const Outline& outline, const Mouthpiece& mouthpiece, const Lip& lip) {
  if (mouthpiece.ligature_mm > outline.length_mm)
    return {"bending.too_short", {{"length", mm(outline.length_mm)}, {"ligature", mm(mouthpiece.ligature_mm)}}};
  const double last_patch_mm = std::max(lip.at_mm + 0.5 * lip.length_mm, lip.tip_patch_at_mm + 0.5 * kTipPatch_mm);
  if (last_patch_mm > mouthpiece.window_end_mm) {
    return {"bending.past_window", {{"reach", mm(last_patch_mm, 1)}, {"window_end", mm(mouthpiece.window_end_mm, 1)}}};
  }
  return {};
}

/// On the scale that `bent` has by now. Known reeds that were scanned in another state are told.
Strength strength_of(const BentReed& bent, bool by_shape_alone, const Player& player, MoistureState state) {
  const SpreadValue& lip = bent.mechanics.figure(BendingFigure::stiffness_lip);
  Strength strength = place_on_scale(bent.scale, lip.value, lip.u_scan / lip.value, player);
  if (bent.sides.measured && !strength.known) {
    strength.sentence = {Message{
        "strength.own_cane",
        {{"stiffness", number(lip.value, 1)}, {"u", number(kCoverage95 * std::hypot(lip.u_scan, lip.u_cane), 1)}}}};
  }
  if (bent.sides.measured && strength.known && !by_shape_alone) strength.sentence.front().id = "strength.about_own";
  if (by_shape_alone) strength.sentence.push_back({"strength.reference_not_bent"});
  const std::size_t known = player.known_in(state).size();
  if (known < player.known.size()) {
    strength.sentence.push_back({"strength.not_counted",
                                 {{"reeds", count(player.known.size() - known)},
                                  {"this_one", word(state == MoistureState::wet ? "wet" : "dry")}}});
  }
  return strength;
}

CaneState cane_of(const BendInputs& inputs) {
  return inputs.measured_cane != nullptr ? cane_in(*inputs.measured_cane) : cane_in(inputs.state);
}

ReedPlateInputs plate_inputs(const BendInputs& inputs, const Mouthpiece& mouthpiece, const CaneState& cane) {
  return {.map = inputs.map,
          .outline = inputs.outline,
          .bark = inputs.assessment.cut.bark,
          .mouthpiece = mouthpiece,
          .cane = cane.cane,
          .left_right = cane.left_right};
}

struct MadeFigures {
  Message why_not;
  std::optional<BendingFigures> figures;
};

MadeFigures figures_of(const ReedPlateInputs& plate, const Lip& lip, double spacing_mm) {
  MadeFigures made{what_does_not_fit(plate.outline, plate.mouthpiece, lip), {}};
  if (!made.why_not.empty()) return made;
  try {
    made.figures.emplace(reed_plate(plate, {spacing_mm, 0.0}), plate.outline, Embouchure{plate.mouthpiece, lip});
  } catch (const NotMeasurable& error) {
    made.why_not = error.message();
  }
  return made;
}

/// Only like is compared with like: cane that was bent with cane that was bent, else shapes alone; true for these. Of
/// reeds that nobody bent the scale counts what they would have with this reed's cane, so that the plan, which reads
/// it beside this reed's own stiffness, compares shapes too.
bool set_scale(BentReed& bent, const BendInputs& inputs, const CaneState& cane) {
  const SpreadValue& lip = bent.mechanics.figure(BendingFigure::stiffness_lip);
  std::vector<KnownReed> known = inputs.player.known_in(inputs.state);
  double between_reeds_rel = cane.spread.between_reeds_rel;
  bool by_shape_alone = false;
  if (cane.measured && !known.empty()) {
    std::vector<KnownReed> bent_too;
    std::copy_if(known.begin(), known.end(), std::back_inserter(bent_too),
                 [](const KnownReed& reed) { return reed.cane_is_measured; });
    by_shape_alone = bent_too.empty();
    if (by_shape_alone) {
      BendInputs assumed = inputs;
      assumed.measured_cane = nullptr;
      const double own_over_assumed = lip.value / stiffness_under_lip(assumed).value_or(lip.value);
      for (KnownReed& reed : known) reed.stiffness_n_per_mm *= own_over_assumed;
    } else {
      known = std::move(bent_too);
      // What is not known of this one's cane; of theirs as much again. No two reeds are alike to less.
      constexpr double least_rel = 0.01;
      between_reeds_rel = std::max(least_rel, std::numbers::sqrt2 * lip.u_cane / lip.value);
    }
  }
  bent.scale = strength_scale(known, between_reeds_rel);
  return by_shape_alone;
}

}  // namespace

void validate(const BendOptions& options) {
  if (!(options.spacing_mm >= 0.2 && options.spacing_mm <= 3.0)) throw UsageError({"bending.spacing"});
  if (options.modes < 1 || options.modes > 20) throw UsageError({"bending.modes"});
}

double scan_uncertainty(const ThicknessMap& map, const Field& by_cells) {
  std::vector<double> parts;
  double squares = 0.0;
  for (Eigen::Index i = 0; i < by_cells.size(); ++i) squares += square(static_cast<double>(by_cells.data()[i]));
  parts.push_back(
      std::sqrt(squares * map.noise.covariance_sum_mm2 / (map.noise.bins_per_cell * map.noise.filled_share)));
  for (const CommonEffect& effect : map.common) {
    double shift = 0.0;
    for (Eigen::Index i = 0; i < by_cells.size(); ++i) {
      const double by = static_cast<double>(by_cells.data()[i]), moved = static_cast<double>(effect.shift_mm.data()[i]);
      if (by != 0.0 && !std::isnan(moved)) shift += by * moved;
    }
    parts.push_back(shift);
  }
  return root_sum_of_squares(parts);
}

BentReed bend_reed(const BendInputs& inputs, const BendOptions& options) {
  validate(options);
  const Player& player = inputs.player;
  BentReed bent;
  Mechanics& out = bent.mechanics;
  const CaneState cane = cane_of(inputs);
  const Embouchure embouchure = embouchure_of(player, inputs.instrument);
  out.cane = cane.source;
  out.tip_patch_at_mm = embouchure.lip.tip_patch_at_mm;
  out.lip_at_mm = embouchure.lip.at_mm;
  out.lip_length_mm = embouchure.lip.length_mm;
  out.imbalance_tolerance = find_instrument(inputs.instrument)->tolerances.imbalance;
  const ReedPlateInputs plate = plate_inputs(inputs, embouchure.mouthpiece, cane);
  MadeFigures made = figures_of(plate, embouchure.lip, options.spacing_mm);
  out.why_not = std::move(made.why_not);
  if (!out.known()) return bent;
  bent.figures = std::move(made.figures);
  Bender bender(inputs, cane, *bent.figures, out);
  std::vector<ReedMode> modes;
  run_together({[&] { modes = bender.modes(options.modes); },
                [&] {
                  bender.static_figures();
                  bender.on_the_mouthpiece(embouchure.mouthpiece);
                  const SpreadValue& stiffness = out.figure(BendingFigure::stiffness_lip);
                  const double u_rel = std::hypot(stiffness.u_cane, stiffness.u_scan) / stiffness.value;
                  out.closing = close_reed({.figures = *bent.figures,
                                            .reed = bender.on_facing(),
                                            .outline = inputs.outline,
                                            .embouchure = embouchure},
                                           u_rel);
                },
                [&] {
                  if (!options.clip) return;
                  try {
                    bent.clipped = clipped_reeds(plate, embouchure.lip);
                  } catch (const NotMeasurable&) {
                    bent.clipped.clear();  // A reed that bends need not bend when it is half a millimetre shorter.
                  }
                }});
  out.modes = std::move(modes);
  if (cane.measured) {
    constexpr auto sides = static_cast<Eigen::Index>(CanePart::left_right);
    bent.sides = {cane.left_right, std::sqrt((*cane.measured)(sides, sides)), true};
  }
  const bool by_shape_alone = set_scale(bent, inputs, cane);
  out.strength = strength_of(bent, by_shape_alone, player, inputs.state);
  out.sentence = {sentence_of(out, cane.measured.has_value())};
  if (inputs.measured_cane != nullptr) out.sentence.push_back(found_of_cane(*inputs.measured_cane));
  return bent;
}

std::optional<double> stiffness_under_lip(const BendInputs& inputs) {
  const CaneState cane = cane_of(inputs);
  const Embouchure embouchure = embouchure_of(inputs.player, inputs.instrument);
  const MadeFigures made =
      figures_of(plate_inputs(inputs, embouchure.mouthpiece, cane), embouchure.lip, BendOptions{}.spacing_mm);
  if (!made.figures) return std::nullopt;
  return made.figures->stiffness_lip(made.figures->plate());
}

std::vector<ClippedReed> clipped_reeds(const ReedPlateInputs& reed, const Lip& lip) {
  const ThicknessMap& map = reed.map;
  const Outline& outline = reed.outline;
  // Coarser triangles: only the ratio to the unclipped reed on the same kind of mesh counts.
  constexpr double spacing_mm = 0.9;
  const auto stiffness = [&](double clip) {
    const BendingFigures figures(reed_plate(reed, {spacing_mm, clip}), outline, {reed.mouthpiece, lip});
    return figures.stiffness_lip(figures.plate());
  };
  const auto tip_mm = [&](double clip) {
    double sum = 0.0, count = 0.0;
    for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
      if (std::abs(map.grid.y_mm(c)) > 0.35 * outline.half_width_mm(clip)) continue;
      for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
        if (!map.measured(r, c)) continue;
        const double behind = map.grid.x_mm(r) - clip, half_cell = 0.5 * map.grid.cell_mm;
        const double share = std::max(0.0, std::min(1.5, behind + half_cell) - std::max(0.5, behind - half_cell));
        sum += share * static_cast<double>(map.thickness_mm(r, c));
        count += share;
      }
    }
    return sum / count;
  };
  // Over half a millimetre the stiffness bends so little that a parabola through three clips follows it to a tenth of a
  // per cent; each clip has its own mesh, and those cost time.
  constexpr double most_mm = 0.5;
  const double unclipped = stiffness(0.0), half = stiffness(0.5 * most_mm) / unclipped,
               whole = stiffness(most_mm) / unclipped;
  std::vector<ClippedReed> reeds;
  for (const double clip : {0.1, 0.2, 0.3, 0.4, 0.5}) {
    const double t = clip / most_mm;
    const double ratio = 1.0 + t * (4.0 * half - whole - 3.0) + 2.0 * t * t * (whole - 2.0 * half + 1.0);
    reeds.push_back({clip, ratio * unclipped, ratio, tip_mm(clip)});
  }
  return reeds;
}

}  // namespace canewise
