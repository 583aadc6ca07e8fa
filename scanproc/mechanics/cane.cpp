#include "scanproc/mechanics/cane.h"

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
  CaneState dry{{}, {}, Message{"cane.dry"}};
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

}  // namespace canewise
