#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "scanproc/pipeline/result.h"

// The parts of result.json, each in both directions. Reading takes nulls as NaN (`nulls_to_nan` goes first) and throws
// nlohmann::json::exception, Impossible or std::invalid_argument for what is none.
namespace canewise {

[[nodiscard]] nlohmann::json json_from(const ThicknessMap& map);
[[nodiscard]] ThicknessMap map_from(const nlohmann::json& object);

[[nodiscard]] nlohmann::json json_from(const Outline& outline);
[[nodiscard]] Outline outline_from(const nlohmann::json& object);
[[nodiscard]] nlohmann::json json_from(const FrameUncertainty& frame);
[[nodiscard]] FrameUncertainty frame_from(const nlohmann::json& object);
[[nodiscard]] nlohmann::json json_from(const Registration& registration);
[[nodiscard]] Registration registration_from(const nlohmann::json& object);

[[nodiscard]] nlohmann::json json_from(const CutFeatures& cut);
[[nodiscard]] CutFeatures cut_from(const nlohmann::json& object);
[[nodiscard]] nlohmann::json json_from(const std::vector<ZoneThickness>& zones);
[[nodiscard]] std::vector<ZoneThickness> zones_from(const nlohmann::json& list);
/// Balance and faults.
[[nodiscard]] nlohmann::json balance_json_from(const Assessment& assessment);
void balance_from(const nlohmann::json& object, const ThicknessMap& map, Assessment& assessment);
[[nodiscard]] nlohmann::json json_from(const TargetComparison& comparison);
/// Of results of before without a deviation by cells it is worked out from map and target.
[[nodiscard]] TargetComparison target_from(const nlohmann::json& object, const Result& result);
[[nodiscard]] nlohmann::json json_from(const TableForm& table);
[[nodiscard]] TableForm table_from(const nlohmann::json& object);
[[nodiscard]] nlohmann::json json_from(const std::vector<BudgetTable>& budgets);
[[nodiscard]] std::vector<BudgetTable> budgets_from(const nlohmann::json& list);
[[nodiscard]] nlohmann::json json_from(const std::vector<Texture>& texture);
[[nodiscard]] std::vector<Texture> texture_from(const nlohmann::json& list);

[[nodiscard]] nlohmann::json json_from(const Mechanics& mechanics);
[[nodiscard]] Mechanics mechanics_from(const nlohmann::json& object);
[[nodiscard]] nlohmann::json json_from(const std::vector<ClippedReed>& clipped);
[[nodiscard]] std::vector<ClippedReed> clipped_from(const nlohmann::json& list);

[[nodiscard]] nlohmann::json json_from(const ScrapePlan& plan);
[[nodiscard]] ScrapePlan plan_from(const nlohmann::json& object);

[[nodiscard]] nlohmann::json json_from(const Rig& rig);
[[nodiscard]] Rig rig_from(const nlohmann::json& object);
[[nodiscard]] nlohmann::json json_from(const Player& player);
[[nodiscard]] Player player_from(const nlohmann::json& object);

[[nodiscard]] nlohmann::json json_from(const MeasuredCane& cane);
[[nodiscard]] MeasuredCane cane_from(const nlohmann::json& object);

/// Version 1 held English sentences where version 2 holds messages: they are kept as they are, in English.
void take_prose_as_messages(nlohmann::json& document);

}  // namespace canewise
