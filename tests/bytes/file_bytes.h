#pragma once

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/core/error.h"
#include "scanproc/heights/height_map.h"
#include "tests/support/temp_file.h"

namespace canewise::test {

/// What `read` makes of a file with these bytes.
template <typename Read>
auto with_file(const std::string& bytes, const Read& read) {
  const TempFolder folder;
  return read(ScanFile(folder.file("sample.dat", bytes)));
}

/// The words in which `read` refuses a file with these bytes; they must name the file.
template <typename Read>
std::string refusal(const std::string& bytes, const Read& read) {
  const TempFolder folder;
  const auto path = folder.file("sample.dat", bytes);
  try {
    (void)read(ScanFile(path));
  } catch (const InputError& error) {
    const std::string words = error.what();
    EXPECT_NE(words.find("sample.dat"), std::string::npos) << words;
    return words;
  }
  ADD_FAILURE() << "was read without complaint";
  return {};
}

/// What a refusal may take: the files here promise a gigabyte and more. Wide enough for the sanitizers' own needs.
inline constexpr std::int64_t kLittleMemory = 48 << 20;

/// How far `work` raises the highest memory use, in bytes. It runs in a process of its own: a peak never falls again,
/// so that in this one an earlier test could hide it.
template <typename Work>
std::int64_t peak_growth(const Work& work) {
  std::array<int, 2> channel{};
  if (::pipe(channel.data()) != 0) return std::numeric_limits<std::int64_t>::max();
  const pid_t child = ::fork();
  if (child == 0) {
    const auto peak = [] {
      rusage usage{};
      getrusage(RUSAGE_SELF, &usage);
      return std::int64_t{1024} * usage.ru_maxrss;
    };
    const auto checks = [] {
      return testing::UnitTest::GetInstance()->current_test_info()->result()->total_part_count();
    };
    const int failed_before = checks();
    const std::int64_t before = peak();
    work();
    const std::int64_t growth = peak() - before;
    const auto written = ::write(channel[1], &growth, sizeof(growth));
    ::_exit(written == sizeof(growth) && checks() == failed_before ? 0 : 1);
  }
  ::close(channel[1]);
  std::int64_t growth = 0;
  const auto got = ::read(channel[0], &growth, sizeof(growth));
  ::close(channel[0]);
  int status = 0;
  ::waitpid(child, &status, 0);
  EXPECT_EQ(got, static_cast<ssize_t>(sizeof(growth)));
  EXPECT_EQ(status, 0) << "a check inside the measured work failed";
  return growth;
}

/// Number of entries whose bits differ; every NaN counts as the same.
inline std::size_t differing_bits(const std::vector<double>& a, const std::vector<double>& b) {
  if (a.size() != b.size()) return std::max(a.size(), b.size());
  std::size_t differing = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (std::isnan(a[i]) && std::isnan(b[i])) continue;
    differing += std::bit_cast<std::uint64_t>(a[i]) != std::bit_cast<std::uint64_t>(b[i]) ? 1 : 0;
  }
  return differing;
}

/// Greatest difference of two lists of heights; infinite where one has a height and the other none.
inline double greatest_difference(const std::vector<double>& a, const std::vector<double>& b) {
  if (a.size() != b.size()) return std::numeric_limits<double>::infinity();
  double greatest = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (std::isnan(a[i]) && std::isnan(b[i])) continue;
    if (std::isnan(a[i]) != std::isnan(b[i])) return std::numeric_limits<double>::infinity();
    greatest = std::max(greatest, std::abs(a[i] - b[i]));
  }
  return greatest;
}

/// `bytes` with the little-endian `value` written over what is at `offset`.
template <typename T>
std::string patched(std::string bytes, std::size_t offset, T value) {
  std::memcpy(bytes.data() + offset, &value, sizeof(value));
  return bytes;
}

/// The little-endian number at `offset`.
template <typename T>
T number_at(const std::string& bytes, std::size_t offset) {
  T value{};
  std::memcpy(&value, bytes.data() + offset, sizeof(value));
  return value;
}

}  // namespace canewise::test
