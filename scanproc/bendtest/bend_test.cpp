#include "scanproc/bendtest/bend_test.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "scanproc/bendtest/bend_test_words.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/core/utc.h"
#include "scanproc/pipeline/measure_loaded.h"

namespace canewise {
namespace {

constexpr double kGravity_m_per_s2 = 9.80665;  ///< Standard gravity (CGPM 1901); it differs by 0.3 % over the earth.

double newtons(double mass_g) { return mass_g / 1000.0 * kGravity_m_per_s2; }

/// The thread's place: as it was seen, as it was said; both must agree.
HangingPlace place_of(const LoadedBench& loaded, const BenchView& view, const Result& reed, bool& seen) {
  const std::optional<HangingPlace> found = find_thread(view, reed, loaded.side);
  seen = found.has_value();
  if (!found && !loaded.at_mm) throw NotMeasurable({"bendtest.where_is_thread"});
  constexpr double by_ruler_mm = 0.3, agree_mm = 0.6;
  if (!found) return {*loaded.at_mm, by_ruler_mm};
  if (loaded.at_mm && std::abs(*loaded.at_mm - found->at_mm) > std::max(agree_mm, 3.0 * found->u_mm)) {
    throw NotMeasurable({"bendtest.thread_elsewhere", {{"said", mm(*loaded.at_mm, 1)}, {"seen", mm(found->at_mm, 1)}}});
  }
  return *found;
}

/// How far the front part went down: median of what lies before and a little behind the thread.
double down_near(const Deflection& d, const Result& reed, double at_mm) {
  std::vector<double> near_thread;
  for (Eigen::Index c = 0; c < d.grid.columns; ++c) {
    for (Eigen::Index r = 0; r < d.grid.rows; ++r) {
      const double x = d.grid.x_mm(r);
      if (x < at_mm + 4.0 && x > 1.0 && reed.outline.holds(x, d.grid.y_mm(c), 0.5) && std::isfinite(d.down_mm(r, c)))
        near_thread.push_back(static_cast<double>(d.down_mm(r, c)));
    }
  }
  return median(near_thread);
}

/// Refuses what cannot be the weight's doing alone.
void check_bent(const Deflection& d, const Result& reed, double at_mm) {
  constexpr double most_turned_mm = 0.06, most_slid_mm = 0.25, least_mm = 0.03, most_mm = 1.5;
  if (std::abs(d.stock_turned_mm) > most_turned_mm)
    throw NotMeasurable({"bendtest.stock_moved", {{"by", um(um_from_mm(std::abs(d.stock_turned_mm)))}}});
  if (std::abs(d.slid_mm) > most_slid_mm + 3.0 * d.u_slid_mm)
    throw NotMeasurable({"bendtest.slid", {{"by", mm(std::abs(d.slid_mm), 1)}}});
  const double down = down_near(d, reed, at_mm);
  if (std::isnan(down)) throw NotMeasurable({"bendtest.little_vamp"});
  if (down < -least_mm) throw NotMeasurable({"bendtest.swapped", {{"up", um(um_from_mm(-down))}}});
  if (down < least_mm) throw NotMeasurable({"bendtest.not_bent", {{"down", um(um_from_mm(down))}}});
  if (down > most_mm) throw NotMeasurable({"bendtest.too_far", {{"down", mm(down, 1)}, {"most", mm(most_mm, 1)}}});
}

/// Where the block ends: as the scans show it, or as it was said.
double edge_of(const BenchView& free, const BendTestOptions& options) {
  constexpr double most_skew = 0.15;
  if (std::abs(free.edge_skew) > most_skew) throw NotMeasurable({"bendtest.edge_askew"});
  if (options.stands_over_mm) {
    constexpr double agree_mm = 1.0;
    if (std::abs(*options.stands_over_mm - free.edge_mm) > agree_mm + 2.0 * free.u_edge_mm) {
      throw NotMeasurable(
          {"bendtest.edge_elsewhere", {{"said", mm(*options.stands_over_mm, 1)}, {"seen", mm(free.edge_mm, 1)}}});
    }
    return *options.stands_over_mm;
  }
  return free.edge_mm;
}

/// Where the test knows the modulus best.
double over_usual(const MeasuredCane& found, const CaneState& usual) {
  const BestKnownModulus best = best_known_modulus(found);
  return best.e_l_mpa / modulus_at(usual.cane, best.depth_mm);
}

/// No cane is that stiff or that soft: the weight was another one.
void check_possible(const MeasuredCane& found, const CaneState& usual, double mass_g) {
  const double ratio = over_usual(found, usual);
  constexpr double most_spreads = 3.5;
  if (std::abs(std::log(ratio)) < most_spreads * usual.spread.e_l_rel) return;
  throw NotMeasurable({"bendtest.impossible_cane",
                       {{"than", word(ratio > 1.0 ? "stiff" : "soft")},
                        {"times", number(std::max(ratio, 1.0 / ratio), 1)},
                        {"mass", number(mass_g)}}});
}

/// The side that went down most is the one that was named.
void check_side(const Deflection& d, const Result& reed, LoadSide side, double at_mm) {
  std::vector<double> left, right;
  for (Eigen::Index c = 0; c < d.grid.columns; ++c) {
    for (Eigen::Index r = 0; r < d.grid.rows; ++r) {
      const double x = d.grid.x_mm(r), e = d.grid.y_mm(c) / reed.outline.half_width_mm(x);
      if (x > at_mm + 4.0 || x < 1.0 || std::abs(e) < 0.6 || !std::isfinite(d.down_mm(r, c))) continue;
      (e < 0.0 ? left : right).push_back(static_cast<double>(d.down_mm(r, c)));
    }
  }
  const double tilt = (median(right) - median(left)) / std::max(1e-3, std::abs(median(right) + median(left)));
  constexpr double clearly = 0.2;  // An uneven reed on a loop gives a tenth, a hook at one rail two thirds.
  const LoadSide seen = tilt > clearly ? LoadSide::right : tilt < -clearly ? LoadSide::left : LoadSide::centre;
  if (seen != side)
    throw NotMeasurable({"bendtest.other_side", {{"seen", word(name_of(seen))}, {"said", word(name_of(side))}}});
}

/// The map must lie on the scan that nothing hangs on: another reed does not.
void check_same_reed(const BenchView& free, const Result& reed, double edge_mm) {
  std::vector<double> off;
  const Grid& grid = reed.map.grid;
  for (Eigen::Index c = 0; c < grid.columns; ++c)
    for (Eigen::Index r = 0; r < grid.rows; ++r)
      if (grid.x_mm(r) < edge_mm && reed.map.measured(r, c) && std::isfinite(free.surface.height_mm(r, c)))
        off.push_back(static_cast<double>(free.surface.height_mm(r, c) - reed.map.thickness_mm(r, c)));
  const double scatter = mad_sigma(off, median(off));
  constexpr double own_mm = 0.02, bent_mm = 0.03, front_mm = 8.0;
  // Lower in front and in place behind: it hangs.
  std::vector<double> front, behind;
  for (Eigen::Index c = 0; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      const double x = grid.x_mm(r),
                   by = static_cast<double>(free.surface.height_mm(r, c) - reed.map.thickness_mm(r, c));
      if (std::isfinite(by) && (x < front_mm || x > free.clamp_to_mm)) (x < front_mm ? front : behind).push_back(by);
    }
  }
  if (median(front) - median(behind) < -bent_mm && !(scatter < own_mm)) throw NotMeasurable({"bendtest.first_is_bent"});
  if (!(scatter < own_mm)) throw NotMeasurable({"bendtest.other_reed", {{"by", um(um_from_mm(scatter))}}});
}

Messages remarks_on(const BendTest& test, const std::vector<Deflection>& deflections, const IdentifiedCane& found) {
  Messages remarks;
  if (std::any_of(test.weights.begin(), test.weights.end(), [](const BentBy& w) { return !w.at_was_seen; }))
    remarks.push_back({"bendtest.thread_not_seen"});
  constexpr double worth_saying_mm = 0.02, turned_rad = 1.5e-3;
  for (const Deflection& d : deflections) {
    if (std::abs(d.stock_turned_mm) > worth_saying_mm) {
      remarks.push_back({"bendtest.stock_gave", {{"by", um(um_from_mm(std::abs(d.stock_turned_mm)))}}});
      break;
    }
  }
  if (std::any_of(deflections.begin(), deflections.end(),
                  [](const Deflection& d) { return std::isnan(d.stock_turned_mm); }))
    remarks.push_back({"bendtest.block_not_seen"});
  if (found.turned_in_clamp_rad > turned_rad) remarks.push_back({"bendtest.turned"});
  if (std::any_of(deflections.begin(), deflections.end(), [](const Deflection& d) { return !d.same_place; }))
    remarks.push_back({"bendtest.scanner_moved"});
  constexpr double crept_mm = 5e-3;
  if (test.crept_mm && *test.crept_mm > crept_mm)
    remarks.push_back({"bendtest.crept", {{"by", um(um_from_mm(*test.crept_mm))}}});
  const CaneState usual = cane_in(test.cane.state);
  constexpr double beyond = 2.5;
  if (std::abs(std::log(over_usual(test.cane, usual))) > beyond * usual.spread.e_l_rel)
    remarks.push_back({"bendtest.unusual_cane"});
  if (test.tap) remarks.push_back(tap_words(*test.tap));
  if (test.weights.size() == 1) remarks.push_back({"bendtest.more_places"});
  return remarks;
}

}  // namespace

