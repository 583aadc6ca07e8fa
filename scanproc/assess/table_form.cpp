#include "scanproc/assess/table_form.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <cmath>

#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {

TableForm assess_table(const ThicknessMap& map, const Outline& outline, double tolerance_um) {
  using Vector6d = Eigen::Matrix<double, 6, 1>;
  Eigen::Matrix<double, 6, 6> normal = Eigen::Matrix<double, 6, 6>::Zero();
  Vector6d right = Vector6d::Zero();
  const double length = outline.length_mm, half = outline.half_width_mm(0.0);
  double squares = 0.0, count = 0.0;
  const auto for_each_cell = [&](const auto& use) {
    for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
      for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
        const auto height = static_cast<double>(map.table_mm(r, c));
        constexpr double tip_thickness_mm = 0.5;
        if (std::isnan(height) || !(map.thickness_mm(r, c) > tip_thickness_mm)) continue;
        const double x = map.grid.x_mm(r), across = map.grid.y_mm(c) / half, along = (2.0 * x - length) / length;
        Vector6d basis;
        basis << 1.0, along, across, 1.0 - square(along), 1.0 - square(across), along * across;
        use(basis, height);
      }
    }
  };
  for_each_cell([&](const Vector6d& basis, double height) {
    normal += basis * basis.transpose();
    right += height * basis;
    count += 1.0;
  });
  TableForm form;
  form.tolerance_um = tolerance_um;
  constexpr double fewest_cells = 100;
  if (count < fewest_cells) {
    form.bow_um = form.cup_um = form.twist_um = {std::nan(""), std::nan("")};
    form.rest_um = std::nan("");
    return form;
  }
  const Vector6d fit = normal.ldlt().solve(right);
  for_each_cell([&](const Vector6d& basis, double height) { squares += square(height - basis.dot(fit)); });
  form.rest_um = um_from_mm(std::sqrt(squares / count));
  const double cell_variance = map.table_covariance_sum_mm2 / map.noise.bins_per_cell;
  const Eigen::Matrix<double, 6, 6> covariance = cell_variance * normal.inverse();
  const auto measured = [&](Eigen::Index k) {
    return Measured{um_from_mm(fit(k)), um_from_mm(std::sqrt(std::max(0.0, covariance(k, k))))};
  };
  form.bow_um = measured(3);
  form.cup_um = measured(4);
  form.twist_um = measured(5);
  bool all_within = true, one_outside = false;
  for (const Measured& m : {form.bow_um, form.cup_um, form.twist_um}) {
    const Verdict verdict = judge(m.value, m.u, -tolerance_um, tolerance_um);
    all_within = all_within && verdict == Verdict::within;
    one_outside = one_outside || verdict == Verdict::outside;
  }
  form.flat = one_outside ? Verdict::outside : all_within ? Verdict::within : Verdict::cannot_tell;
  return form;
}

}  // namespace canewise
