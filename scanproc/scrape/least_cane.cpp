#include "scanproc/scrape/least_cane.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "scanproc/scrape/linear_program.h"

namespace canewise {
namespace {

/// What cane costs: a cubic millimetre where it is too thick is 1.
constexpr double kBeyondSurplus = 3.0;
constexpr double kAtTheTip = 2.0;  ///< Common practice: nobody likes to touch the tip.
/// What missing a goal costs, so that nothing but a limit keeps it from being reached: cubic millimetres for a zone's
/// or a block's area times a millimetre, for the whole of an imbalance, and for a newton per millimetre.
constexpr double kPerZone = 30.0, kPerBlock = 30.0, kPerBlockWanted = 6.0, kPerImbalance = 1e4, kPerStiffness = 1e5,
                 kPerSurplus = 20.0;

constexpr double kNoBorder = std::numeric_limits<double>::infinity();

class Program {
 public:
  Program(const std::vector<Place>& places, const std::vector<PlaceLimits>& limits) : places_(places) {
    for (std::size_t k = 0; k < places.size(); ++k) {
      const bool tip = places[k].along.front() == AlongBand::tip;
      const double cost = places[k].area_mm2 * (tip ? kAtTheTip : 1.0);
      const double first = std::clamp(limits[k].surplus_mm, 0.0, limits[k].most_mm);
      surplus_.push_back(program_.add_variable(cost, first));
      beyond_.push_back(program_.add_variable(kBeyondSurplus * cost, limits[k].most_mm - first));
    }
  }

  /// factors[k] of every place's depth; both bounds may be missed at this price each.
  template <typename Factor>
  void keep(const Factor& factor, Range range, double price) {
    LinearProgram::Row row{terms(factor), range.lower, range.upper};
    row.terms.push_back({program_.add_variable(price), 1.0});
    row.terms.push_back({program_.add_variable(price), -1.0});
    program_.rows.push_back(std::move(row));
  }
  /// At two prices: what is thick comes down by the planned depths, and does not end beyond the other side by a heavy
  /// hand's.
  template <typename Factor>
  void level(const Factor& factor, const CaneBlock& block, double heavy_hand) {
    const double thick = block.difference_mm < 0.0 ? -1.0 : 1.0;
    const auto row = [&](double times, double direction, const Range& borders, const Range& far) {
      LinearProgram::Row next{terms([&](std::size_t k) { return times * factor(k); }), -kNoBorder, kNoBorder};
      const double border = direction > 0.0 ? borders.upper : borders.lower,
                   beyond = direction > 0.0 ? far.upper : far.lower;
      (direction > 0.0 ? next.upper : next.lower) = border - block.difference_mm;
      next.terms.push_back(
          {program_.add_variable(kPerBlockWanted * block.area_mm2, std::abs(beyond - border)), -direction});
      next.terms.push_back({program_.add_variable(kPerBlock * block.area_mm2), -direction});
      program_.rows.push_back(std::move(next));
    };
    row(1.0, thick, block.wanted, block.borne);
    row(heavy_hand, -thick, block.wanted, block.borne);
  }
  /// The same, never to be missed.
  template <typename Factor>
  void hold(const Factor& factor, Range range) {
    program_.rows.push_back({terms(factor), range.lower, range.upper});
  }

  [[nodiscard]] LeastCane result() const {
    const auto found = solve(program_);
    if (!found) throw std::logic_error("a plan without steps is always possible");
    LeastCane result;
    for (std::size_t k = 0; k < places_.size(); ++k) {
      result.depth_mm.push_back(found->at(static_cast<std::size_t>(surplus_[k])) +
                                found->at(static_cast<std::size_t>(beyond_[k])));
      result.cane_mm3 += result.depth_mm.back() * places_[k].area_mm2;
    }
    for (std::size_t j = 0; j < found->size(); ++j) result.cost += program_.cost[j] * (*found)[j];
    return result;
  }

 private:
  template <typename Factor>
  std::vector<LinearProgram::Term> terms(const Factor& factor) const {
    std::vector<LinearProgram::Term> terms;
    for (std::size_t k = 0; k < places_.size(); ++k) {
      const double f = factor(k);
      constexpr double rounding = 1e-9;  // What the two sides of a pair leave of each other.
      if (std::abs(f) < rounding) continue;
      terms.push_back({surplus_[k], f});
      terms.push_back({beyond_[k], f});
    }
    return terms;
  }

