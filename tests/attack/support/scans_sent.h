#pragma once

#include <string>
#include <string_view>

#include "tests/attack/support/served.h"

namespace canewise::attack {

/// A scan that can be measured in about half a second, with a plan of some steps.
[[nodiscard]] const std::string& good_scan();

/// Any bytes as they may stand in a query.
[[nodiscard]] std::string percent_encoded(std::string_view bytes);

/// All events of a job until it is over, as a reader gets them.
[[nodiscard]] std::string events_of(const Served& served, const std::string& job);

/// 'done', 'refused', 'cancelled', as the last of these events says; empty if none does.
[[nodiscard]] std::string last_state(const std::string& events);

}  // namespace canewise::attack
