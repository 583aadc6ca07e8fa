#pragma once

#include <cstddef>
#include <cstdio>
#include <map>
#include <string>

#include "tests/attack/support/wire.h"

namespace canewise::attack {

/// How a server got rid of what attacked it, counted; shown when the test ends.
class Tally {
 public:
  explicit Tally(std::string what) : what_(std::move(what)) {}
  ~Tally() {
    std::string how;
    for (const auto& [name, count] : how_) how += (how.empty() ? "" : ", ") + name + " " + std::to_string(count);
    std::printf("    %s: %zu connections, %zu bytes sent; %s\n", what_.c_str(), connections_, bytes_, how.c_str());
  }
  Tally(const Tally&) = delete;
  Tally& operator=(const Tally&) = delete;

  void add(const Answer& answer) {
    const std::string status = answer.status > 0 ? std::to_string(answer.status) : "no answer";
    add(answer.closed ? status : status + ", left open", answer.sent_bytes);
  }
  void add(const std::string& how, std::size_t bytes) {
    ++connections_;
    bytes_ += bytes;
    ++how_[how];
  }
  [[nodiscard]] const std::map<std::string, std::size_t>& how() const { return how_; }

 private:
  std::string what_;
  std::size_t connections_ = 0, bytes_ = 0;
  std::map<std::string, std::size_t> how_;
};

}  // namespace canewise::attack
