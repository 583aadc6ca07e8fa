#pragma once

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <httplib.h>
// A macro of <resolv.h>, which httplib includes; Eigen has variables of that name.
#undef _res

#include <chrono>
#include <filesystem>
#include <functional>
#include <memory>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <thread>
#include <vector>

#include "fixtures/scanner.h"
#include "fixtures/write_cloud.h"
#include "tests/support/scans.h"
#include "tests/support/temp_file.h"
#include "viewer/server/server.h"

// The real server with the real command behind it.
namespace canewise::test {

inline const std::string& scan() {
  static const std::string bytes = [] {
    fixtures::ReedFaults faults = rough_cane(1);
    faults.heavy_rail_um = 40.0;
    return fixtures::ply_binary(fixtures::scan_reed(fixtures::Reed({}, faults), fixtures::profilometer(), {}, 1).cloud);
  }();
  return bytes;
}

struct Running {
  TempFolder folder;
  std::unique_ptr<Server> server;
  explicit Running(const std::function<void(ServerOptions&)>& change = {}) {
    ServerOptions options;
    options.folder = folder.path();
    options.command = CANEWISE_COMMAND;
    options.player = options.folder / "player.toml";
    if (change) change(options);
    server = std::make_unique<Server>(options);
    server->start();
  }
  [[nodiscard]] httplib::Client client() const {
    httplib::Client http("127.0.0.1", server->port());
    http.set_read_timeout(60);
    http.set_default_headers({{"Cookie", cookie()}});
    return http;
  }
  /// Of somebody who does not have the address.
  [[nodiscard]] httplib::Client stranger() const { return httplib::Client("127.0.0.1", server->port()); }
  [[nodiscard]] std::string cookie() const {
    return fmt::format("canewise-{}={}", server->port(), server->secrets().reading);
  }
  [[nodiscard]] httplib::Headers writing() const { return {{"X-Canewise-Token", server->secrets().writing}}; }
  /// `more` as in '&reed=B3-7'.
  [[nodiscard]] httplib::Result send(const std::string& name, const std::string& bytes,
                                     const std::string& more = "") const {
    return client().Post("/api/scans?name=" + name + "&state=dry" + more, writing(), bytes, "application/octet-stream");
  }
  /// Every event of a job, to its end.
  [[nodiscard]] std::vector<nlohmann::json> events(const std::string& id) const {
    std::string text;
    (void)client().Get("/api/jobs/" + id + "/events", [&](const char* bytes, std::size_t count) {
      text.append(bytes, count);
      return true;
    });
    std::vector<nlohmann::json> told;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
      if (line.starts_with("data: ")) told.push_back(nlohmann::json::parse(line.substr(6)));
    return told;
  }
  [[nodiscard]] nlohmann::json end_of(const httplib::Result& upload) const {
    EXPECT_TRUE(upload);
    if (!upload) return {};
    EXPECT_EQ(upload->status, 202) << upload->body;
    if (upload->status != 202) return {};
    const auto told = events(nlohmann::json::parse(upload->body).at("id").get<std::string>());
    EXPECT_FALSE(told.empty());
    return told.empty() ? nlohmann::json() : told.back();
  }
  /// Uploads that are still on the disk.
  [[nodiscard]] int left_behind() const {
    int count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path()))
      count += entry.path().filename().string().starts_with(".canewise");
    return count;
  }
  /// For a while: the server may come to a connection that was cut only after this asks.
  [[nodiscard]] bool nothing_left_behind() const {
    int quiet = 0;
    for (int waits = 0; waits < 100 && quiet < 10; ++waits) {
      quiet = left_behind() == 0 ? quiet + 1 : 0;
      std::this_thread::sleep_for(std::chrono::milliseconds(50));
    }
    return quiet == 10;
  }
};

/// 0: no answer arrived.
inline int status_of(const httplib::Result& answer) { return answer ? answer->status : 0; }

}  // namespace canewise::test
