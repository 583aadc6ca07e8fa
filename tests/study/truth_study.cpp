// What is measured of reeds and rigs that nobody designed, against their exact truth: shapes, cane, scanners and poses
// drawn at random by seed (fixtures/families), with the laws that the priors state and with others.
//   canewise_study [REEDS] [NAME] [FIRST_SEED]    500 reeds a kind of scan; a table for each whose title holds NAME
// Columns: how many, bias, median of the stated U95, share of errors within U95. A feature 'cannot be told' does not
// count. Zones are placed by the true vamp for the truth and by the measured one for the map.
#include <fmt/format.h>

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <map>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "fixtures/families.h"
#include "scanproc/assess/assessment.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/datum/place_reed.h"
#include "scanproc/pipeline/laid_anew.h"
#include "scanproc/thickness/measure_thickness.h"

namespace {

using namespace canewise;
using namespace canewise::fixtures;

struct Tally {
  double n = 0, inside = 0, sum = 0;
  std::vector<double> u95;
  void add(double error, double u) {
    if (std::isnan(error) || std::isnan(u)) return;
    n += 1, sum += error, inside += std::abs(error) <= kCoverage95 * u;
    u95.push_back(kCoverage95 * u);
  }
};

struct Study {
  std::map<std::string, Tally> values;
  std::map<std::string, double> counts;
  std::map<std::string, int> refusals;
  std::vector<std::string> false_verdicts;  ///< With their seeds, to look into.

  void note_false(std::uint64_t seed, const ZoneBalance& zone, double truth_mm) {
    counts[zone.verdict == Verdict::outside ? "false outside" : "false within"] += 1;
    false_verdicts.push_back(fmt::format("false {}: seed {}, {} {}: {:.1f} um, U95 {:.1f}, truly {:.1f}, limit {:.0f}",
                                         name_of(zone.verdict), seed, name_of(zone.along), name_of(zone.across),
                                         1e3 * zone.difference.mean_mm, 1e3 * kCoverage95 * zone.difference.u_mm,
                                         1e3 * truth_mm, 1e3 * zone.tolerance_mm));
  }
};

struct DrawnReed {
  const Instrument* instrument;
  ReedShape shape;
  Reed reed;
};

DrawnReed draw_reed(Laws laws, std::mt19937_64& random) {
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  std::normal_distribution<double> normal;
  // Most are B-flat clarinet's, as at most benches.
  const auto row =
      uniform(random) < 0.5 ? 0U : std::uniform_int_distribution<std::size_t>(0, kInstruments.size() - 1)(random);
  const Instrument& instrument = kInstruments.at(row);
  const ReedShape shape = draw_shape(instrument, random);
  ReedFaults faults = draw_cane(laws, random);
  if (uniform(random) < 0.5) {
    faults.heavy_rail_um = 25.0 * std::abs(normal(random));
    faults.heavy_rail_side = uniform(random) < 0.5 ? -1 : 1;
    faults.heavy_rail_from_mm = 3.0 + 0.4 * shape.vamp_length_mm * uniform(random);
    faults.heavy_rail_to_mm = faults.heavy_rail_from_mm + 4.0 + 12.0 * uniform(random);
  }
  if (uniform(random) < 0.3) faults.heart_shift_mm = 0.5 * normal(random);
  if (uniform(random) < 0.2) faults.thick_corner_um = 12.0 * std::abs(normal(random));
  if (uniform(random) < 0.15) {
    faults.chip_radius_mm = 0.35 + 0.5 * uniform(random);
    faults.chip_y_mm = 0.6 * (uniform(random) - 0.5) * shape.tip_width_mm;
  }
  const Reed reed(shape, faults);
  return {&instrument, shape, uniform(random) < 0.25 ? draw_worn(reed, random) : reed};
}

/// Mean of what `value` gives over a half zone as README describes it, by the true vamp and the true outline, out to
/// the reed's edge: nothing of the map's cells or of the code under test.
template <typename Value>
double true_mean(const DrawnReed& drawn, const Zone& zone, const Value& value) {
  constexpr double step_mm = 0.1;
  const auto k = static_cast<std::size_t>(zone.along), band = static_cast<std::size_t>(zone.across);
  const double vamp = drawn.shape.vamp_length_mm, side = zone.side == Side::left ? -1.0 : 1.0;
  const double from = ZoneLimits::t.at(k) * vamp, length = ZoneLimits::t.at(k + 1) * vamp - from;
  const int rows = static_cast<int>(std::ceil(length / step_mm));
  double sum = 0.0, area = 0.0;
  for (int i = 0; i < rows; ++i) {
    const double x = from + length * (i + 0.5) / rows, half = drawn.reed.half_width_mm(x);
    const double inner = ZoneLimits::e.at(band) * half, width = ZoneLimits::e.at(band + 1) * half - inner;
    const int columns = static_cast<int>(std::ceil(width / step_mm));
    for (int j = 0; j < columns; ++j) {
      const double y = side * (inner + width * (j + 0.5) / columns);
      if (!drawn.reed.inside(x, y) || !drawn.reed.inside(x, -y)) continue;
      sum += value(x, y) * width / columns;
      area += width / columns;
    }
  }
  return area > 0.0 ? sum / area : std::nan("");
}
double true_thickness_mm(const DrawnReed& drawn, const Zone& zone) {
  return true_mean(drawn, zone, [&](double x, double y) { return drawn.reed.thickness_mm(x, y); });
}
double true_difference_mm(const DrawnReed& drawn, AlongBand along, AcrossBand across) {
  return true_mean(drawn, {along, across, Side::right},
                   [&](double x, double y) { return drawn.reed.thickness_mm(x, y) - drawn.reed.thickness_mm(x, -y); });
}

/// The truth at the cells that were measured.
ThicknessMap true_map(const Reed& reed, const ThicknessMap& measured) {
  ThicknessMap map;
  map.grid = measured.grid;
  map.thickness_mm = measured.thickness_mm;
  for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
    for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
      if (measured.measured(r, c))
        map.thickness_mm(r, c) = static_cast<float>(reed.thickness_mm(map.grid.x_mm(r), map.grid.y_mm(c)));
    }
  }
  return map;
}

