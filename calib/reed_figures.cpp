#include "calib/reed_figures.h"

#include <stdexcept>

#include "scanproc/core/units.h"

namespace canewise {
namespace {

const ZoneMean& rails_at(const Result& result, AlongBand along) {
  const auto label = static_cast<std::size_t>(ZoneMap::label_of(along, AcrossBand::rail));
  return result.assessment.balance.zones.at(label).difference;
}

}  // namespace

double heart_um(const Result& result) { return um_from_mm(result.assessment.cut.heart_thickness_mm.value); }
double rails_um(const Result& result) { return um_from_mm(rails_mean(result).mean_mm); }
double tip_um(const Result& result) { return um_from_mm(rails_at(result, AlongBand::tip).mean_mm); }

const ZoneMean& heart_mean(const Result& result) {
  for (const auto& zone : result.assessment.zone_thickness) {
    if (zone.zone.along == AlongBand::middle && zone.zone.across == AcrossBand::centre) return zone.thickness;
  }
  throw std::logic_error("every zone was measured");
}

const ZoneMean& rails_mean(const Result& result) { return rails_at(result, AlongBand::middle); }

}  // namespace canewise
