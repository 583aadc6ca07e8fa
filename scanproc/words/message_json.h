#pragma once

#include <nlohmann/json_fwd.hpp>

#include "scanproc/words/message.h"

namespace canewise {

/// {"id": "plan.first", "depth": {"um": 24.2, "decimals": 0}, "side": {"word": "left"}, "steps": 3}: what a message is
/// in files and events, for every reader that has the catalogues. Reading throws std::exception for what is none.
void to_json(nlohmann::json& json, const Message& message);
void from_json(const nlohmann::json& json, Message& message);

}  // namespace canewise