double mean_over(const ThicknessMap& map, const std::function<bool(double, double)>& holds) {
  double sum = 0.0, n = 0.0;
  for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
    for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
      if (!map.measured(r, c) || !holds(map.grid.x_mm(r), map.grid.y_mm(c))) continue;
      sum += map.thickness_mm(r, c), n += 1.0;
    }
  }
  return sum / n;
}

/// The circle nearest to points (y, z) whose middle lies on the side of `turn` (-1: below, 1: above): least squares of
/// y^2 + z^2 = 2 y0 y + 2 z0 z + c.
struct Circle {
  double y0_mm = 0, z0_mm = 0, radius_mm = 0, turn = 1;
  [[nodiscard]] double z_mm(double y) const {
    return z0_mm - turn * std::sqrt(radius_mm * radius_mm - (y - y0_mm) * (y - y0_mm));
  }
};
Circle circle_through(const std::vector<Eigen::Vector2d>& points, double turn) {
  Eigen::MatrixXd design(static_cast<Eigen::Index>(points.size()), 3);
  Eigen::VectorXd squares(design.rows());
  for (Eigen::Index i = 0; i < design.rows(); ++i) {
    const Eigen::Vector2d& p = points[static_cast<std::size_t>(i)];
    design.row(i) << 2.0 * p.x(), 2.0 * p.y(), 1.0;
    squares(i) = p.squaredNorm();
  }
  const Eigen::Vector3d found = design.colPivHouseholderQr().solve(squares);
  return {found(0), found(1), std::sqrt(found(2) + found.head<2>().squaredNorm()), turn};
}

