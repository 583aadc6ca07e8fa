#pragma once

#include <vector>

namespace canewise {

/// A box of which some reeds were tried.
struct TriedBox {
  int holds = 0;  ///< Reeds in it when it was bought.
  int tried = 0;
  int suited = 0;  ///< Of those.
};

inline constexpr int kMostReedsOfBox = 1000;

enum class BoxAdvice { go_on, try_one_more, set_aside, nothing_left };

/// What the tried reeds say of the others.
struct RestOfBox {
  int rest = 0;
  double next_suits = 0.0;         ///< Probability that the next one suits.
  double half_of_rest_suit = 0.0;  ///< Probability that half of the rest or more do.
  int fewest = 0, most = 0;        ///< As many of the rest suit, with 90 %.
  double with_no_memory = 0.0;     ///< next_suits without what earlier boxes taught.
  BoxAdvice advice = BoxAdvice::nothing_left;
};

/// How many reeds of a box suit is drawn from a beta-binomial law whose mean and spread from box to box are unknown:
/// the mean evenly between 0 and 1, the spread worth 1 to 100 reeds, evenly in its logarithm. `earlier` boxes of the
/// same kind narrow both; the result averages over what is left ([BDA3], 5.3, on a grid). So a second reed that
/// suits says more where boxes used to be all alike, and two reeds never say more than two reeds can.
///
/// Advice: 'go on' if half of the rest suit with a probability of 0.8 or more, 'set aside' if with 0.2 or less.
/// Throws std::invalid_argument for counts that do not fit each other.
[[nodiscard]] RestOfBox rest_of_box(const TriedBox& box, const std::vector<TriedBox>& earlier);

/// Probability that so many of `draws` suit: the beta-binomial law with `alpha`, `beta`.
[[nodiscard]] double beta_binomial(int suited, int draws, double alpha, double beta);

/// Bad reeds that a whole box may hold at most, with 95 %, if none of the `tried` was bad, by counting alone
/// (hypergeometric law): one less than the fewest that would have shown in 95 of 100 such samples.
[[nodiscard]] int bad_not_excluded(int holds, int tried);

}  // namespace canewise
