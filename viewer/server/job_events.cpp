#include "viewer/server/job_events.h"

#include <memory>
#include <nlohmann/json.hpp>

#include "scanproc/words/message_json.h"

namespace canewise {
namespace {

using nlohmann::json;

/// A number that goes up while this is alive.
class Counted {
 public:
  explicit Counted(std::atomic<std::size_t>& count) : count_(count), now_(++count) {}
  ~Counted() { --count_; }
  Counted(const Counted&) = delete;
  Counted& operator=(const Counted&) = delete;
  [[nodiscard]] std::size_t now() const { return now_; }

 private:
  std::atomic<std::size_t>& count_;
  std::size_t now_;
};

std::string event_of(const JobView& view) {
  json told{{"state", name_of(view.state)}, {"fraction", view.fraction}};
  if (!view.message.empty()) told["message"] = view.message;
  if (!view.result.empty()) told["result"] = view.result;
  return "data: " + told.dump(-1, ' ', false, json::error_handler_t::replace) + "\n\n";
}

}  // namespace

std::variant<EventsRefused, HttpAnswer> events_of(const std::string& id, const Jobs& jobs, EventStreams& streams) {
  if (!jobs.view(id)) return EventsRefused::no_such_job;
  auto counted = std::make_shared<Counted>(streams.open);
  if (counted->now() > EventStreams::kMost) return EventsRefused::too_many;
  HttpAnswer answer;
  answer.type = "text/event-stream";
  auto told = std::make_shared<std::optional<std::uint64_t>>();
  answer.events = [id, told, counted, &jobs]() -> EventNews {
    const auto view = jobs.view(id);
    if (!view) return {.text = {}, .over = true};
    if (*told == view->changes) return {};
    *told = view->changes;
    return {.text = event_of(*view), .over = view->over()};
  };
  return answer;
}

}  // namespace canewise
