#pragma once

#include <atomic>
#include <functional>
#include <optional>
#include <string>

#include "viewer/http/http_message.h"
#include "viewer/server/jobs.h"

namespace canewise {

/// Streams that are open at once.
struct EventStreams {
  static constexpr std::size_t kMost = 16;
  std::atomic<std::size_t> open{0};
};

enum class EventsRefused : std::uint8_t { no_such_job, too_many };

/// What a job does until it is over, as server-sent events. Both references outlive the answer.
[[nodiscard]] std::variant<EventsRefused, HttpAnswer> events_of(const std::string& id, const Jobs& jobs,
                                                                EventStreams& streams);

}  // namespace canewise
