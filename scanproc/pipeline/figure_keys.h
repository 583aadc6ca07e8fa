#pragma once

#include <array>

#include "scanproc/mechanics/bending_figures.h"

namespace canewise {

/// Bending figures by name in result.json, each with its unit in its key.
inline constexpr std::array<const char*, kBendingFigureCount> kFigureKeys{"stiffness_left_n_per_mm",
                                                                          "stiffness_centre_n_per_mm",
                                                                          "stiffness_right_n_per_mm",
                                                                          "stiffness_lip_n_per_mm",
                                                                          "imbalance_tip",
                                                                          "imbalance_lip"};
/// The figures whose sensitivity a result keeps: those that a player acts on.
inline constexpr std::array kKeptSensitivities{BendingFigure::stiffness_lip, BendingFigure::imbalance_tip,
                                               BendingFigure::imbalance_lip};

}  // namespace canewise
