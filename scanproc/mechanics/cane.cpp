#include "scanproc/mechanics/cane.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/statistics.h"
#include "scanproc/mechanics/measured_cane.h"

namespace canewise {

Eigen::Matrix3d plane_stress_stiffness(const Cane& cane) {
  const double m = 1.0 - cane.nu_lt * cane.nu_lt * cane.e_t_mpa / cane.e_l_mpa;
  Eigen::Matrix3d q = Eigen::Matrix3d::Zero();
  q(0, 0) = cane.e_l_mpa / m;
  q(0, 1) = q(1, 0) = cane.nu_lt * cane.e_t_mpa / m;
  q(1, 1) = cane.e_t_mpa / m;
  q(2, 2) = cane.g_lt_mpa;
  return q;
}

CaneState cane_in(MoistureState state) {
  CaneState dry;
  dry.source = {"cane.dry"};
  if (state == MoistureState::dry) return dry;
  if (state == MoistureState::wet) {
    CaneState wet = dry;
    wet.cane.e_l_mpa = 7000.0;
    wet.cane.e_t_mpa = 200.0;
    wet.cane.g_lt_mpa = 750.0;
    wet.cane.density_kg_per_m3 = 700.0;
    wet.spread.e_l_rel = 0.40;
    wet.spread.e_t_rel = 0.50;
    wet.spread.g_lt_rel = 0.40;
    wet.spread.density_rel = 0.20;
    wet.source = {"cane.wet"};
    return wet;
  }
  dry.spread.e_l_rel = 0.45;
  dry.spread.e_t_rel = 0.55;
  dry.spread.g_lt_rel = 0.45;
  dry.spread.density_rel = 0.25;
  dry.source = {"cane.taken_for_dry"};
  return dry;
}

double spread_of(const CaneSpread& spread, CanePart part) {
  switch (part) {
    case CanePart::e_l:
      return spread.e_l_rel;
    case CanePart::e_t:
      return spread.e_t_rel;
    case CanePart::g_lt:
      return spread.g_lt_rel;
    case CanePart::density:
      return spread.density_rel;
    case CanePart::gradient:
      return spread.gradient_per_mm;
    case CanePart::left_right:
      break;
  }
  return spread.left_right_rel;
}

Eigen::Matrix<double, 6, 6> covariance_of(const CaneState& cane) {
  if (cane.measured) return *cane.measured;
  Eigen::Matrix<double, 6, 6> covariance = Eigen::Matrix<double, 6, 6>::Zero();
  for (const CanePart part : kCaneParts) {
    const auto k = static_cast<Eigen::Index>(part);
    covariance(k, k) = square(spread_of(cane.spread, part));
  }
  return covariance;
}

CaneState cane_in(const MeasuredCane& measured) {
  CaneState state = cane_in(measured.state);
  state.cane = measured.cane;
  state.left_right = measured.left_right;
  state.measured = measured.covariance;
  const BestKnownModulus best = best_known_modulus(measured);
  state.source = {"cane.measured",
                  {{"modulus", number(best.e_l_mpa)},
                   {"u", number(100.0 * kCoverage95 * best.u_rel, 1)},
                   {"depth", mm(best.depth_mm, 1)},
                   {"at", text(measured.tested_at)},
                   {"state", word(name_of(measured.state))}}};
  return state;
}

double modulus_at(const Cane& cane, double depth_mm) {
  return cane.e_l_mpa * std::exp(-cane.gradient_per_mm * (depth_mm - kGradientDepth_mm));
}

BestKnownModulus best_known_modulus(const MeasuredCane& measured) {
  constexpr auto modulus = static_cast<Eigen::Index>(CanePart::e_l),
                 gradient = static_cast<Eigen::Index>(CanePart::gradient);
  const auto& c = measured.covariance;
  // ln E at a depth is ln E_L - gradient (depth - kGradientDepth): its variance is least here.
  const double away_mm = c(gradient, gradient) > 0.0 ? c(modulus, gradient) / c(gradient, gradient) : 0.0;
  const double variance = c(modulus, modulus) - away_mm * c(modulus, gradient);
  return {kGradientDepth_mm + away_mm, modulus_at(measured.cane, kGradientDepth_mm + away_mm),
          std::sqrt(std::max(0.0, variance))};
}

}  // namespace canewise
