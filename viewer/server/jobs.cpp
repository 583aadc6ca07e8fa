#include "viewer/server/jobs.h"

#include <fmt/format.h>

#include <algorithm>
#include <system_error>

#include "scanproc/core/error.h"
#include "viewer/server/child_words.h"
#include "viewer/server/guard.h"

namespace canewise {
namespace {

constexpr std::size_t kRemembered = 200;

Message why_of(const ChildEnd& end, Message refused, const ChildLimits& limits, const std::filesystem::path& file) {
  switch (end.how) {
    case ChildEnd::How::out_of_time:
      return {"serve.too_long", {{"seconds", number(static_cast<double>(limits.time.count()))}}};
    case ChildEnd::How::killed:
      return {"serve.broke_off"};
    case ChildEnd::How::cancelled:
      return {};
    case ChildEnd::How::exited:
      break;
  }
  if (end.exit_code == static_cast<int>(ExitCode::cannot_write)) return {"serve.result_not_written"};
  if (!refused.empty()) return for_sender(std::move(refused), file);
  return end.words.empty() ? Message{"serve.broke_off"} : for_sender(end.words, file);
}

}  // namespace

std::string_view name_of(JobState state) {
  switch (state) {
    case JobState::waiting:
      return "waiting";
    case JobState::measuring:
      return "measuring";
    case JobState::done:
      return "done";
    case JobState::refused:
      return "refused";
    case JobState::cancelled:
      break;
  }
  return "cancelled";
}

struct Jobs::Job {
  std::string id;
  IncomingScan scan;
  JobView view;
  bool cancel = false;
};

/// A name for a result that nothing has yet, and that nobody else takes while this is alive.
class Jobs::ReservedName {
 public:
  ReservedName(Jobs& jobs, const std::string& stem) : jobs_(jobs), name_(stem) {
    const std::lock_guard lock(jobs_.names_mutex_);
    for (int k = 2; is_taken(); ++k) name_ = fmt::format("{}-{}", stem, k);
    jobs_.reserved_.push_back(name_);
  }
  ~ReservedName() {
    const std::lock_guard lock(jobs_.names_mutex_);
    std::erase(jobs_.reserved_, name_);
  }
  ReservedName(const ReservedName&) = delete;
  ReservedName& operator=(const ReservedName&) = delete;
  [[nodiscard]] const std::string& name() const { return name_; }

 private:
  [[nodiscard]] bool is_taken() const {
    const auto& never = jobs_.options_.reserved;
    std::error_code unknown;
    const auto status = std::filesystem::symlink_status(jobs_.options_.folder / name_, unknown);
    return status.type() != std::filesystem::file_type::not_found ||
           std::find(never.begin(), never.end(), name_) != never.end() ||
           std::find(jobs_.reserved_.begin(), jobs_.reserved_.end(), name_) != jobs_.reserved_.end();
  }

