#include "scanproc/bendtest/bend_test_words.h"

#include <cmath>
#include <utility>

#include "scanproc/core/budget.h"

namespace canewise {
namespace {

double sd_of(const BendTest& test, CanePart part) {
  const auto k = static_cast<Eigen::Index>(part);
  return std::sqrt(test.cane.covariance(k, k));
}
bool was_told(const BendTest& test, CanePart part) { return test.told.at(static_cast<std::size_t>(part)); }
Argument percent(double share, int decimals = 0) { return number(100.0 * share, decimals); }

Message sides_words(const BendTest& test) {
  const double sides = test.cane.left_right, u95 = kCoverage95 * sd_of(test, CanePart::left_right);
  if (!was_told(test, CanePart::left_right)) return {"bendtest.sides_not_told", {{"u", percent(u95)}}};
  constexpr double sharp = 0.03;
  if (std::abs(sides) < u95)
    return {u95 < sharp ? MessageId("bendtest.sides_alike") : MessageId("bendtest.sides_unseen"),
            {{"u", percent(u95, 1)}}};
  return {
      "bendtest.sides",
      {{"side", word(sides > 0.0 ? "right" : "left")}, {"more", percent(std::abs(sides), 1)}, {"u", percent(u95, 1)}}};
}

Message stiffness_words(const BendTest& test) {
  const BestKnownModulus best = best_known_modulus(test.cane);
  const double ratio = best.e_l_mpa / modulus_at(cane_in(test.cane.state).cane, best.depth_mm) - 1.0;
  constexpr double like_usual = 0.10;
  return {"bendtest.modulus",
          {{"than", word(std::abs(ratio) < like_usual ? "like"
                         : ratio > 0.0                ? "stiffer"
                                                      : "softer")},
           {"percent", percent(std::abs(ratio))},
           {"u", percent(kCoverage95 * best.u_rel, 1)}}};
}

}  // namespace

Messages learned_words(const BendTest& test) {
  Messages words{sides_words(test), stiffness_words(test)};
  // What was found comes first.
  if (words.front().id == "bendtest.sides_not_told") std::swap(words.front(), words.back());
  return words;
}

Message tap_words(const TapWitness& tap) {
  constexpr int fewest_taps = 2;
  if (tap.taps < fewest_taps) return {"tap.no_taps"};
  if (tap.modes.empty() && !tap.elsewhere)
    return {"tap.not_heard", {{"taps", count(static_cast<std::size_t>(tap.taps))}}};
  const HeardMode& first = tap.modes.empty() ? *tap.elsewhere : tap.modes.front();
  const Arguments heard{{"heard", number(first.heard.frequency_hz)},
                        {"q", number(first.heard.q)},
                        {"computed", number(first.computed_hz)},
                        {"u", number(kCoverage95 * first.u_computed_hz)}};
  if (tap.modes.size() == 1) return {"tap.one_heard", heard};
  if (!tap.agrees) return {"tap.disagrees", heard};
  constexpr auto density = static_cast<Eigen::Index>(CanePart::density);
  Arguments with = heard;
  with["second"] = number(tap.modes.back().heard.frequency_hz);
  with["density"] = number(tap.cane.cane.density_kg_per_m3);
  with["u_density"] = percent(kCoverage95 * std::sqrt(tap.cane.covariance(density, density)));
  return {"tap.agrees", with};
}

}  // namespace canewise
