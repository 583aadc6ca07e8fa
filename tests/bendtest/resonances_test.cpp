// Synthetic taps, whose frequencies and decays are known: within 0.3 % and 15 %.
#include "scanproc/bendtest/resonances.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "fixtures/taps.h"

namespace canewise {
namespace {

using fixtures::Ring;
using fixtures::TapScene;

const Resonance* near(const HeardTaps& heard, double frequency_hz) {
  for (const Resonance& r : heard.resonances)
    if (std::abs(r.frequency_hz / frequency_hz - 1.0) < 0.02) return &r;
  return nullptr;
}

void expect_heard(const std::vector<Ring>& rings, const TapScene& scene, std::uint64_t seed) {
  const HeardTaps heard = find_resonances({scene.rate_hz, fixtures::tap_sound(rings, scene, seed)});
  EXPECT_EQ(heard.taps, scene.taps);
  for (const Ring& ring : rings) {
    const Resonance* r = near(heard, ring.frequency_hz);
    ASSERT_TRUE(r) << ring.frequency_hz << " Hz, Q " << ring.q;
    EXPECT_NEAR(r->frequency_hz / ring.frequency_hz, 1.0, 0.003);
    EXPECT_NEAR(r->q / ring.q, 1.0, 0.15) << ring.frequency_hz;
    EXPECT_LT(std::abs(r->frequency_hz - ring.frequency_hz), 4.0 * r->u_frequency_hz);
    EXPECT_LT(std::abs(r->q - ring.q), 4.0 * r->u_q);
  }
}

TEST(Resonances, TwoDecaysAreFoundInAPhonesNoise) {
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    std::mt19937_64 random(seed);
    std::uniform_real_distribution<double> uniform(0.0, 1.0);
    const double first = 1200.0 + 1200.0 * uniform(random);
    expect_heard({{first, 20.0 + 25.0 * uniform(random), 1.0},
                  {first * (1.7 + 0.8 * uniform(random)), 20.0 + 25.0 * uniform(random), 0.5}},
                 {}, seed);
  }
}

TEST(Resonances, HumAndTheFingersKnockDoNotMoveThem) {
  expect_heard({{1500.0, 30.0, 1.0}, {3300.0, 25.0, 0.6}}, {.hum = 0.5, .room = 1.0}, 3);
}

TEST(Resonances, WhereTheRecordingIsClippedTheFitBeginsLater) {
  expect_heard({{1500.0, 40.0, 1.0}, {3300.0, 40.0, 0.8}}, {.noise = 0.001, .clip_at = 0.5}, 4);
}

TEST(Resonances, OtherRatesDoNotMatter) {
  for (const double rate_hz : {22050.0, 48000.0, 96000.0})
    expect_heard({{1800.0, 30.0, 1.0}, {4100.0, 30.0, 0.6}}, {.rate_hz = rate_hz}, 5);
}

TEST(Resonances, TwoThatLieNearEachOtherAreTwo) {
  expect_heard({{2000.0, 40.0, 1.0}, {2180.0, 40.0, 1.0}}, {.noise = 0.001}, 6);
}

TEST(Resonances, NoiseHumSilenceAndOneTapAreNone) {
  std::mt19937_64 random(1);
  std::normal_distribution<double> normal;
  Eigen::VectorXd noise(44100), hum(44100);
  for (Eigen::Index n = 0; n < noise.size(); ++n) {
    noise(n) = 0.1 * normal(random);
    hum(n) = 0.3 * std::sin(2.0 * std::numbers::pi * 50.0 * static_cast<double>(n) / 44100.0);
  }
  EXPECT_TRUE(find_resonances({44100.0, noise}).resonances.empty());
  EXPECT_TRUE(find_resonances({44100.0, hum}).resonances.empty());
  EXPECT_TRUE(find_resonances({44100.0, Eigen::VectorXd::Zero(44100)}).resonances.empty());
  EXPECT_TRUE(find_resonances({44100.0, {}}).resonances.empty());
  EXPECT_TRUE(
      find_resonances({44100.0, fixtures::tap_sound({{1500.0, 30.0, 1.0}}, {.taps = 1}, 2)}).resonances.empty());
}

}  // namespace
}  // namespace canewise
