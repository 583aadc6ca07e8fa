#pragma once

#include "scanproc/bytes/scan_file.h"
#include "scanproc/clouds/cloud.h"

namespace canewise {

/// True if the first bytes are text (no control characters but white space).
[[nodiscard]] bool looks_like_text(std::string_view head);

/// One point a line. Separator: comma, semicolon, tab or blanks, found on the first data line; decimal commas are
/// understood where the separator is not a comma. Lines that start with '#', '//', '%' or ';' are comments,
/// and so is what follows a ';' that separates no columns; numbers there are refused. A header of names is optional
/// and, if there, tells which columns are x, y and z (also 'x_mm'); a first line with a lone count is skipped. Throws
/// InputError with the line's number.
[[nodiscard]] Cloud read_text_points(const ScanFile& file, double mm_per_unit);

}  // namespace canewise
