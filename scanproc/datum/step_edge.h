#pragma once

#include <optional>
#include <vector>

namespace canewise {

/// One point near an edge: `out_mm` grows from the reed towards the plate.
struct StepSample {
  double out_mm = 0.0;
  double height_mm = 0.0;
};

/// Where the reed ends and the plate begins.
struct StepEdge {
  double out_mm = 0.0;  ///< Midway between the outermost reed point and the innermost plate point.
  double gap_mm = 0.0;  ///< Distance of those two: large where the plate lies in shadow.
};

struct StepWindow {
  double inside_from_mm = 0.3;  ///< The reed's surface is fitted between these two distances inside the expected edge.
  double inside_to_mm = 1.0;
  double outside_mm = 1.3;        ///< How far beyond the expected edge is looked at...
  double search_inside_mm = 0.5;  ///< ...and how far inside it the edge may lie.
};

/// Most likely edge near out_mm = 0 under two surfaces (a straight line fitted to the reed inside, the plate at height
/// 0 outside) and a bounded quadratic loss, so that stray points do not matter: a change point, not a threshold,
/// because the tip is hardly thicker than a scanner's noise. Reorders `samples`. Empty where one side has no points.
[[nodiscard]] std::optional<StepEdge> find_step_edge(std::vector<StepSample>& samples, const StepWindow& window,
                                                     double noise_mm);

/// The same where nothing is seen beside the reed: half a usual spacing beyond the outermost points of its surface.
/// `gap_mm` is that spacing.
[[nodiscard]] std::optional<StepEdge> find_bare_edge(std::vector<StepSample>& samples, const StepWindow& window,
                                                     double noise_mm);

}  // namespace canewise
