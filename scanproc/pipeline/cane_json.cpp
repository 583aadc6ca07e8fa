#include <Eigen/Eigenvalues>
#include <cmath>
#include <nlohmann/json.hpp>

#include "scanproc/pipeline/check_result.h"
#include "scanproc/pipeline/fields_json.h"
#include "scanproc/pipeline/result_parts_json.h"

namespace canewise {

using nlohmann::json;

namespace {

constexpr Eigen::Index kParts = static_cast<Eigen::Index>(kCaneParts.size());

/// A plate of it can be solved: every modulus is one, and the covariance is none of an impossible law.
void check(const MeasuredCane& measured) {
  const Cane& cane = measured.cane;
  constexpr double most_mpa = 1e6, most_kg_per_m3 = 1e4, most_gradient = 1.0, most_sides = 0.95, most_variance = 4.0;
  bool good = cane.density_kg_per_m3 > 0.0 && cane.density_kg_per_m3 < most_kg_per_m3 &&
              std::abs(cane.gradient_per_mm) < most_gradient && std::abs(measured.left_right) < most_sides;
  for (const double modulus_mpa : {cane.e_l_mpa, cane.e_t_mpa, cane.g_lt_mpa})
    good = good && modulus_mpa > 0.0 && modulus_mpa < most_mpa;
  good = good && cane.nu_lt * cane.nu_lt * cane.e_t_mpa < cane.e_l_mpa && measured.covariance.allFinite() &&
         (measured.covariance.diagonal().array() >= 0.0).all() &&
         (measured.covariance.diagonal().array() <= most_variance).all();
  // Of some law: symmetric, and nothing has a variance below nought.
  constexpr double rounding = 1e-9;
  good = good && measured.covariance == measured.covariance.transpose() &&
         Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 6, 6>>(measured.covariance).eigenvalues()(0) > -rounding;
  constexpr std::size_t longest_date = 40;
  good = good && measured.tested_at.size() <= longest_date;
  if (!good) throw Impossible{Message{"result.cane"}};
}

}  // namespace

json json_from(const MeasuredCane& measured) {
  const Cane& cane = measured.cane;
  return {{"e_l_mpa", cane.e_l_mpa},
          {"e_t_mpa", cane.e_t_mpa},
          {"g_lt_mpa", cane.g_lt_mpa},
          {"nu_lt", cane.nu_lt},
          {"density_kg_per_m3", cane.density_kg_per_m3},
          {"gradient_per_mm", cane.gradient_per_mm},
          {"right_over_left", measured.left_right},
          {"covariance", rows_from(Eigen::MatrixXd(measured.covariance))},
          {"state", name_of(measured.state)},
          {"tested_at", measured.tested_at}};
}

MeasuredCane cane_from(const json& object) {
  MeasuredCane measured;
  object.at("e_l_mpa").get_to(measured.cane.e_l_mpa);
  object.at("e_t_mpa").get_to(measured.cane.e_t_mpa);
  object.at("g_lt_mpa").get_to(measured.cane.g_lt_mpa);
  object.at("nu_lt").get_to(measured.cane.nu_lt);
  object.at("density_kg_per_m3").get_to(measured.cane.density_kg_per_m3);
  object.at("gradient_per_mm").get_to(measured.cane.gradient_per_mm);
  object.at("right_over_left").get_to(measured.left_right);
  measured.covariance = matrix_from(object.at("covariance"), kParts);
  const auto state = moisture_from(object.at("state").get<std::string>());
  if (!state) throw Impossible{Message{"result.no_such_name", {{"key", text("state")}}}};
  measured.state = *state;
  object.at("tested_at").get_to(measured.tested_at);
  check(measured);
  return measured;
}

}  // namespace canewise
