#pragma once

#include "fixtures/scanner.h"
#include "fixtures/write_cloud.h"
#include "scanproc/pipeline/pipeline.h"
#include "tests/support/scans.h"
#include "tests/support/temp_file.h"

namespace canewise::test {

/// A reed with a heavy right rail, scanned to a file and measured from it.
inline Result heavy_rail_result(const MeasureOptions& options = {}, double heavy_um = 40.0) {
  fixtures::ReedFaults faults = rough_cane(1);
  faults.heavy_rail_um = heavy_um;
  const TempFolder folder;
  const auto path = folder.file(
      "reed <&> one.ply",
      fixtures::ply_binary(fixtures::scan_reed(fixtures::Reed({}, faults), fixtures::profilometer(), {}, 1).cloud));
  MeasureInputs inputs;
  inputs.scans = {path};
  return measure(inputs, options);
}

}  // namespace canewise::test
