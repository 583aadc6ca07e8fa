#pragma once

#include <stop_token>

#include "scanproc/core/progress.h"
#include "scanproc/pipeline/load_scans.h"
#include "scanproc/pipeline/pipeline.h"
#include "scanproc/pipeline/result.h"

// What `measure` and `measure_each` have in common.
namespace canewise {

/// Throws UsageError for an option out of its bounds.
void check(const MeasureOptions& options);

/// Progress that heeds a wish to stop: throws Cancelled. Both must outlive it.
[[nodiscard]] Progress stoppable(const Progress& progress, const std::stop_token& stop);

/// Everything after reading. Throws as `measure`.
[[nodiscard]] Result measure_loaded(LoadedScans scans, const MeasureInputs& inputs, const MeasureOptions& options,
                                    const Progress& stage);

}  // namespace canewise
