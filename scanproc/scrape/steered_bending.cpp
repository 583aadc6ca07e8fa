#include "scanproc/scrape/steered_bending.h"

namespace canewise {
namespace {

BendingValues values_with(const BendingFigures& figures, const ThicknessMap& map, const Field& removed_mm,
                          bool with_derivatives) {
  if ((removed_mm == 0.0F).all()) return figures.of(figures.plate(), with_derivatives);
  return figures.of(figures.plate_with(figures.reed().thickness_from(map.thickness_mm - removed_mm)), with_derivatives);
}

}  // namespace

SteeredBending::SteeredBending(const BentReed& bent, const ThicknessMap& map)
    : figures_(bent.figures ? &*bent.figures : nullptr), map_(&map) {
  linearise_at(Field::Zero(map.grid.rows, map.grid.columns));
}

void SteeredBending::linearise_at(const Field& removed_mm) {
  if (!known()) return;
  const BendingValues values = values_with(*figures_, *map_, removed_mm, true);
  for (std::size_t f = 0; f < kSteered.size(); ++f) {
    const auto k = index_of(kSteered.at(f));
    value_.at(f) = values.value.at(k);
    by_cane_.at(f) = values.derivative.at(k).by_cane(static_cast<Eigen::Index>(CanePart::left_right));
    by_cells_.at(f) = figures_->reed().by_cells(values.derivative.at(k).by_thickness);
  }
}

SteeredValues SteeredBending::by_depth(const Place& place) const {
  SteeredValues change{};
  if (!known()) return change;
  for (std::size_t f = 0; f < kSteered.size(); ++f) {
    for (const Place::Part& part : place.parts) {
      for (std::size_t k = 0; k < part.cut.cells.size(); ++k)
        change.at(f) -= static_cast<double>(part.cut.share[k] * by_cells_.at(f).data()[part.cut.cells[k]]);
    }
  }
  return change;
}

BendingValues SteeredBending::after(const Field& removed_mm) const {
  return values_with(*figures_, *map_, removed_mm, false);
}

}  // namespace canewise
