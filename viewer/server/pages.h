#pragma once

#include <atomic>
#include <filesystem>
#include <functional>
#include <mutex>
#include <semaphore>
#include <string>
#include <vector>

#include "scanproc/words/speech.h"
#include "viewer/http/http_message.h"
#include "viewer/server/child.h"
#include "viewer/server/held_folder.h"
#include "viewer/server/page_work.h"
#include "viewer/server/results.h"

namespace canewise {

struct PageOptions {
  std::filesystem::path command;  ///< This program: a child of it makes each page.
  std::filesystem::path player;
  std::filesystem::path ledger;
  ChildLimits limits;
  std::vector<std::filesystem::path> places;  ///< Of this computer, which no message tells.
  std::string writing_secret;
  Speech speech;
};

/// The list, the reeds and the comparisons of a folder. Each result is read and drawn in a process of its own with
/// limits: a file that somebody made to break it takes nothing else down.
class Pages {
 public:
  static constexpr std::ptrdiff_t kAtOnce = 2;  ///< Children.
  static constexpr int kWaiting = 3;            ///< Pages that wait for one to end; what is asked beyond is refused.
  /// `folder` and `stopping` outlive this.
  Pages(const HeldFolder& folder, PageOptions options, const std::atomic<bool>& stopping)
      : folder_(folder), options_(std::move(options)), stopping_(stopping) {}

  [[nodiscard]] HttpAnswer home() const;
  [[nodiscard]] HttpAnswer list();
  [[nodiscard]] HttpAnswer reed(const HttpRequest& request, const std::string& name);
  [[nodiscard]] HttpAnswer reed_file(const HttpRequest& request, const std::string& name, const std::string& file);
  [[nodiscard]] HttpAnswer comparison(const HttpRequest& request);
  [[nodiscard]] HttpAnswer keep_hand(const HttpRequest& request);
  [[nodiscard]] HttpAnswer season(const HttpRequest& request);
  [[nodiscard]] HttpAnswer box(const HttpRequest& request, const std::string& name);
  /// Adds a trial ('trial') or changes a reed ('reed'), by the request's parameters.
  [[nodiscard]] HttpAnswer note(const HttpRequest& request, const std::string& table);

 private:
  [[nodiscard]] HttpAnswer refuse(const HttpRequest& request, int status, const Message& message) const;
  [[nodiscard]] HttpAnswer in_turn(const HttpRequest& request, const std::function<HttpAnswer()>& make);
  [[nodiscard]] std::variant<HttpAnswer, std::string> made(const HttpRequest& request, PageWork work);
  [[nodiscard]] HttpAnswer reed_page_of(const HttpRequest& request, const std::string& name);
  [[nodiscard]] HttpAnswer page_from_ledger(const HttpRequest& request, PageWork work);
  [[nodiscard]] HttpAnswer compared_page(const HttpRequest& request);
  [[nodiscard]] HttpAnswer kept_hand(const HttpRequest& request);
  [[nodiscard]] std::variant<HttpAnswer, PageWork> both_of(const HttpRequest& request) const;

  const HeldFolder& folder_;
  PageOptions options_;
  const std::atomic<bool>& stopping_;
  std::mutex results_mutex_, player_mutex_;
  std::counting_semaphore<kAtOnce> children_{kAtOnce};
  std::atomic<int> in_line_{0};
  std::atomic<std::size_t> bytes_waiting_{0};
  ResultList results_;
};

}  // namespace canewise
