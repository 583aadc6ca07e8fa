#pragma once

#include <vector>

#include "scanproc/mechanics/player.h"
#include "scanproc/scrape/scrape_places.h"
#include "scanproc/scrape/scrape_plan.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// What a person does at this place, in strokes and words; one step for each side.
[[nodiscard]] std::vector<ScrapeStep> steps_at(const Place& place, double depth_mm, const Outline& outline,
                                               const Player& player);

/// After so many strokes of a step's it is time to stop and test.
[[nodiscard]] int strokes_between_tests(int strokes);

/// Largest effect first, balance before the aim, the tip last; the two sides of a pair stay together.
void put_in_order(std::vector<ScrapeStep>& steps);

/// Depth that the steps are expected to take off each cell together, mm, with a tool's soft borders and a hand's slip;
/// rows x columns.
[[nodiscard]] Field removal_of(const Grid& grid, const std::vector<ScrapeStep>& steps);

}  // namespace canewise
