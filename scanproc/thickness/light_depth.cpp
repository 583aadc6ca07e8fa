#include "scanproc/thickness/light_depth.h"

#include <Eigen/Cholesky>
#include <array>
#include <cmath>

#include "scanproc/core/units.h"

namespace canewise {

void correct_light(ThicknessMap& map, const LightDepth& light) {
  const Grid& grid = map.grid;
  // The three terms' shapes; taken from the map as it came.
  std::array<Field, 3> shapes;
  for (Field& shape : shapes) shape = Field::Constant(grid.rows, grid.columns, std::nanf(""));
  for (Eigen::Index c = 0; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      if (!map.measured(r, c)) continue;
      shapes[0](r, c) = 1.0F;
      shapes[1](r, c) = map.thickness_mm(r, c) - static_cast<float>(light.middle_mm);
      shapes[2](r, c) = std::hypot(map.slope_x(r, c), map.slope_y(r, c));
    }
  }
  const std::array<double, 3> sizes{light.offset_um, light.per_mm_um, light.per_slope_um};
  for (std::size_t k = 0; k < shapes.size(); ++k)
    map.thickness_mm += static_cast<float>(mm_from_um(sizes.at(k))) * shapes.at(k);
  std::erase_if(map.common, [](const CommonEffect& effect) { return effect.source == EffectSource::penetration; });
  const Eigen::Matrix3d root =
      Eigen::LLT<Eigen::Matrix3d>(light.covariance_um2 + 1e-12 * Eigen::Matrix3d::Identity()).matrixL();
  constexpr std::array names{"touch", "touch thickness", "touch slope"};
  for (std::size_t k = 0; k < shapes.size(); ++k) {
    CommonEffect effect{EffectSource::penetration,
                        {"effect.form", {{"form", word(names.at(k))}}},
                        Field::Zero(grid.rows, grid.columns)};
    for (std::size_t i = 0; i < shapes.size(); ++i) {
      effect.shift_mm +=
          static_cast<float>(mm_from_um(root(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(k)))) *
          shapes.at(i);
    }
    map.common.push_back(std::move(effect));
  }
  Field variance = map.u_local_mm.square();
  for (const auto& effect : map.common) variance += effect.shift_mm.square();
  map.u_mm = variance.sqrt();
}

}  // namespace canewise
