#include "scanproc/core/error.h"
#include "scanproc/pipeline/measure_loaded.h"

namespace canewise {

void check(const MeasureOptions& options) {
  validate(options.thickness);
  validate(options.bending);
  validate(options.plan);
  if (!options.instrument.empty() && find_instrument(options.instrument) == nullptr) {
    throw UsageError(
        {"pipeline.no_instrument", {{"name", text(options.instrument)}, {"known", text(instrument_names())}}});
  }
  constexpr double largest_um = 1000.0;
  if (!(options.table_tolerance_um > 0.0 && options.table_tolerance_um <= largest_um))
    throw UsageError(Message{"pipeline.table_tolerance"});
}

Progress stoppable(const Progress& progress, const std::stop_token& stop) {
  return [&progress, &stop](const Message& name, double fraction) {
    if (stop.stop_requested()) throw Cancelled();
    if (progress) progress(name, fraction);
  };
}

}  // namespace canewise
