#include "scanproc/ledger/figures_of.h"

#include <cmath>
#include <string>
#include <utility>

#include "scanproc/core/units.h"

namespace canewise {

std::vector<FigureValue> figures_of(const Result& result) {
  std::vector<FigureValue> figures;
  const auto add = [&](std::string name, double value, double u) {
    if (std::isfinite(value) && std::isfinite(u)) figures.push_back({std::move(name), value, u});
  };
  if (result.mechanics.known()) {
    const auto bending = [&](std::string name, BendingFigure figure) {
      const SpreadValue& value = result.mechanics.figure(figure);
      add(std::move(name), value.value, value.u_scan);
    };
    bending("stiffness", BendingFigure::stiffness_lip);
    bending("imbalance tip", BendingFigure::imbalance_tip);
    bending("imbalance lip", BendingFigure::imbalance_lip);
  }
  const CutFeatures& cut = result.assessment.cut;
  const auto in_um = [&](std::string name, const Measured& m) {
    add(std::move(name), um_from_mm(m.value), um_from_mm(m.u));
  };
  in_um("tip", cut.tip_thickness_mm);
  in_um("heart", cut.heart_thickness_mm);
  in_um("rails", cut.rail_thickness_mm);
  add("vamp", cut.vamp_length_mm.value, cut.vamp_length_mm.u);
  double worst = -1.0, u_worst = 0.0;
  for (const ZoneBalance& zone : result.assessment.balance.zones) {
    const double share = std::abs(zone.difference.mean_mm) / zone.tolerance_mm;
    if (share > worst) worst = share, u_worst = zone.difference.u_mm / zone.tolerance_mm;
  }
  if (worst >= 0.0) add("worst difference", worst, u_worst);
  return figures;
}

Message title_of_figure(std::string_view name) { return {"figure.name", {{"figure", word(name)}}}; }

}  // namespace canewise