  Jobs& jobs_;
  std::string name_;
};

Jobs::Jobs(JobsOptions options) : options_(std::move(options)) {
  for (std::size_t k = 0; k < options_.at_once; ++k) workers_.emplace_back([this] { work(); });
}

void Jobs::stop() {
  {
    const std::lock_guard lock(mutex_);
    stopping_ = true;
    for (const auto& [id, job] : jobs_) job->cancel = true;
  }
  queued_.notify_all();
}

Jobs::~Jobs() {
  stop();
  for (auto& worker : workers_) worker.join();
  for (const auto& job : queue_) {
    std::error_code ignored;
    std::filesystem::remove_all(job->scan.file.parent_path(), ignored);
  }
}

std::optional<std::string> Jobs::start(IncomingScan scan) {
  auto job = std::make_shared<Job>();
  job->id = new_token();
  job->scan = std::move(scan);
  const std::lock_guard lock(mutex_);
  if (stopping_ || queue_.size() >= options_.waiting) return std::nullopt;
  for (auto oldest = order_.begin(); order_.size() >= kRemembered && oldest != order_.end();) {
    if (jobs_.at(*oldest)->view.over()) {
      jobs_.erase(*oldest);
      oldest = order_.erase(oldest);
    } else {
      ++oldest;
    }
  }
  jobs_.emplace(job->id, job);
  order_.push_back(job->id);
  queue_.push_back(job);
  queued_.notify_all();
  return job->id;
}

std::optional<JobView> Jobs::view(const std::string& id) const {
  const std::lock_guard lock(mutex_);
  const auto found = jobs_.find(id);
  return found == jobs_.end() ? std::nullopt : std::optional(found->second->view);
}

bool Jobs::cancel(const std::string& id) {
  std::filesystem::path left;
  {
    const std::lock_guard lock(mutex_);
    const auto found = jobs_.find(id);
    if (found == jobs_.end()) return false;
    Job& job = *found->second;
    job.cancel = true;
    const auto waits = std::find(queue_.begin(), queue_.end(), found->second);
    if (waits != queue_.end()) {
      queue_.erase(waits);
      left = job.scan.file.parent_path();
      job.view = {JobState::cancelled, 0.0, {}, {}, job.view.changes + 1};
    }
  }
  // Outside: a large file takes its time, and others ask for their jobs.
  std::error_code ignored;
  if (!left.empty()) std::filesystem::remove_all(left, ignored);
  return true;
}

void Jobs::work() {
  while (true) {
    std::shared_ptr<Job> job;
    {
      std::unique_lock lock(mutex_);
      queued_.wait(lock, [&] { return stopping_ || !queue_.empty(); });
      if (stopping_) return;
      job = queue_.front();
      queue_.pop_front();
    }
    try {
      run(*job);
    } catch (const std::system_error& error) {
      change(*job, JobState::refused, 0.0, {"serve.not_started", {{"why", text(error.code().message())}}});
    } catch (const std::exception&) {
      change(*job, JobState::refused, 0.0, {"serve.internal"});
    }
    std::error_code ignored;
    std::filesystem::remove_all(job->scan.file.parent_path(), ignored);
  }
}

void Jobs::run(Job& job) {
  change(job, JobState::measuring, 0.0, {});
  const std::string& wanted = job.scan.result_name;
  const ReservedName reserved(*this, wanted.empty() ? job.scan.file.stem().string() : wanted);
  const std::string& name = reserved.name();
  ChildCommand command;
  command.words = {options_.command.string(),         "measure", job.scan.file.string(), "--out",
                   (options_.folder / name).string(), kTellHere};
  for (const auto* more : {&options_.measure_options, &job.scan.options})
    command.words.insert(command.words.end(), more->begin(), more->end());
  Message refused;
  const ChildEnd end = run_child(
      command, options_.limits,
      [&](const std::string& line) {
        auto told = told_on(line);
        if (!told) return;
        if (!told->refused.empty()) refused = std::move(told->refused);
        if (!told->stage.empty())
          change(job, JobState::measuring, told->fraction, for_sender(std::move(told->stage), job.scan.file));
      },
      [&] {
        const std::lock_guard lock(mutex_);
        return job.cancel;
      });
  if (end.how == ChildEnd::How::exited && end.exit_code == 0) {
    const std::lock_guard lock(mutex_);
    job.view.result = name;
  }
  if (end.how == ChildEnd::How::cancelled) {
    change(job, JobState::cancelled, 0.0, {});
  } else if (end.how == ChildEnd::How::exited && end.exit_code == 0) {
    change(job, JobState::done, 1.0, {});
  } else {
    Message why = why_of(end, std::move(refused), options_.limits, job.scan.file);
    change(job, JobState::refused, 0.0, without_places(std::move(why), options_.places));
  }
}

void Jobs::change(Job& job, JobState state, double fraction, Message message) {
  const std::lock_guard lock(mutex_);
  job.view.state = state;
  job.view.fraction = fraction;
  job.view.message = std::move(message);
  ++job.view.changes;
}

}  // namespace canewise