  const std::vector<Place>& places_;
  LinearProgram program_;
  std::vector<int> surplus_, beyond_;
};

bool overlap(const Place& a, const Place& b) {
  if (a.fault >= 0 || b.fault >= 0) return false;  // They are held block by block.
  if (a.across != b.across || a.to_mm <= b.from_mm || b.to_mm <= a.from_mm) return false;
  return std::any_of(a.parts.begin(), a.parts.end(), [&](const Place::Part& part) {
    return std::any_of(b.parts.begin(), b.parts.end(),
                       [&](const Place::Part& other) { return other.side == part.side; });
  });
}

/// Lanes that lead to an aim are as wide as the tool, so neighbours lie over each other: together they take no more
/// than one of them may.
void hold_lanes(Program& program, const std::vector<Place>& places, const std::vector<PlaceLimits>& limits) {
  // Wherever some lie over each other, they do so where the last of them starts.
  for (const Place& last : places) {
    if (last.aim == StepAim::balance) continue;
    double most = 0.0;
    const auto over = [&](std::size_t k) {
      const Place& place = places[k];
      return place.aim != StepAim::balance && place.from_mm <= last.from_mm && last.from_mm < place.to_mm;
    };
    for (std::size_t k = 0; k < places.size(); ++k)
      if (over(k)) most = std::max(most, limits[k].most_mm);
    program.hold([&](std::size_t k) { return over(k) ? 1.0 : 0.0; }, {0.0, most});
  }
}

/// Layers of one fault: as deep together as one place may be, and shallow where a slip reaches the tip.
void hold_layers(Program& program, const std::vector<Place>& places, const CaneGoal& goal) {
  int faults = 0;
  for (const Place& place : places) faults = std::max(faults, place.fault + 1);
  for (int f = 0; f < faults; ++f) {
    const auto one = [&](std::size_t k) { return places[k].fault == f ? 1.0 : 0.0; };
    program.hold(one, {0.0, goal.most_at_fault_mm});
    program.hold([&](std::size_t k) { return one(k) * places[k].share_at_tip; }, {0.0, goal.most_at_tip_mm});
  }
}

Range moved(Range range, double by) { return {range.lower + by, range.upper + by}; }

}  // namespace

LeastCane least_cane(const std::vector<Place>& places, const std::vector<PlaceLimits>& limits, const CaneNow& now,
                     const CaneGoal& goal) {
  const auto& [difference_mm, zone_area_mm2, figure] = now;
  Program program(places, limits);
  for (std::size_t z = 0; z < difference_mm.size(); ++z) {
    if (std::isnan(difference_mm.at(z))) continue;
    program.keep([&](std::size_t k) { return places[k].difference.at(z); },
                 moved(goal.difference_mm.at(z), -difference_mm.at(z)), kPerZone * zone_area_mm2.at(z));
    program.hold([&](std::size_t k) { return places[k].difference.at(z); },
                 moved(goal.difference_held_mm.at(z), -difference_mm.at(z)));
  }
  for (std::size_t b = 0; b < goal.blocks.size(); ++b)
    program.level([&](std::size_t k) { return places[k].block.at(b); }, goal.blocks[b], goal.heavy_hand);
  for (std::size_t z = 0; z < goal.surplus_mm.size(); ++z) {
    const auto removed = [&](std::size_t k) { return -places[k].half_zone.at(z); };
    program.hold(removed, {0.0, std::max(0.0, goal.most_removed_mm.at(z))});
    if (goal.surplus_mm.at(z) > 0.0)
      program.keep(removed, {goal.surplus_mm.at(z), goal.surplus_mm.at(z)}, kPerSurplus * zone_area_mm2.at(z / 2));
  }
  if (goal.bending_known) {
    for (std::size_t f = 0; f < kSteered.size(); ++f) {
      double there = figure.at(f);
      for (std::size_t k = 0; k < places.size(); ++k) there -= limits[k].by_depth.at(f) * limits[k].at_mm;
      program.keep([&](std::size_t k) { return limits[k].by_depth.at(f); }, moved(goal.figure.at(f), -there),
                   is_imbalance(kSteered.at(f)) ? kPerImbalance : kPerStiffness);
    }
  }
  for (std::size_t i = 0; i < places.size(); ++i) {
    for (std::size_t j = i + 1; j < places.size(); ++j) {
      if (!overlap(places[i], places[j])) continue;
      program.hold([&](std::size_t k) { return k == i || k == j ? 1.0 : 0.0; },
                   {0.0, std::max(limits[i].most_mm, limits[j].most_mm)});
    }
  }
  hold_lanes(program, places, limits);
  hold_layers(program, places, goal);
  return program.result();
}

}  // namespace canewise
