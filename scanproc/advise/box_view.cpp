#include "scanproc/advise/box_view.h"

#include <algorithm>
#include <array>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <map>

#include "scanproc/advise/signs.h"
#include "scanproc/scrape/scrape_plan.h"

namespace canewise {
namespace {

constexpr std::array kFigures{"stiffness", "imbalance tip", "imbalance lip", "tip", "heart", "rails", "vamp"};

double square(double x) { return x * x; }

std::vector<FigureValue> named(const std::string& figure, const std::vector<NamedFigures>& reeds,
                               std::vector<std::string>& labels) {
  std::vector<FigureValue> values;
  for (const NamedFigures& reed : reeds) {
    for (const FigureValue& value : reed.figures) {
      if (value.name != figure) continue;
      values.push_back(value);
      labels.push_back(reed.label);
    }
  }
  return values;
}

struct MeanAndSquares {
  double mean = 0.0, squares = 0.0, n = 0.0;
};

MeanAndSquares without(const std::vector<FigureValue>& values, std::size_t left_out) {
  MeanAndSquares sums;
  for (std::size_t k = 0; k < values.size(); ++k)
    if (k != left_out) sums.mean += values[k].value, sums.n += 1.0;
  sums.mean /= sums.n;
  for (std::size_t k = 0; k < values.size(); ++k)
    if (k != left_out) sums.squares += square(values[k].value - sums.mean);
  return sums;
}

/// Whether the box's reeds, this one left out, make such a value improbable.
bool stands_apart(const std::vector<FigureValue>& values, std::size_t which) {
  // One box in twenty whose reeds all come from one law shows such a reed.
  const double share_within = 1.0 - 0.05 / static_cast<double>(values.size());
  const MeanAndSquares others = without(values, which);
  const double free = others.n - 1.0;
  const double t = boost::math::quantile(boost::math::students_t(free), 0.5 * (1.0 + share_within));
  const double next = std::sqrt(others.squares / free * (1.0 + 1.0 / others.n) + square(values[which].u));
  return std::abs(values[which].value - others.mean) > t * next;
}

ReedOfBox reed_of_box(const Ledger& ledger, ReedRecord record) {
  ReedOfBox reed;
  reed.result = latest_result(ledger, record.label);
  const auto trials = trials_of(ledger, record.label);
  if (!trials.empty()) reed.trial = trials.front();
  reed.reed = std::move(record);
  reed.shelf = shelf_of(reed);
  return reed;
}

struct Tried {
  TriedBox box;
  int with_work = 0;
};

/// Those in the bin count as tried: bad ones go there, and the others would look better for it.
Tried tried_of(const std::vector<ReedOfBox>& reeds) {
  Tried tried;
  for (const ReedOfBox& reed : reeds) {
    const Shelf by_scan = shelf_of(reed.result);
    const bool is_tried = reed.trial || by_scan != Shelf::not_known;
    tried.box.holds += is_tried || !reed.reed.is_binned();
    if (!is_tried) continue;
    ++tried.box.tried;
    tried.box.suited += reed.trial ? suits(*reed.trial) : by_scan != Shelf::lay_aside;
    tried.with_work += !reed.trial && by_scan == Shelf::worth_work;
  }
  return tried;
}

std::vector<ReedOfBox> all_reeds_of(const Ledger& ledger, const std::string& box) {
  std::vector<ReedOfBox> reeds;
  for (const Row& row : ledger.rows("reed", {.equal = {{"box", box}}, .order_by = "number"}))
    reeds.push_back(reed_of_box(ledger, reed_from(row)));
  return reeds;
}

/// The same player, instrument, strength and cut; strangers to each other where player or strength is not known.
bool are_of_one_kind(const BoxRecord& a, const BoxRecord& b) {
  return !a.player.empty() && !a.strength.empty() && a.player == b.player && a.instrument == b.instrument &&
         a.strength == b.strength && a.cut == b.cut;
}

/// That of most of the measured reeds.
std::string usual_state(const std::vector<NamedFigures>& reeds) {
  std::map<std::string, int> states;
  for (const NamedFigures& reed : reeds) ++states[reed.state];
  std::string usual;
  for (const auto& [state, count] : states)
    if (usual.empty() || count > states[usual]) usual = state;
  return usual;
}

std::vector<NamedFigures> in_state(const std::vector<NamedFigures>& reeds, const std::string& state) {
  std::vector<NamedFigures> some;
  for (const NamedFigures& reed : reeds)
    if (reed.state == state) some.push_back(reed);
  return some;
}

}  // namespace

std::string_view name_of(Shelf shelf) {
  switch (shelf) {
    case Shelf::play_now:
      return "play now";
    case Shelf::worth_work:
      return "worth work";
    case Shelf::lay_aside:
      return "lay aside";
    case Shelf::not_known:
      break;
  }
  return "not known";
}

Shelf shelf_of(const std::optional<ResultRecord>& result) {
  if (!result) return Shelf::not_known;
  if (result->plan == name_of(PlanStatus::nothing_to_do)) return Shelf::play_now;
  if (result->plan == name_of(PlanStatus::steps)) return Shelf::worth_work;
  if (result->plan == name_of(PlanStatus::cannot_save)) return Shelf::lay_aside;
  return Shelf::not_known;
}

std::vector<NamedFigures> keepers_of(const Ledger& ledger, const std::string& player, const std::string& instrument) {
  std::vector<NamedFigures> keepers;
  if (player.empty()) return keepers;
  for (const Row& row :
       ledger.rows("reed", {.equal = {{"player", player}, {"is_keeper", std::int64_t{1}}, {"binned_at", Cell()}}})) {
    const std::string label = reed_from(row).label;
    const auto result = latest_result(ledger, label);
    if (result && (instrument.empty() || result->instrument == instrument))
      keepers.push_back({label, result->figures, result->state});
  }
  return keepers;
}

Shelf shelf_of(const ReedOfBox& reed) {
  if (reed.reed.stage == ReedStage::retired) return Shelf::lay_aside;
  const Shelf by_scan = shelf_of(reed.result);
  if (!reed.trial) return by_scan;
  if (suits(*reed.trial)) return Shelf::play_now;
  return by_scan == Shelf::worth_work ? Shelf::worth_work : Shelf::lay_aside;
}

FigureSpread spread_of(const std::string& figure, const std::vector<NamedFigures>& reeds) {
  std::vector<std::string> labels;
  const std::vector<FigureValue> values = named(figure, reeds, labels);
  FigureSpread spread;
  spread.name = figure;
  spread.reeds = static_cast<int>(values.size());
  if (values.empty()) return spread;
  const MeanAndSquares all = without(values, values.size());
  spread.mean = all.mean;
  double u_squares = 0.0;
  for (const FigureValue& value : values) u_squares += square(value.u);
  if (values.size() > 1) spread.sd = std::sqrt(std::max(0.0, all.squares / (all.n - 1.0) - u_squares / all.n));
  const auto [low, high] = std::minmax_element(
      values.begin(), values.end(), [](const FigureValue& a, const FigureValue& b) { return a.value < b.value; });
  spread.lowest = low->value;
  spread.highest = high->value;
  constexpr std::size_t enough = 4;
  for (std::size_t k = 0; values.size() >= enough && k < values.size(); ++k)
    if (stands_apart(values, k)) spread.stand_apart.push_back(labels[k]);
  return spread;
}

namespace {

TriedBoxes tried_among(const Ledger& ledger, const Row& equal) {
  TriedBoxes boxes;
  for (const Row& row : ledger.rows("box", {.equal = equal})) {
    BoxRecord box = box_from(row);
    const TriedBox tried = tried_of(all_reeds_of(ledger, box.name)).box;
    boxes.push_back({std::move(box), tried});
  }
  return boxes;
}

}  // namespace

TriedBoxes tried_boxes(const Ledger& ledger) { return tried_among(ledger, {}); }

BoxView view_box(const Ledger& ledger, const std::string& name, const TriedBoxes& others) {
  BoxView view;
  view.box = find_box(ledger, name);
  std::vector<NamedFigures> measured;
  std::string instrument = view.box.instrument;
  std::vector<ReedOfBox> all = all_reeds_of(ledger, name);
  const Tried tried = tried_of(all);
  for (ReedOfBox& reed : all) {
    if (reed.reed.is_binned()) continue;
    if (reed.result) {
      measured.push_back({reed.reed.label, reed.result->figures, reed.result->state});
      if (instrument.empty()) instrument = reed.result->instrument;
    }
    view.reeds.push_back(std::move(reed));
  }
  const std::string state = usual_state(measured);
  measured = in_state(measured, state);
  view.keepers = in_state(keepers_of(ledger, view.box.player, instrument), state);
  for (const Likeness& likeness : by_likeness(measured, view.keepers)) {
    for (ReedOfBox& reed : view.reeds)
      if (reed.reed.label == likeness.label) reed.likeness = likeness;
  }
  for (const char* figure : kFigures) {
    FigureSpread spread = spread_of(figure, measured);
    if (spread.reeds > 0) view.spreads.push_back(std::move(spread));
  }
  std::vector<TriedBox> alike;
  for (const auto& [box, of_box] : others) {
    if (box.name != name && of_box.tried > 0 && of_box.holds <= kMostReedsOfBox && are_of_one_kind(box, view.box))
      alike.push_back(of_box);
  }
  view.tried = tried.box.tried;
  view.suited = tried.box.suited;
  view.suited_with_work = tried.with_work;
  view.earlier_boxes = static_cast<int>(alike.size());
  if (tried.box.holds <= kMostReedsOfBox) view.rest = rest_of_box(tried.box, alike);
  return view;
}

BoxView view_box(const Ledger& ledger, const std::string& name) {
  // Only those that can be of one kind: a ledger may hold thousands.
  const BoxRecord box = find_box(ledger, name);
  if (box.player.empty() || box.strength.empty()) return view_box(ledger, name, {});
  return view_box(ledger, name, tried_among(ledger, {{"player", box.player}, {"strength", box.strength}}));
}

}  // namespace canewise
