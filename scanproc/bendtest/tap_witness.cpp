#include "scanproc/bendtest/tap_witness.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "scanproc/bendtest/thickness_doubts.h"
#include "scanproc/core/statistics.h"
#include "scanproc/mechanics/reed_plate.h"

namespace canewise {
namespace {

using Index = Eigen::Index;

struct ComputedMode {
  bool twists = false;
  double frequency_hz = 0.0;
  Eigen::Matrix<double, 6, 1> by_cane;  ///< Of ln frequency.
  double u_rel = 0.0;                   ///< By thickness, clamp and model: all but the cane.
};

struct OfShape {
  bool twists = false;
  double air_share = 0.0;  ///< Mass of the air that swings along over the reed's own, each where it moves.
};

/// By the deflection on a lattice, split into what is alike on both sides and what is not.
OfShape look_at(const Plate& plate, const ClampedReed& clamped, const Eigen::VectorXd& shape) {
  const Outline& outline = clamped.reed.outline;
  const Grid& grid = clamped.reed.map.grid;
  constexpr double air_kg_per_m3 = 1.2;
  double even = 0.0, odd = 0.0, air = 0.0, own = 0.0;
  Eigen::Matrix2Xd points(2, grid.rows * grid.columns);
  for (Index c = 0; c < grid.columns; ++c)
    for (Index r = 0; r < grid.rows; ++r) points.col(c * grid.rows + r) << grid.x_mm(r), grid.y_mm(c);
  const Eigen::VectorXd down = plate.deflection_at(points, shape);
  for (Index c = 0; c < grid.columns; ++c) {
    for (Index r = 0; r < grid.rows; ++r) {
      const double here = down(c * grid.rows + r), there = down(grid.mirrored(c) * grid.rows + r);
      const auto thickness = static_cast<double>(clamped.reed.map.thickness_mm(r, c));
      if (!std::isfinite(here) || !std::isfinite(there) || !std::isfinite(thickness)) continue;
      const double alike = 0.5 * (here + there), unlike = 0.5 * (here - there);
      even += square(alike), odd += square(unlike);
      own += clamped.cane.cane.density_kg_per_m3 * thickness * square(here);
      // Per area: pi a / 2 of air where the strip moves evenly, 3 pi a / 16 where it turns.
      const double half = outline.half_width_mm(grid.x_mm(r));
      air += air_kg_per_m3 * std::numbers::pi * half * (0.5 * square(alike) + 3.0 / 16.0 * square(unlike));
    }
  }
  return {odd > even, own > 0.0 ? air / own : 0.0};
}

std::vector<ComputedMode> computed_modes(const ClampedReed& clamped) {
  Mouthpiece bench;
  bench.window_end_mm = clamped.edge_mm;
  bench.ligature_mm = std::max(clamped.edge_mm, clamped.clamp_mm);
  const auto plate_at = [&](double shift_mm) {
    Mouthpiece shifted = bench;
    shifted.window_end_mm += shift_mm, shifted.ligature_mm += shift_mm;
    return reed_plate({.map = clamped.reed.map,
                       .outline = clamped.reed.outline,
                       .bark = clamped.reed.assessment.cut.bark,
                       .mouthpiece = shifted,
                       .cane = clamped.cane.cane,
                       .left_right = clamped.cane.left_right});
  };
  const ReedPlate reed = plate_at(0.0);
  const Plate plate(reed.model);
  constexpr int count = 4;
  const Modes modes = plate.modes(count);
  constexpr double step_mm = 0.3;
  const Modes shorter = Plate(plate_at(step_mm).model).modes(count);
  const std::vector<PlateDerivative> derivatives = plate.frequency_derivatives(modes);
  const std::vector<Field> doubts = thickness_doubts(clamped.reed, 0.05, 0.05);
  std::vector<ComputedMode> computed;
  for (int k = 0; k < count; ++k) {
    const PlateDerivative& by = derivatives[static_cast<std::size_t>(k)];
    const OfShape shape = look_at(plate, clamped, modes.shapes.col(k));
    ComputedMode mode;
    mode.twists = shape.twists;
    mode.frequency_hz = modes.frequency_hz(k) / std::sqrt(1.0 + shape.air_share);
    mode.by_cane = by.by_cane / modes.frequency_hz(k);
    mode.by_cane(static_cast<Index>(CanePart::density)) /= 1.0 + shape.air_share;  // The air stays as heavy.
    double variance = square(0.01) + square(0.5 * shape.air_share * 0.2);  // Thin plate; the air's share to a fifth.
    variance += square(std::log(shorter.frequency_hz(k) / modes.frequency_hz(k)));  // The edge to that step.
    for (const Field& doubt : doubts) {
      const Eigen::VectorXd cells =
          Eigen::Map<const Eigen::ArrayXf>(doubt.data(), doubt.size()).matrix().cast<double>();
      variance += square(by.by_thickness.dot(reed.from_cells * cells) / modes.frequency_hz(k));
    }
    mode.u_rel = std::sqrt(variance);
    computed.push_back(mode);
  }
  return computed;
}

}  // namespace

TapWitness tap_witness(const HeardTaps& heard, const ClampedReed& clamped) {
  TapWitness witness;
  witness.taps = heard.taps;
  witness.cane = clamped.cane;
  const std::vector<ComputedMode> computed = computed_modes(clamped);
  std::vector<ComputedMode> matched;
  for (const bool twists : {false, true}) {
    const auto mode =
        std::find_if(computed.begin(), computed.end(), [&](const ComputedMode& m) { return m.twists == twists; });
    if (mode == computed.end()) continue;
    const double u = std::sqrt(square(mode->u_rel) + mode->by_cane.dot(clamped.cane.covariance * mode->by_cane));
    // The loudest that it may be.
    const Resonance* best = nullptr;
    for (const Resonance& r : heard.resonances) {
      constexpr double reach = 3.0;
      const bool taken = !witness.modes.empty() && r.frequency_hz == witness.modes.front().heard.frequency_hz;
      if (taken || std::abs(std::log(r.frequency_hz / mode->frequency_hz)) > reach * u) continue;
      if (best == nullptr || r.share > best->share) best = &r;
    }
    if (best == nullptr) continue;
    witness.modes.push_back({twists, mode->frequency_hz, u * mode->frequency_hz, *best});
    matched.push_back(*mode);
  }
  if (matched.empty() && !heard.resonances.empty() && !computed.empty()) {
    // Something rings, and it is not this reed as it is clamped here.
    const auto loudest = std::max_element(heard.resonances.begin(), heard.resonances.end(),
                                          [](const Resonance& a, const Resonance& b) { return a.share < b.share; });
    const ComputedMode& first = computed.front();
    const double u = std::sqrt(square(first.u_rel) + first.by_cane.dot(clamped.cane.covariance * first.by_cane));
    witness.elsewhere = HeardMode{first.twists, first.frequency_hz, u * first.frequency_hz, *loudest};
  }
  if (matched.empty()) return witness;
  const auto n = static_cast<Index>(matched.size());
  Eigen::MatrixXd design(n, 6), noise = Eigen::MatrixXd::Zero(n, n);
  Eigen::VectorXd off(n);
  for (Index k = 0; k < n; ++k) {
    const HeardMode& mode = witness.modes[static_cast<std::size_t>(k)];
    design.row(k) = matched[static_cast<std::size_t>(k)].by_cane.transpose();
    off(k) = std::log(mode.heard.frequency_hz / mode.computed_hz);
    noise(k, k) = square(mode.heard.u_frequency_hz / mode.heard.frequency_hz) +
                  square(matched[static_cast<std::size_t>(k)].u_rel);
  }
  const Eigen::Matrix<double, 6, 6>& before = clamped.cane.covariance;
  const Eigen::MatrixXd innovation = design * before * design.transpose() + noise;
  const double surprise = off.dot(innovation.ldlt().solve(off));
  constexpr double most_surprise = 9.21;  // chi-square with two, 1 %.
  witness.agrees = n == 2 && surprise < most_surprise;
  if (!witness.agrees) return witness;
  const Eigen::MatrixXd gain = before * design.transpose() * innovation.inverse();
  const Eigen::VectorXd step = gain * off;
  MeasuredCane& cane = witness.cane;
  const auto part = [&](CanePart which) { return step(static_cast<Index>(which)); };
  cane.cane.e_l_mpa *= std::exp(part(CanePart::e_l));
  cane.cane.e_t_mpa *= std::exp(part(CanePart::e_t));
  cane.cane.g_lt_mpa *= std::exp(part(CanePart::g_lt));
  cane.cane.density_kg_per_m3 *= std::exp(part(CanePart::density));
  cane.cane.gradient_per_mm += part(CanePart::gradient);
  cane.left_right += part(CanePart::left_right);
  const Eigen::Matrix<double, 6, 6> after = before - gain * design * before;
  cane.covariance = 0.5 * (after + after.transpose());
  return witness;
}

}  // namespace canewise
