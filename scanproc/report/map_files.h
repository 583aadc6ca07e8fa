#pragma once

#include <string>

#include "scanproc/core/output_folder.h"
#include "scanproc/heights/height_map.h"
#include "scanproc/pipeline/result.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// The thickness map as a height map that any surface program opens: x along the reed from the tip, y to the right,
/// height = thickness. Cells that were not measured stay empty.
[[nodiscard]] HeightMap height_map_of(const ThicknessMap& map);

enum class MapFormat { x3p, sdf };

/// thickness.x3p or thickness.sdf.
[[nodiscard]] OutputFile map_file(const Result& result, MapFormat format, const Speech& speech = {});

}  // namespace canewise
