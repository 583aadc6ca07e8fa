#pragma once

#include <optional>
#include <vector>

namespace canewise {

/// One point near an edge: `out_mm` grows from the reed towards the plate.
struct StepSample {
  double out_mm = 0.0;
  double height_mm = 0.0;
};

/// Where the reed ends and what is beside it begins.
struct StepEdge {
  double reed_mm = 0.0;     ///< The outermost reed point.
  double gap_mm = 0.0;      ///< From there to the innermost plate point; NaN where no plate is seen.
  double spacing_mm = 0.0;  ///< Usual distance, square to the edge, from any place of the reed to its next two samples.
  double height_mm = 0.0;   ///< Of the reed's surface at its edge.
  /// Midway between the outermost reed point and the innermost plate point.
  [[nodiscard]] double middle_mm() const { return reed_mm + 0.5 * gap_mm; }
  /// By the reed's own points alone: half a usual spacing beyond the outermost.
  [[nodiscard]] double beyond_reed_mm() const { return reed_mm + 0.5 * spacing_mm; }
};

struct StepWindow {
  double inside_from_mm = 0.3;  ///< The reed's surface is fitted between these two distances inside the expected edge.
  double inside_to_mm = 1.0;
  double outside_mm = 1.3;        ///< How far beyond the expected edge is looked at...
  double search_inside_mm = 0.5;  ///< ...and how far inside it the edge may lie.
  bool with_spacing = true;       ///< Where nobody asks for it, it is not worth its sorting.
};

/// Most likely edge near out_mm = 0 under two surfaces (a straight line fitted to the reed inside, the plate at height
/// 0 outside) and a bounded quadratic loss, so that stray points do not matter: a change point, not a threshold,
/// because the tip is hardly thicker than a scanner's noise. Where no plate is seen beyond, the gap is NaN. Reorders
/// `samples`. Empty where no reed is seen, or where it goes on to the end of the window.
[[nodiscard]] std::optional<StepEdge> find_step_edge(std::vector<StepSample>& samples, const StepWindow& window,
                                                     double noise_mm);

/// The same where nothing is seen beside the reed, so that its own points alone tell; the gap is NaN.
[[nodiscard]] std::optional<StepEdge> find_bare_edge(std::vector<StepSample>& samples, const StepWindow& window,
                                                     double noise_mm);

}  // namespace canewise
