#pragma once

#include <string>

#include "scanproc/pipeline/result.h"

namespace canewise {

/// Thickness along the centre and both rails, over the target's band; an SVG element.
[[nodiscard]] std::string profile_svg(const Result& result);
/// Section across the vamp at x, the left side folded over the right; an SVG element. Empty where nothing was measured.
[[nodiscard]] std::string section_svg(const Result& result, double x_mm);

/// Opening at the tip's left, centre and right against pressure; an SVG element.
[[nodiscard]] std::string closing_svg(const Closing& closing);
/// Compliance along the reed, left, centre and right, on a logarithmic scale; an SVG element.
[[nodiscard]] std::string compliance_svg(const std::vector<ComplianceAt>& along);
/// Every figure of bending before and after, as bars about nought: imbalances in per cent with their tolerance,
/// stiffnesses as the change in per cent; an SVG element. Empty for no figures.
[[nodiscard]] std::string before_after_svg(const std::vector<PlannedFigure>& figures);

}  // namespace canewise