/// Arc and corners of the tip, and the bark's form, each by a circle through the exact surface.
void compare_circles(const DrawnReed& drawn, const CutFeatures& cut, Study& study) {
  const ReedShape& s = drawn.shape;
  const double half = 0.5 * s.tip_width_mm;
  constexpr double step_mm = 0.02, arc_share = 0.65, corner_at = 0.9;
  std::vector<Eigen::Vector2d> edge;
  for (double y = -arc_share * half; y <= arc_share * half; y += step_mm)
    edge.emplace_back(y, drawn.reed.tip_edge_mm(y));
  const Circle arc = circle_through(edge, 1.0);
  study.values["tip arc radius mm"].add(cut.tip_arc_radius_mm.value - arc.radius_mm, cut.tip_arc_radius_mm.u);
  const double drop = drawn.reed.tip_edge_mm(corner_at * half) - arc.z_mm(corner_at * half);
  study.values["corner drop mm"].add(cut.corner_drop_mm.value - drop, cut.corner_drop_mm.u);
  std::vector<Eigen::Vector2d> section;
  const double from = std::min(s.vamp_length_mm + 10.0, 0.8 * s.length_mm), to = s.length_mm - 1.5;
  const double side = drawn.reed.half_width_mm(0.5 * (from + to)) - 0.3;
  for (double y = -side; y <= side; y += 0.1) {
    double sum = 0.0;
    constexpr int rows = 40;
    for (int i = 0; i < rows; ++i) sum += drawn.reed.thickness_mm(from + (to - from) * (i + 0.5) / rows, y);
    section.emplace_back(y, sum / rows);
  }
  const Circle bark = circle_through(section, -1.0);
  study.values["bark radius mm"].add(cut.bark.radius_mm.value - bark.radius_mm, cut.bark.radius_mm.u);
  study.values["bark crown mm"].add(cut.bark.crown_y_mm.value - bark.y0_mm, cut.bark.crown_y_mm.u);
}

void compare_features(const DrawnReed& drawn, const CutFeatures& cut, const ThicknessMap& truth, const Outline& outline,
                      Study& study) {
  const ReedShape& s = drawn.shape;
  const auto feature = [&](const std::string& name, const Measured& measured, double value) {
    study.values[name].add(measured.value - value, measured.u);
  };
  feature("length mm", cut.length_mm, s.length_mm);
  feature("tip width mm", cut.tip_width_mm, s.tip_width_mm);
  feature("butt width mm", cut.butt_width_mm, s.butt_width_mm);
  feature("vamp length mm", cut.vamp_length_mm, s.vamp_length_mm);
  const double vamp = s.vamp_length_mm;
  const double stock_from = std::min(vamp + 10.0, 0.8 * s.length_mm);
  study.counts[fmt::format("shoulder drawn {}: said {}", static_cast<int>(s.shoulder.form), name_of(cut.shoulder))] +=
      1;
  feature("stock height mm", cut.stock_height_mm, mean_over(truth, [&](double x, double y) {
            return x > stock_from && x < s.length_mm - 1.0 && std::abs(y) < 0.8;
          }));
  const auto edge_mm = [&](double y) { return drawn.reed.tip_edge_mm(y); };
  feature("tip thickness mm", cut.tip_thickness_mm, mean_over(truth, [&](double x, double y) {
            return std::abs(y) < 2.0 && x - edge_mm(y) > 0.5 && x - edge_mm(y) < 1.5;
          }));
  const auto middle = [&](AcrossBand across) {
    return 0.5 * (true_thickness_mm(drawn, {AlongBand::middle, across, Side::left}) +
                  true_thickness_mm(drawn, {AlongBand::middle, across, Side::right}));
  };
  feature("heart thickness mm", cut.heart_thickness_mm, middle(AcrossBand::centre));
  feature("rail thickness mm", cut.rail_thickness_mm, middle(AcrossBand::rail));
  const std::string filed = s.filed ? "filed reeds: " : "unfiled reeds: ";
  study.counts[filed + (cut.filed == Verdict::within    ? "filed"
                        : cut.filed == Verdict::outside ? "unfiled"
                                                        : "cannot tell")] += 1;
  const bool is_chipped = drawn.reed.faults().chip_radius_mm > 0.0;
  study.counts[std::string(is_chipped ? "chipped tips: " : "whole tips: ") + (outline.chipped        ? "chipped"
                                                                              : outline.chip_unclear ? "cannot tell"
                                                                                                     : "whole")] += 1;
}

