#pragma once

#include <condition_variable>
#include <cstdint>
#include <deque>
#include <filesystem>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "scanproc/words/message.h"
#include "viewer/server/child.h"

namespace canewise {

struct JobsOptions {
  std::filesystem::path folder;              ///< Where results go.
  std::filesystem::path command;             ///< This program.
  std::vector<std::string> measure_options;  ///< Given to every measurement: rig, player, target, instrument.
  ChildLimits limits;
  std::vector<std::string> reserved;               ///< Names that no result may take.
  std::vector<std::filesystem::path> places = {};  ///< Of this computer, which no message tells.
  std::size_t at_once = 2, waiting = 60;
};

/// A scan that came in, in a folder of its own, which is taken away when its job ends.
struct IncomingScan {
  std::filesystem::path file;
  std::vector<std::string> options;  ///< Of this scan alone.
  std::string result_name = {};      ///< Empty: after the file.
};

enum class JobState : std::uint8_t { waiting, measuring, done, refused, cancelled };
[[nodiscard]] std::string_view name_of(JobState state);

struct JobView {
  JobState state = JobState::waiting;
  double fraction = 0.0;
  Message message;            ///< The stage, or why it was refused; empty: nothing to say.
  std::string result;         ///< Name of the folder, once done.
  std::uint64_t changes = 0;  ///< Counts up with every change.
  [[nodiscard]] bool over() const { return state != JobState::waiting && state != JobState::measuring; }
};

/// Measurements, each in a process of its own, a few at once, the others waiting in line.
class Jobs {
 public:
  explicit Jobs(JobsOptions options);
  ~Jobs();  ///< Stops and waits for what runs.
  Jobs(const Jobs&) = delete;
  Jobs& operator=(const Jobs&) = delete;

  /// The job's id, or nothing if too many wait already.
  [[nodiscard]] std::optional<std::string> start(IncomingScan scan);
  /// As it is now. Nothing if there is no such job.
  [[nodiscard]] std::optional<JobView> view(const std::string& id) const;
  /// Cancels what runs and starts nothing more.
  void stop();
  /// False if there is no such job. One that is over stays as it is.
  bool cancel(const std::string& id);

 private:
  struct Job;
  class ReservedName;
  void work();
  void run(Job& job);
  void change(Job& job, JobState state, double fraction, Message message);

  JobsOptions options_;
  mutable std::mutex mutex_;
  std::condition_variable queued_;
  std::map<std::string, std::shared_ptr<Job>> jobs_;
  std::deque<std::string> order_;  ///< Oldest first, so that ended ones are forgotten in turn.
  std::deque<std::shared_ptr<Job>> queue_;
  std::mutex names_mutex_;             ///< Apart, for a slow disk must not keep anyone from seeing their job.
  std::vector<std::string> reserved_;  ///< Names of results that are being made.
  bool stopping_ = false;
  std::vector<std::thread> workers_;
};

}  // namespace canewise
