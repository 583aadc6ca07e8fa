#include "scanproc/advise/likeness.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

namespace canewise {
namespace {

/// The smallest difference that counts; of stiffness a share.
struct LeastDifference {
  std::string_view figure;
  double value;
  bool is_share = false;
};
/// A quarter strength (half of 1.15 to one), tolerances of a clarinet, half a millimetre of vamp.
constexpr std::array kLeast{LeastDifference{"stiffness", 0.07, true},
                            LeastDifference{"imbalance tip", 0.06},
                            LeastDifference{"imbalance lip", 0.06},
                            LeastDifference{"tip", 8.0},
                            LeastDifference{"heart", 30.0},
                            LeastDifference{"rails", 15.0},
                            LeastDifference{"vamp", 0.5}};

double square(double x) { return x * x; }

Likeness likeness_of(const NamedFigures& reed, const std::vector<KeeperFigure>& keepers) {
  Likeness found{
      .label = reed.label, .distance = std::nan(""), .u = std::nan(""), .rank = 0, .farthest = {}, .by = 0.0};
  double squares = 0.0, variance = 0.0, weights = 0.0, farthest = -1.0;
  for (const KeeperFigure& keeper : keepers) {
    const FigureValue* const figure = figure_named(reed.figures, keeper.name);
    if (figure == nullptr) continue;
    const double u = figure->u / keeper.alike;
    const double apart = (figure->value - keeper.mean) / keeper.alike;
    // What the scan hardly tells hardly counts.
    const double weight = 1.0 / (1.0 + square(u));
    squares += weight * square(apart);
    // Of the sum of squares: 4 d^2 u^2, and 2 u^4 where the difference itself is nothing.
    variance += square(weight) * (4.0 * square(apart * u) + 2.0 * square(square(u)));
    weights += weight;
    if (weight * std::abs(apart) > farthest) {
      farthest = weight * std::abs(apart);
      found.farthest = keeper.name;
      found.by = figure->value - keeper.mean;
    }
  }
  if (!(weights > 0.0)) return found;
  found.distance = std::sqrt(squares / weights);
  const double u_squares = std::sqrt(variance) / weights;
  // Near nothing the square root has no slope: what it may be then is the square root of the spread.
  found.u = std::min(u_squares / (2.0 * std::max(found.distance, 1e-12)), std::sqrt(u_squares));
  return found;
}

}  // namespace

std::vector<KeeperFigure> keeper_figures(const std::vector<NamedFigures>& keepers) {
  std::vector<KeeperFigure> figures;
  if (keepers.empty()) return figures;
  const auto n = static_cast<double>(keepers.size());
  for (const auto& [name, least, is_share] : kLeast) {
    double sum = 0.0;
    bool all_have_it = true;
    for (const NamedFigures& keeper : keepers) {
      const FigureValue* const figure = figure_named(keeper.figures, name);
      all_have_it = all_have_it && figure != nullptr;
      if (figure != nullptr) sum += figure->value;
    }
    if (!all_have_it) continue;
    KeeperFigure found{std::string(name), sum / n, 0.0};
    double spread = 0.0;
    for (const NamedFigures& keeper : keepers) spread += square(figure_named(keeper.figures, name)->value - found.mean);
    if (keepers.size() > 1) spread = std::sqrt(spread / (n - 1.0));
    found.alike = std::max(is_share ? least * std::abs(found.mean) : least, spread);
    if (found.alike > 0.0) figures.push_back(found);
  }
  return figures;
}

std::vector<Likeness> by_likeness(const std::vector<NamedFigures>& reeds, const std::vector<NamedFigures>& keepers) {
  const std::vector<KeeperFigure> of_keepers = keeper_figures(keepers);
  std::vector<Likeness> all;
  if (of_keepers.empty()) return all;
  for (const NamedFigures& reed : reeds) {
    Likeness likeness = likeness_of(reed, of_keepers);
    if (std::isfinite(likeness.distance)) all.push_back(std::move(likeness));
  }
  std::sort(all.begin(), all.end(), [](const Likeness& a, const Likeness& b) {
    return a.distance != b.distance ? a.distance < b.distance : a.label < b.label;
  });
  constexpr double kSure = 1.96;
  for (std::size_t k = 0, first = 0; k < all.size(); ++k) {
    const bool is_farther = all[k].distance - all[first].distance > kSure * std::hypot(all[k].u, all[first].u);
    if (k == 0 || is_farther) first = k;
    all[k].rank = static_cast<int>(first) + 1;
  }
  return all;
}

}  // namespace canewise