void compare_zones(const DrawnReed& drawn, const ThicknessMap& map, const Assessment& assessment,
                   const ThicknessMap& truth, std::uint64_t seed, Study& study) {
  for (const auto& zone : assessment.zone_thickness) {
    const double value = true_thickness_mm(drawn, zone.zone);
    if (zone.thickness.covered < kFewestCovered) continue;
    const std::string name = fmt::format("zone {}, {} um", name_of(zone.zone.along), name_of(zone.zone.across));
    const double error = 1e3 * (zone.thickness.mean_mm - value), u = 1e3 * zone.thickness.u_mm;
    study.values[name].add(error, u);
    study.values["zones, all um"].add(error, u);
  }
  for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
    for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
      if (!map.measured(r, c) || map.grid.x_mm(r) > drawn.shape.vamp_length_mm) continue;
      study.values["cells of the vamp, all um"].add(
          1e3 * static_cast<double>(map.thickness_mm(r, c) - truth.thickness_mm(r, c)),
          1e3 * static_cast<double>(map.u_mm(r, c)));
    }
  }
  for (const auto& zone : assessment.balance.zones) {
    const double value = true_difference_mm(drawn, zone.along, zone.across);
    if (std::isnan(value)) continue;
    study.values["left-right differences um"].add(1e3 * (zone.difference.mean_mm - value), 1e3 * zone.difference.u_mm);
    study.values[fmt::format("difference {}, {} um", name_of(zone.along), name_of(zone.across))].add(
        1e3 * (zone.difference.mean_mm - value), 1e3 * zone.difference.u_mm);
    const double size = std::abs(value), tolerance = zone.tolerance_mm;
    constexpr double power_beyond_mm = 0.010;
    study.counts["verdicts"] += 1;
    if (zone.verdict == Verdict::outside) {
      study.counts["said outside"] += 1;
      if (size <= tolerance) study.note_false(seed, zone, value);
      if (zone.difference.mean_mm * value < 0.0) study.counts["wrong side"] += 1;
    }
    if (zone.verdict == Verdict::within) {
      study.counts["said within"] += 1;
      if (size > tolerance) study.note_false(seed, zone, value);
    }
    if (size > tolerance + power_beyond_mm) {
      study.counts["truly 10 um beyond"] += 1;
      if (zone.verdict == Verdict::outside) study.counts["10 um beyond and said outside"] += 1;
    }
  }
}

/// The same reed with its own forms, laid down again by hand and turned by half a turn.
SceneOptions laid_again(const SceneOptions& first, Laws laws, std::mt19937_64& random) {
  SceneOptions second = draw_scene(laws, random);
  ReedLie lie = first.nuisance.lie;
  const ReedLie& again = second.nuisance.lie;
  lie.offset_um = again.offset_um, lie.roll_um = again.roll_um, lie.pitch_um = again.pitch_um;
  lie.grit_um = again.grit_um, lie.grit_side = again.grit_side, lie.grit_x_mm = again.grit_x_mm;
  second.nuisance = first.nuisance;
  second.nuisance.lie = lie;
  second.raster_yaw_deg = first.raster_yaw_deg + 180.0;
  return second;
}

/// How a kind of scan is made.
struct Way {
  ScannerKind kind;
  Laws laws;
  int layings = 1;
  bool both_sides = false;  ///< On a carrier with spheres instead of a plate.
};

std::vector<Cloud> scans_of(const Way& way, const DrawnReed& drawn, std::mt19937_64& random, std::uint64_t seed) {
  ScannerModel scanner = draw_scanner(way.kind, way.laws, random);
  scanner.pattern_seed = seed;
  SceneOptions scene = draw_scene(way.laws, random);
  constexpr std::uint64_t other_noise = 1'000'000;
  std::vector<Cloud> scans;
  if (way.both_sides) {
    scene.content = SceneContent::on_carrier;
    scene.plate_margins_mm.reset();
    scene.plate_margin_mm = 22.0;
    scene.balls = carrier_balls(drawn.shape);
    scans.push_back(scan_reed(drawn.reed, scanner, scene, seed).cloud);
    scene.content = SceneContent::from_below;
    scans.push_back(scan_reed(drawn.reed, scanner, scene, seed + other_noise).cloud);
    return scans;
  }
  scans.push_back(scan_reed(drawn.reed, scanner, scene, seed).cloud);
  if (way.layings > 1)
    scans.push_back(scan_reed(drawn.reed, scanner, laid_again(scene, way.laws, random), seed + other_noise).cloud);
  // As the reader of a folder of frames says it.
  for (Cloud& scan : scans) scan.assumed_slow_mm = way.kind == ScannerKind::depth_frames ? 0.010 : 0.0;
  return scans;
}

std::string title_of(const Way& way) {
  return fmt::format("{}{}{}, {}", name_of(way.kind), way.layings > 1 ? ", laid down twice" : "",
                     way.both_sides ? ", both sides" : "",
                     way.laws == Laws::as_stated ? "laws as stated" : "other laws");
}

