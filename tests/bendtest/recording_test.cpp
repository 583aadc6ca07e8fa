#include "scanproc/bendtest/recording.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "scanproc/core/error.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

std::string little(std::uint32_t value, int bytes) {
  std::string text;
  for (int k = 0; k < bytes; ++k) text += static_cast<char>((value >> (8 * k)) & 255U);
  return text;
}

/// 16-bit PCM by the published layout (RIFF WAVE, Microsoft and IBM 1991).
std::string wav(std::uint32_t rate, std::uint32_t channels, const std::vector<int>& samples) {
  const auto bytes = static_cast<std::uint32_t>(2 * samples.size());
  std::string file = "RIFF" + little(36 + bytes, 4) + "WAVEfmt " + little(16, 4) + little(1, 2) + little(channels, 2) +
                     little(rate, 4) + little(rate * channels * 2, 4) + little(channels * 2, 2) + little(16, 2) +
                     "data" + little(bytes, 4);
  for (const int sample : samples) file += little(static_cast<std::uint32_t>(sample), 2);
  return file;
}

TEST(Recording, AWaveFileIsReadAndItsChannelsAreAveraged) {
  const test::TempFolder folder;
  const Recording mono = read_recording(folder.file("mono.wav", wav(44100, 1, {0, 16384, -16384, 8192})));
  EXPECT_EQ(mono.rate_hz, 44100.0);
  ASSERT_EQ(mono.samples.size(), 4);
  EXPECT_NEAR(mono.samples(1), 0.5, 1e-4);
  EXPECT_NEAR(mono.samples(2), -0.5, 1e-4);
  const Recording stereo = read_recording(folder.file("stereo.wav", wav(48000, 2, {16384, 0, 16384, -16384})));
  ASSERT_EQ(stereo.samples.size(), 2);
  EXPECT_NEAR(stereo.samples(0), 0.25, 1e-4);
  EXPECT_NEAR(stereo.samples(1), 0.0, 1e-4);
}

TEST(Recording, WhatIsNoneIsRefusedByItsName) {
  const test::TempFolder folder;
  const auto refused = [&](const std::string& bytes) {
    const auto path = folder.file("tap.wav", bytes);
    try {
      static_cast<void>(read_recording(path));
    } catch (const InputError& error) {
      EXPECT_THAT(error.what(), testing::HasSubstr("tap.wav"));
      return true;
    }
    return false;
  };
  EXPECT_TRUE(refused(""));
  EXPECT_TRUE(refused("no sound at all"));
  EXPECT_TRUE(refused(wav(8000, 1, std::vector<int>(100, 0)))) << "too slow for a reed";
  EXPECT_TRUE(refused(wav(44100, 1, {}))) << "empty";
  EXPECT_TRUE(refused(wav(16000, 1, std::vector<int>(121 * 16000, 0)))) << "longer than two minutes";
  EXPECT_FALSE(refused(wav(16000, 1, std::vector<int>(119 * 16000, 0))));
  // A header that promises more than there is.
  std::string promised = wav(44100, 1, {1, 2, 3, 4});
  promised.replace(40, 4, little(0x7fffffff, 4));
  refused(promised);  // Refused or read as far as it goes: nothing else may happen.
  EXPECT_THROW(static_cast<void>(read_recording(folder.path() / "none.wav")), InputError);
}

}  // namespace
}  // namespace canewise