void validate(const BendTestInputs& inputs, const BendTestOptions& options) {
  constexpr double least_g = 5.0, most_g = 1000.0, most_at_mm = 14.0, least_at_mm = 1.0;
  constexpr std::size_t most_weights = 3;
  if (!(inputs.mass_g >= least_g && inputs.mass_g <= most_g))
    throw UsageError({"bendtest.mass", {{"least", number(least_g)}, {"most", number(most_g)}}});
  if (inputs.loaded.empty() || inputs.loaded.size() > most_weights) throw UsageError({"bendtest.how_many"});
  std::set<LoadSide> sides;
  for (const LoadedBench& loaded : inputs.loaded) {
    if (!sides.insert(loaded.side).second) throw UsageError({"bendtest.side_twice"});
    if (loaded.at_mm && !(*loaded.at_mm >= least_at_mm && *loaded.at_mm <= most_at_mm))
      throw UsageError({"bendtest.at", {{"least", mm(least_at_mm)}, {"most", mm(most_at_mm)}}});
  }
  if (!(options.u_mass_rel >= 0.0 && options.u_mass_rel <= 0.2)) throw UsageError({"bendtest.u_mass"});
  if (options.stands_over_mm && !(*options.stands_over_mm >= 15.0 && *options.stands_over_mm <= 60.0))
    throw UsageError({"bendtest.stands_over"});
  if (inputs.state != inputs.reed.state) {
    throw UsageError({"bendtest.other_state",
                      {{"bent", word(name_of(inputs.state))}, {"measured", word(name_of(inputs.reed.state))}}});
  }
}

