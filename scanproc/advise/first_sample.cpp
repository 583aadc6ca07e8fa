#include "scanproc/advise/first_sample.h"

#include <array>
#include <cmath>
#include <numeric>
#include <stdexcept>

namespace canewise {
namespace {

double log_choose(int n, int k) { return std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0); }
double log_beta(double a, double b) { return std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b); }

/// Parameters of one law of the grid, and how well it fits what is known.
struct Law {
  double alpha, beta, weight;
};

std::vector<Law> laws_given(const std::vector<TriedBox>& boxes) {
  constexpr int means = 40, spreads = 12;
  constexpr double least_worth = 1.0, most_worth = 100.0;
  std::vector<Law> laws;
  double best = -1e300;
  for (int m = 0; m < means; ++m) {
    const double mean = (m + 0.5) / means;
    for (int s = 0; s < spreads; ++s) {
      const double worth = least_worth * std::pow(most_worth / least_worth, (s + 0.5) / spreads);
      Law law{mean * worth, (1.0 - mean) * worth, 0.0};
      for (const TriedBox& box : boxes)
        law.weight += std::log(beta_binomial(box.suited, box.tried, law.alpha, law.beta));
      best = std::max(best, law.weight);
      laws.push_back(law);
    }
  }
  double sum = 0.0;
  for (Law& law : laws) sum += law.weight = std::exp(law.weight - best);
  for (Law& law : laws) law.weight /= sum;
  return laws;
}

/// Probabilities of 0, 1 ... `rest` suiting, once `box` is known.
std::vector<double> rest_given(const TriedBox& box, std::vector<TriedBox> earlier, int rest) {
  earlier.push_back(box);
  std::vector<double> chances(static_cast<std::size_t>(rest) + 1, 0.0);
  for (const Law& law : laws_given(earlier)) {
    const double alpha = law.alpha + box.suited, beta = law.beta + box.tried - box.suited;
    for (std::size_t k = 0; k < chances.size(); ++k)
      chances[k] += law.weight * beta_binomial(static_cast<int>(k), rest, alpha, beta);
  }
  return chances;
}

bool is_possible(const TriedBox& box) {
  return box.suited >= 0 && box.suited <= box.tried && box.tried <= box.holds && box.holds <= kMostReedsOfBox;
}

}  // namespace

double beta_binomial(int suited, int draws, double alpha, double beta) {
  return std::exp(log_choose(draws, suited) + log_beta(alpha + suited, beta + draws - suited) - log_beta(alpha, beta));
}

int bad_not_excluded(int holds, int tried) {
  constexpr double least = 0.05;
  for (int bad = 0; bad <= holds; ++bad) {
    if (holds - bad < tried) return bad - 1;
    if (std::exp(log_choose(holds - bad, tried) - log_choose(holds, tried)) <= least) return bad - 1;
  }
  return holds;
}

RestOfBox rest_of_box(const TriedBox& box, const std::vector<TriedBox>& earlier) {
  if (!is_possible(box)) throw std::invalid_argument("no such box");
  for (const TriedBox& other : earlier)
    if (!is_possible(other)) throw std::invalid_argument("no such earlier box");
  RestOfBox found;
  found.rest = box.holds - box.tried;
  if (found.rest == 0) return found;
  found.next_suits = rest_given(box, earlier, 1)[1];
  found.with_no_memory = rest_given(box, {}, 1)[1];
  const std::vector<double> chances = rest_given(box, earlier, found.rest);
  const int half = (found.rest + 1) / 2;
  found.half_of_rest_suit = std::accumulate(chances.begin() + half, chances.end(), 0.0);
  constexpr double tail = 0.05;
  double below = 0.0;
  for (found.fewest = 0; below + chances[static_cast<std::size_t>(found.fewest)] <= tail; ++found.fewest)
    below += chances[static_cast<std::size_t>(found.fewest)];
  double above = 0.0;
  for (found.most = found.rest; above + chances[static_cast<std::size_t>(found.most)] <= tail; --found.most)
    above += chances[static_cast<std::size_t>(found.most)];
  constexpr double likely = 0.8, unlikely = 0.2;
  found.advice = found.half_of_rest_suit >= likely     ? BoxAdvice::go_on
                 : found.half_of_rest_suit <= unlikely ? BoxAdvice::set_aside
                                                       : BoxAdvice::try_one_more;
  return found;
}

}  // namespace canewise