void one_reed(const Way& way, std::uint64_t seed, Study& study, std::mutex& lock) {
  std::mt19937_64 random(seed * 7919 + static_cast<std::uint64_t>(way.kind));
  const DrawnReed drawn = draw_reed(way.laws, random);
  std::vector<Cloud> scans = scans_of(way, drawn, random, seed);
  try {
    Rig rig;
    std::optional<Layings> whole;
    if (way.layings > 1) {
      if (const auto seen = layings_of(scans, rig, drawn.instrument, {})) {
        const bool in_doubt = heed_layings(*seen, true, rig).in_doubt;
        const std::scoped_lock guard(lock);
        study.counts["seating in doubt"] += in_doubt;
        whole = seen;
      }
    }
    Aligned aligned = place_reed(std::move(scans), rig, {std::nullopt, drawn.instrument});
    if (whole) stand_on_own_plates(*aligned.registration);
    ThicknessMap map = measure_thickness(aligned, rig.priors);
    if (whole) keep_noise_of_one(*whole, map.noise);
    const Assessment assessment = assess({.map = map, .aligned = aligned, .instrument = *drawn.instrument});
    const ThicknessMap truth = true_map(drawn.reed, map);
    const std::scoped_lock guard(lock);
    compare_features(drawn, assessment.cut, truth, aligned.outline, study);
    compare_circles(drawn, assessment.cut, study);
    compare_zones(drawn, map, assessment, truth, seed, study);
    study.counts["measured"] += 1;
  } catch (const Error& error) {
    const std::scoped_lock guard(lock);
    study.counts["refused"] += 1;
    ++study.refusals[fmt::format("seed {}: {}", seed, error.what())];
  }
}

void print(Study& study) {
  fmt::print("{:<34}{:>8}{:>12}{:>12}{:>12}\n", "", "n", "bias", "U95", "in U95 %");
  for (auto& [name, tally] : study.values) {
    if (tally.u95.empty()) continue;
    const auto middle = tally.u95.begin() + static_cast<std::ptrdiff_t>(tally.u95.size() / 2);
    std::nth_element(tally.u95.begin(), middle, tally.u95.end());
    fmt::print("{:<34}{:>8.0f}{:>12.3f}{:>12.3f}{:>12.1f}\n", name, tally.n, tally.sum / tally.n, *middle,
               100.0 * tally.inside / tally.n);
  }
  for (const auto& [name, count] : study.counts) fmt::print("{:<46}{:>8.0f}\n", name, count);
  for (const auto& text : study.false_verdicts) fmt::print("  {}\n", text);
  for (const auto& [text, count] : study.refusals) fmt::print("  refused: {}\n", text);
}

}  // namespace

int main(int argc, char** argv) {
  const std::uint64_t reeds = argc > 1 ? std::strtoull(argv[1], nullptr, 10) : 500;
  const std::string wanted = argc > 2 ? argv[2] : "";
  const std::uint64_t first = argc > 3 ? std::strtoull(argv[3], nullptr, 10) : 1;
  const unsigned threads = std::max(1U, std::thread::hardware_concurrency());
  std::vector<Way> ways;
  for (const auto kind :
       {ScannerKind::profilometer, ScannerKind::laser_line, ScannerKind::structured_light, ScannerKind::depth_frames}) {
    for (const auto laws : {Laws::as_stated, Laws::others}) ways.push_back({kind, laws});
  }
  for (const auto kind : {ScannerKind::profilometer, ScannerKind::laser_line}) {
    for (const auto laws : {Laws::as_stated, Laws::others}) ways.push_back({kind, laws, 2});
    ways.push_back({kind, Laws::as_stated, 1, true});
  }
  for (const Way& way : ways) {
    const std::string name = title_of(way);
    if (name.find(wanted) == std::string::npos) continue;
    Study study;
    std::mutex lock;
    std::vector<std::jthread> workers;
    for (unsigned k = 0; k < threads; ++k) {
      workers.emplace_back([&, k] {
        for (std::uint64_t i = k; i < reeds; i += threads) {
          one_reed(way, first + i, study, lock);
          if (k == 0) std::cerr << '\r' << i << " of " << reeds << std::flush;
        }
      });
    }
    workers.clear();
    std::cerr << '\r';
    fmt::print("\n== {}\n", name);
    print(study);
    std::fflush(stdout);
  }
  return 0;
}