BendTest bend_test(BendTestInputs inputs, const BendTestOptions& options, const Progress& progress,
                   const std::stop_token& stop) {
  validate(inputs, options);
  const Progress stage = stoppable(progress, stop);
  const Result& reed = inputs.reed;
  BendTest test;
  test.tested_at = now_utc();
  test.reed = reed.reed;
  test.measured_at = reed.measured_at;
  test.stock_height_mm = reed.assessment.cut.stock_height_mm;
  test.butt_width_mm = reed.assessment.cut.butt_width_mm;
  test.relative_thickness_mm = reed.relative_thickness_mm;
  test.mass_g = inputs.mass_g;
  test.grid = reed.map.grid;

  stage({"stage.bench_free"}, 0.2);
  const BenchView free = view_bench(inputs.free.points_mm, reed);
  inputs.free = {};
  test.edge_mm = edge_of(free, options);
  test.clamp_mm = std::max(free.clamp_from_mm, test.edge_mm);
  check_same_reed(free, reed, test.edge_mm);

  stage({"stage.bench_loaded"}, 0.4);
  std::vector<Deflection> deflections;
  std::vector<HangingPlace> places;
  for (LoadedBench& loaded : inputs.loaded) {
    const BenchView view = view_bench(loaded.cloud.points_mm, reed, {true, free.place.reed_from_scan});
    loaded.cloud = {};
    deflections.push_back(deflection_between(free, view, reed));
    BentBy weight;
    weight.side = loaded.side;
    constexpr double usual_at_mm = 5.0;
    check_bent(deflections.back(), reed, loaded.at_mm.value_or(usual_at_mm));
    check_side(deflections.back(), reed, loaded.side, loaded.at_mm.value_or(usual_at_mm));
    places.push_back(place_of(loaded, view, reed, weight.at_was_seen));
    weight.at_mm = places.back().at_mm;
    weight.u_at_mm = places.back().u_mm;
    test.weights.push_back(std::move(weight));
  }

  double u_creep_rel = 0.0;
  if (inputs.free_again) {
    const BenchView again = view_bench(inputs.free_again->points_mm, reed, {true, free.place.reed_from_scan});
    inputs.free_again.reset();
    const double at_mm = places.front().at_mm;
    test.crept_mm = down_near(deflection_between(free, again, reed), reed, at_mm);
    // While it was scanned it had crept some of that, nobody knows how much.
    u_creep_rel = 0.5 * std::abs(*test.crept_mm) / down_near(deflections.front(), reed, at_mm);
    constexpr double most_crept_rel = 0.1;
    if (!(u_creep_rel < most_crept_rel))
      throw NotMeasurable({"bendtest.crept_too_far", {{"by", um(um_from_mm(std::abs(*test.crept_mm)))}}});
  }

  stage({"stage.bench_cane"}, 0.6);
  std::vector<HungWeight> hung;
  for (std::size_t w = 0; w < deflections.size(); ++w)
    hung.push_back({inputs.loaded[w].side, places[w], newtons(inputs.mass_g), deflections[w]});
  const CaneState prior = cane_in(inputs.state);
  const IdentifiedCane found = identify_cane({.reed = reed,
                                              .weights = std::move(hung),
                                              .u_edge_mm = free.u_edge_mm,
                                              .edge_mm = test.edge_mm,
                                              .clamp_mm = test.clamp_mm,
                                              .prior = prior,
                                              .u_force_rel = std::hypot(options.u_mass_rel, u_creep_rel),
                                              .u_x_mm = free.place.u_x_mm,
                                              .u_y_mm = free.place.u_y_mm});
  test.cane = {found.cane, found.left_right, found.covariance, inputs.state, test.tested_at};
  check_possible(test.cane, prior, inputs.mass_g);
  if (inputs.tap) {
    test.tap = tap_witness(*inputs.tap, {reed, test.cane, test.edge_mm, test.clamp_mm});
    if (test.tap->agrees) test.cane = test.tap->cane;
  }
  const Eigen::Matrix<double, 6, 6> before = covariance_of(prior);
  for (const CanePart part : kCaneParts) {
    const auto k = static_cast<Eigen::Index>(part);
    constexpr double clearly_less = 0.6;
    test.told.at(static_cast<std::size_t>(part)) = test.cane.covariance(k, k) < square(clearly_less) * before(k, k);
  }
  for (std::size_t w = 0; w < test.weights.size(); ++w) {
    BentBy& weight = test.weights[w];
    const ComputedDeflection& computed = found.computed[w];
    constexpr double most_left_share = 0.02, of_noise = 2.0, most_strain = 1.5, most_deviations = 6.0;
    const double unexplained_mm =
        std::sqrt(std::max(0.0, square(computed.rms_left_mm) - square(of_noise * computed.noise_mm)));
    if (found.strained > most_strain * found.nuisances || found.farthest > most_deviations)
      throw NotMeasurable({"bendtest.strained"});
    if (unexplained_mm > most_left_share * computed.largest_mm) {
      throw NotMeasurable(
          {"bendtest.does_not_fit",
           {{"left", um(um_from_mm(computed.rms_left_mm))}, {"down", um(um_from_mm(computed.largest_mm))}}});
    }
    weight.measured_mm = std::move(deflections[w].down_mm);
    weight.u_mm = std::move(deflections[w].u_mm);
    weight.computed_mm = computed.down_mm;
    weight.at_thread_mm = computed.at_thread_mm;
    weight.u_at_thread_mm = computed.u_at_thread_mm;
    weight.rms_left_mm = computed.rms_left_mm;
  }
  test.sentence = learned_words(test);
  test.remarks = remarks_on(test, deflections, found);
  stage({"stage.measured"}, 0.9);
  return test;
}

}  // namespace canewise
