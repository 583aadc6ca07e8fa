// Scans that wait and run, with a small program in the command's place.
#include "viewer/server/jobs.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <fstream>
#include <nlohmann/json.hpp>
#include <thread>

#include "scanproc/words/message_json.h"
#include "tests/support/temp_file.h"
#include "viewer/server/job_events.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

/// Jobs whose measuring is what `script` does; its arguments are those of the command.
struct Running {
  test::TempFolder folder;
  std::unique_ptr<Jobs> jobs;
  int scans = 0;
  explicit Running(const std::string& script, const std::function<void(JobsOptions&)>& change = {}) {
    const fs::path command = folder.path() / "command";
    std::ofstream(command) << "#!/bin/sh\n" << script << "\n";
    fs::permissions(command, fs::perms::owner_all);
    JobsOptions options;
    options.folder = folder.path();
    options.command = command;
    if (change) change(options);
    jobs = std::make_unique<Jobs>(options);
  }
  IncomingScan scan(const std::string& name = "reed.ply", std::vector<std::string> options = {}) {
    const fs::path place = folder.path() / (".incoming-" + std::to_string(++scans));
    fs::create_directories(place);
    std::ofstream(place / name) << "bytes";
    return {place / name, std::move(options)};
  }
  [[nodiscard]] JobView end_of(const std::string& id) const {
    for (int waits = 0; waits < 500; ++waits) {
      const auto view = jobs->view(id);
      if (view && view->over()) return *view;
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    ADD_FAILURE() << "a job does not end";
    return {};
  }
  void wait_for(JobState state, const std::string& id) const {
    for (int waits = 0; waits < 500 && jobs->view(id)->state != state; ++waits)
      std::this_thread::sleep_for(std::chrono::milliseconds(10));
    ASSERT_EQ(jobs->view(id)->state, state);
  }
};

const std::string kSleeps = "exec sleep 100";

TEST(Jobs, SoManyRunSoManyWaitAndNoMoreAreTaken) {
  Running running(kSleeps, [](JobsOptions& o) { o.at_once = 2, o.waiting = 3; });
  std::vector<std::string> ids;
  for (int k = 0; k < 2; ++k) {
    ids.push_back(running.jobs->start(running.scan()).value());
    running.wait_for(JobState::measuring, ids.back());
  }
  for (int k = 0; k < 3; ++k) ids.push_back(running.jobs->start(running.scan()).value());
  EXPECT_FALSE(running.jobs->start(running.scan()));
  for (int k = 2; k < 5; ++k) EXPECT_EQ(running.jobs->view(ids[static_cast<std::size_t>(k)])->state, JobState::waiting);
  ASSERT_TRUE(running.jobs->cancel(ids[2]));
  EXPECT_TRUE(running.jobs->start(running.scan())) << "a place is free again";
}

TEST(Jobs, SixtyWaitUnlessSaidOtherwise) { EXPECT_EQ(JobsOptions{}.waiting, 60U); }

TEST(Jobs, WhatIsDoneTellsItsStagesAndItsResultAndLeavesNoScan) {
  Running running("echo '{\"stage\":{\"id\":\"stage.read\"},\"fraction\":0.5}' >&3; sleep 0.5; exit 0");
  const auto scan = running.scan("my reed.ply");
  const std::string id = running.jobs->start(scan).value();
  double most = 0.0;
  for (int waits = 0; waits < 500 && !running.jobs->view(id)->over(); ++waits) {
    const JobView now = *running.jobs->view(id);
    if (now.fraction > most) {
      EXPECT_EQ(now.message.id, "stage.read");
    }
    most = std::max(most, now.fraction);
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  EXPECT_EQ(most, 0.5);
  const JobView end = running.end_of(id);
  EXPECT_EQ(end.state, JobState::done);
  EXPECT_EQ(end.result, "my reed");
  for (int waits = 0; waits < 100 && fs::exists(scan.file); ++waits)
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  EXPECT_FALSE(fs::exists(scan.file.parent_path()));
}

TEST(Jobs, TheCommandIsGivenTheScanItsPlaceAndAllOptions) {
  Running running("printf '%s\\n' \"$@\" >\"$(dirname \"$0\")/arguments\"", [](JobsOptions& o) {
    o.measure_options = {"--rig", "my.toml"};
  });
  const auto scan = running.scan("reed.ply", {"--state", "wet"});
  const JobView end = running.end_of(running.jobs->start(scan).value());
  EXPECT_EQ(end.state, JobState::done);
  std::ifstream file(running.folder.path() / "arguments");
  std::vector<std::string> arguments;
  for (std::string line; std::getline(file, line);) arguments.push_back(line);
  EXPECT_THAT(arguments,
              testing::ElementsAre("measure", scan.file.string(), "--out", (running.folder.path() / "reed").string(),
                                   "--progress-to=3", "--rig", "my.toml", "--state", "wet"));
}

TEST(Jobs, WhatALibraryWritesToStandardErrorForgesNoStage) {
  Running running("echo '{\"stage\":{\"id\":\"stage.read\"},\"fraction\":0.9}' >&2; sleep 0.3; exit 3");
  const std::string id = running.jobs->start(running.scan()).value();
  running.wait_for(JobState::measuring, id);
  std::this_thread::sleep_for(std::chrono::milliseconds(150));
  EXPECT_EQ(running.jobs->view(id)->fraction, 0.0);
  EXPECT_EQ(running.end_of(id).state, JobState::refused);
}

TEST(Jobs, AWrongTypeInTheProtocolHarmsNobody) {
  Running running(
      "echo '{\"stage\":1,\"fraction\":\"much\"}' >&3; echo '{\"refused\":[]}' >&3; echo nonsense >&3; exit 0");
  for (int k = 0; k < 20; ++k)
    EXPECT_EQ(running.end_of(running.jobs->start(running.scan()).value()).state, JobState::done) << k;
}

TEST(Jobs, ACancelThatComesAfterTheEndChangesNothing) {
  Running running("trap '' TERM; echo '{\"stage\":{\"id\":\"stage.read\"},\"fraction\":0.9}' >&3; sleep 0.4; exit 0");
  const std::string id = running.jobs->start(running.scan()).value();
  for (int waits = 0; waits < 500 && running.jobs->view(id)->fraction < 0.5; ++waits)
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  EXPECT_TRUE(running.jobs->cancel(id));
  const JobView end = running.end_of(id);
  EXPECT_EQ(end.state, JobState::done) << "the result is there";
  EXPECT_EQ(end.result, "reed");
  EXPECT_TRUE(running.jobs->cancel(id));
  EXPECT_EQ(running.jobs->view(id)->state, JobState::done);
}

TEST(Jobs, CancelledOnesEndWhetherTheyWaitOrRun) {
  Running running(kSleeps, [](JobsOptions& o) { o.at_once = 1; });
  const std::string runs = running.jobs->start(running.scan()).value();
  const auto scan = running.scan();
  const std::string waits = running.jobs->start(scan).value();
  running.wait_for(JobState::measuring, runs);
  EXPECT_TRUE(running.jobs->cancel(waits));
  EXPECT_EQ(running.jobs->view(waits)->state, JobState::cancelled);
  EXPECT_FALSE(fs::exists(scan.file));
  EXPECT_TRUE(running.jobs->cancel(runs));
  EXPECT_EQ(running.end_of(runs).state, JobState::cancelled);
  EXPECT_FALSE(running.jobs->cancel("no such job"));
}

TEST(Jobs, NamesThatAreTakenGetANumber) {
  Running running("mkdir \"$4\"", [](JobsOptions& o) { o.reserved = {"player.toml"}; });
  EXPECT_EQ(running.end_of(running.jobs->start(running.scan("a.ply")).value()).result, "a");
  EXPECT_EQ(running.end_of(running.jobs->start(running.scan("a.ply")).value()).result, "a-2");
  EXPECT_EQ(running.end_of(running.jobs->start(running.scan("player.toml.ply")).value()).result, "player.toml-2");
}

TEST(Jobs, NoRefusalNamesAPlaceOnThisComputer) {
  const auto refused_by = [](const std::string& script) {
    Running running(script, [](JobsOptions& o) { o.places = {o.folder, "/secret/rigs"}; });
    const JobView end = running.end_of(running.jobs->start(running.scan()).value());
    EXPECT_EQ(end.state, JobState::refused);
    const nlohmann::json said = end.message;
    EXPECT_EQ(said.dump().find(running.folder.path().string()), std::string::npos) << said;
    EXPECT_EQ(said.dump().find("/secret"), std::string::npos) << said;
    return end.message.id;
  };
  const std::string told =
      "echo '{\"refused\":{\"id\":\"in_file\",\"file\":{\"text\":\"'$(dirname \"$0\")'/player.toml\"},"
      "\"what\":{\"parts\":[{\"id\":\"cli.stopped\"}]}}}' >&3; exit ";
  refused_by(told + "3");
  refused_by("echo /secret/rigs/my.toml: broken >&2; exit 3");
  EXPECT_EQ(refused_by(told + "6"), "serve.result_not_written") << "with what to do there, not here";
}

TEST(Jobs, ALinkThatLeadsNowhereHasItsNameAllTheSame) {
  Running running("exit 0");
  fs::create_symlink("nothing", running.folder.path() / "a");
  fs::create_symlink("loop", running.folder.path() / "loop");
  EXPECT_EQ(running.end_of(running.jobs->start(running.scan("a.ply")).value()).result, "a-2");
  EXPECT_EQ(running.end_of(running.jobs->start(running.scan("loop.ply")).value()).result, "loop-2");
}

TEST(Jobs, StopEndsAllWithinTwoSeconds) {
  Running running("trap '' TERM; while :; do sleep 0.1; done");
  for (int k = 0; k < 5; ++k) ASSERT_TRUE(running.jobs->start(running.scan()));
  std::this_thread::sleep_for(std::chrono::milliseconds(200));
  const auto begin = std::chrono::steady_clock::now();
  running.jobs->stop();
  EXPECT_FALSE(running.jobs->start(running.scan()));
  running.jobs.reset();
  EXPECT_LT(std::chrono::steady_clock::now() - begin, std::chrono::seconds(2)) << "even those that will not hear";
}

TEST(JobEvents, TellEachChangeOnceAndEnd) {
  Running running("sleep 0.3; exit 0");
  EventStreams streams;
  const std::string id = running.jobs->start(running.scan()).value();
  auto told = events_of(id, *running.jobs, streams);
  const auto& answer = std::get<HttpAnswer>(told);
  EXPECT_EQ(answer.type, "text/event-stream");
  std::string text;
  bool over = false;
  for (int asks = 0; asks < 500 && !over; ++asks) {
    const EventNews news = answer.events();
    text += news.text;
    over = news.over;
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  EXPECT_TRUE(over);
  EXPECT_THAT(text, HasSubstr("\"state\":\"done\""));
  const std::string once = "\"state\":\"measuring\"";
  EXPECT_EQ(text.find(once), text.rfind(once));
}

TEST(JobEvents, SixteenStreamsAreOpenAtMost) {
  Running running(kSleeps);
  const std::string id = running.jobs->start(running.scan()).value();
  EventStreams streams;
  std::vector<HttpAnswer> open;
  for (int k = 0; k < 16; ++k) open.push_back(std::get<HttpAnswer>(events_of(id, *running.jobs, streams)));
  EXPECT_EQ(std::get<EventsRefused>(events_of(id, *running.jobs, streams)), EventsRefused::too_many);
  open.pop_back();
  EXPECT_TRUE(std::holds_alternative<HttpAnswer>(events_of(id, *running.jobs, streams))) << "one was closed";
  EXPECT_EQ(std::get<EventsRefused>(events_of("nothing", *running.jobs, streams)), EventsRefused::no_such_job);
}

}  // namespace
}  // namespace canewise
