// How long a map takes, stage by stage and size by size, beside the straight recipes in PCL and Open3D.
#include <benchmark/benchmark.h>
#include <fmt/format.h>
#include <open3d/geometry/PointCloud.h>
#include <open3d/io/PointCloudIO.h>
#include <open3d/utility/Logging.h>
#include <pcl/ModelCoefficients.h>
#include <pcl/console/print.h>
#include <pcl/filters/statistical_outlier_removal.h>
#include <pcl/io/ply_io.h>
#include <pcl/point_types.h>
#include <pcl/segmentation/sac_segmentation.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <limits>
#include <map>
#include <stdexcept>
#include <string>
#include <string_view>
#include <thread>
#include <utility>
#include <vector>

#include "fixtures/scanner.h"
#include "fixtures/write_cloud.h"
#include "scanproc/assess/assessment.h"
#include "scanproc/datum/align.h"
#include "scanproc/mechanics/bend_reed.h"
#include "scanproc/pipeline/pipeline.h"
#include "scanproc/report/outputs.h"
#include "scanproc/scan/read_scan.h"
#include "scanproc/scrape/plan_scrape.h"
#include "scanproc/thickness/measure_thickness.h"

namespace {

using namespace canewise;

constexpr double kMillion = 1e6;
constexpr double kCellMm = 0.25;  // Of the recipes' grids; canewise chooses the same for these scans.
constexpr int kMapsBeside = 3;    // Before a recipe, and again after it.

/// Names on one line of the terminal what runs just now, and wipes it.
class Note {
 public:
  explicit Note(const std::string& what) : on_terminal_(::isatty(STDERR_FILENO) == 1) {
    if (on_terminal_) std::fputs(("\r\x1b[K" + what + " ...").c_str(), stderr);
  }
  ~Note() {
    if (on_terminal_) std::fputs("\r\x1b[K", stderr);
  }
  Note(const Note&) = delete;
  Note& operator=(const Note&) = delete;

 private:
  bool on_terminal_;
};

class Stopwatch {
 public:
  [[nodiscard]] double seconds() const {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
  }

 private:
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

double median_of(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// Generated scans as files, each made when it is first asked for; gone with the folder at the end.
class Scans {
 public:
  Scans() : folder_(std::filesystem::temp_directory_path() / fmt::format("canewise-bench-{}", ::getpid())) {
    std::filesystem::create_directory(folder_);
  }
  ~Scans() {
    std::error_code ignored;  // A folder that cannot be removed must not hide what failed before.
    std::filesystem::remove_all(folder_, ignored);
  }
  Scans(const Scans&) = delete;
  Scans& operator=(const Scans&) = delete;

  [[nodiscard]] std::filesystem::path path_of(double points) const {
    const auto path = folder_ / fmt::format("{:.0f}.ply", points);
    if (std::filesystem::exists(path)) return path;
    const Note note(fmt::format("inventing a scan of {:g} million points", points / kMillion));
    const std::uint64_t seed = 1;
    const fixtures::Reed reed({}, {.roughness_um = 1.5, .roughness_seed = seed});
    const fixtures::SceneOptions scene;
    fixtures::ScannerModel scanner = fixtures::profilometer();
    const double area =
        (reed.shape().length_mm + 2 * scene.plate_margin_mm) * (reed.shape().tip_width_mm + 2 * scene.plate_margin_mm);
    const double factor = std::sqrt(area / (scanner.along_mm * scanner.between_mm) / points);
    scanner.along_mm *= factor;
    scanner.between_mm *= factor;
    fixtures::write_file(path, fixtures::ply_binary(fixtures::scan_reed(reed, scanner, scene, seed).cloud));
    return path;
  }

 private:
  std::filesystem::path folder_;
};

double points_in(const std::filesystem::path& path) {
  return static_cast<double>(read_scan(ScanFile(path)).points_mm.cols());
}

ThicknessMap map_of(const std::filesystem::path& path) {
  const Rig rig;
  return measure_thickness(align(read_scan(ScanFile(path)), rig), rig.priors);
}

/// Heights above `plane` on a square grid, each taken from the point nearest to the cell's centre. Returns how many
/// cells have one.
template <typename PointAt>
std::size_t grid_heights(const Eigen::Vector4d& plane, std::size_t count, const PointAt& point_at) {
  const double length = plane.head<3>().norm();
  const Eigen::Vector3d normal = plane.head<3>() / length;
  const Eigen::Vector3d u = normal.unitOrthogonal(), v = normal.cross(u);
  double u_low = std::numeric_limits<double>::infinity(), u_high = -u_low, v_low = u_low, v_high = -u_low;
  for (std::size_t i = 0; i < count; ++i) {
    const Eigen::Vector3d p = point_at(i);
    u_low = std::min(u_low, u.dot(p)), u_high = std::max(u_high, u.dot(p));
    v_low = std::min(v_low, v.dot(p)), v_high = std::max(v_high, v.dot(p));
  }
  struct Cell {
    double distance2 = std::numeric_limits<double>::infinity(), height = 0.0;
  };
  const auto columns = static_cast<std::size_t>((u_high - u_low) / kCellMm) + 2;
  const auto rows = static_cast<std::size_t>((v_high - v_low) / kCellMm) + 2;
  std::vector<Cell> cells(columns * rows);
  for (std::size_t i = 0; i < count; ++i) {
    const Eigen::Vector3d p = point_at(i);
    const double x = (u.dot(p) - u_low) / kCellMm, y = (v.dot(p) - v_low) / kCellMm;
    const double column = std::round(x), row = std::round(y);
    const double distance2 = (x - column) * (x - column) + (y - row) * (y - row);
    Cell& cell = cells[static_cast<std::size_t>(row) * columns + static_cast<std::size_t>(column)];
    if (distance2 < cell.distance2) cell = {distance2, normal.dot(p) + plane.w() / length};
  }
  benchmark::DoNotOptimize(cells.data());
  return static_cast<std::size_t>(
      std::count_if(cells.begin(), cells.end(), [](const Cell& cell) { return std::isfinite(cell.distance2); }));
}

std::size_t pcl_recipe(const std::filesystem::path& path, int mean_k) {
  const auto cloud = pcl::make_shared<pcl::PointCloud<pcl::PointXYZ>>();
  if (pcl::io::loadPLYFile(path.string(), *cloud) != 0) throw std::runtime_error("PCL cannot read " + path.string());
  const auto filtered = pcl::make_shared<pcl::PointCloud<pcl::PointXYZ>>();
  pcl::StatisticalOutlierRemoval<pcl::PointXYZ> outliers;
  outliers.setInputCloud(cloud);
  outliers.setMeanK(mean_k);
  outliers.setStddevMulThresh(1.0);
  outliers.filter(*filtered);
  pcl::SACSegmentation<pcl::PointXYZ> segmentation;
  segmentation.setOptimizeCoefficients(true);
  segmentation.setModelType(pcl::SACMODEL_PLANE);
  segmentation.setMethodType(pcl::SAC_RANSAC);
  segmentation.setDistanceThreshold(0.05);
  segmentation.setInputCloud(filtered);
  pcl::PointIndices inliers;
  pcl::ModelCoefficients plane;
  segmentation.segment(inliers, plane);
  if (plane.values.size() != 4) throw std::runtime_error("PCL found no plane");
  return grid_heights({plane.values[0], plane.values[1], plane.values[2], plane.values[3]}, filtered->size(),
                      [&](std::size_t i) -> Eigen::Vector3d { return (*filtered)[i].getVector3fMap().cast<double>(); });
}

std::size_t open3d_recipe(const std::filesystem::path& path) {
  open3d::geometry::PointCloud cloud;
  if (!open3d::io::ReadPointCloud(path.string(), cloud)) {
    throw std::runtime_error("Open3D cannot read " + path.string());
  }
  const auto [filtered, kept] = cloud.RemoveStatisticalOutliers(50, 1.0);
  const auto [plane, inliers] = filtered->SegmentPlane(0.05, 3, 1000);
  const auto& points = filtered->points_;
  return grid_heights(plane, points.size(), [&](std::size_t i) -> const Eigen::Vector3d& { return points[i]; });
}

/// What the tables at the end are made of; only the cases that ran are in it.
struct Findings {
  struct Map {
    double points = 0.0;
    std::vector<double> seconds;
  };
  std::map<double, Map> maps;  ///< By the points asked for.
  struct Recipe {
    std::string name;
    double seconds = 0.0, map_seconds = 0.0;
  };
  std::vector<Recipe> recipes;
  double compared_points = 0.0;
};

void map_case(benchmark::State& state, const Scans& scans, double points, Findings& findings) {
  const auto path = scans.path_of(points);
  Findings::Map& map = findings.maps[points];
  map.points = points_in(path);
  const Note note(fmt::format("map of {:g} million points", points / kMillion));
  for (auto _ : state) {
    const Stopwatch watch;
    benchmark::DoNotOptimize(map_of(path));
    map.seconds.push_back(watch.seconds());
    state.SetIterationTime(map.seconds.back());
  }
  state.counters["points"] = map.points;
  state.counters["points/s"] = benchmark::Counter(map.points, benchmark::Counter::kIsIterationInvariantRate);
}

/// Times run(prepare()) without what `prepare` takes and without freeing.
template <typename Prepare, typename Run>
void time_each(benchmark::State& state, const Prepare& prepare, const Run& run) {
  for (auto _ : state) {
    auto input = prepare();
    const Stopwatch watch;
    auto output = run(std::move(input));
    state.SetIterationTime(watch.seconds());
    benchmark::DoNotOptimize(output);
  }
}

constexpr std::array<std::string_view, 9> kStages{"read", "align", "thickness",      "assess",     "bend",
                                                  "clip", "plan",  "plate, 6 modes", "all outputs"};

void stage_case(benchmark::State& state, const Scans& scans, double points, std::string_view stage) {
  const auto path = scans.path_of(points);
  const Note note("stages of a measurement");
  const Rig rig;
  const auto nothing = [] { return 0; };
  if (stage == "read") return time_each(state, nothing, [&](int) { return read_scan(ScanFile(path)); });
  const Cloud cloud = read_scan(ScanFile(path));
  if (stage == "align") {
    return time_each(
        state, [&] { return cloud; }, [&](Cloud copy) { return align(std::move(copy), rig); });
  }
  const Aligned aligned = align(cloud, rig);
  if (stage == "thickness") {
    return time_each(state, nothing, [&](int) { return measure_thickness(aligned, rig.priors); });
  }
  const Result result = measure({.scans = {path}, .rig = rig, .target = {}, .player = {}});
  if (stage == "assess") {
    const Instrument& instrument = *find_instrument(result.instrument);
    return time_each(state, nothing,
                     [&](int) { return assess({.map = result.map, .aligned = aligned, .instrument = instrument}); });
  }
  const auto bend = [&] {
    return bend_reed({.map = result.map,
                      .outline = result.outline,
                      .assessment = result.assessment,
                      .player = result.player,
                      .instrument = result.instrument,
                      .state = result.state});
  };
  if (stage == "bend") return time_each(state, nothing, [&](int) { return bend(); });
  if (stage == "clip") {
    return time_each(state, nothing, [&](int) {
      const Mouthpiece mouthpiece = mouthpiece_for(result.player, result.instrument);
      const CaneState cane = cane_in(result.state);
      return clipped_reeds({.map = result.map,
                            .outline = result.outline,
                            .bark = result.assessment.cut.bark,
                            .mouthpiece = mouthpiece,
                            .cane = cane.cane},
                           lip_of(result.player, result.instrument));
    });
  }
  BentReed bent = bend();
  if (stage == "plan") {
    bent.clipped = result.clipped;
    return time_each(state, nothing, [&](int) {
      return plan_scrape({.map = result.map,
                          .outline = result.outline,
                          .assessment = result.assessment,
                          .bent = bent,
                          .player = result.player,
                          .limits = find_instrument(result.instrument)->removal});
    });
  }
  if (stage == "plate, 6 modes") {
    // Assembled and factorised anew: stiffnesses, their sensitivities, modes.
    const BendingFigures& figures = *bent.figures;
    state.counters["unknowns"] = static_cast<double>(3 * figures.reed().model.mesh.nodes());
    return time_each(state, nothing, [&](int) {
      const Plate plate = figures.plate_with(figures.reed().model.thickness_mm);
      return std::pair(figures.of(plate, true), plate.modes(6));
    });
  }
  time_each(state, nothing, [&](int) { return output_files(result); });
}

template <typename Recipe>
void recipe_case(benchmark::State& state, const Scans& scans, double points, const std::string& name,
                 const Recipe& recipe, Findings& findings) {
  const auto path = scans.path_of(points);
  const Note note("straight recipe in " + name + "; this takes seconds");
  findings.compared_points = points_in(path);
  std::size_t cells = 0;
  for (auto _ : state) {
    // Maps on both sides of the recipe: what else the computer does meanwhile then slows both alike.
    std::vector<double> maps;
    const auto time_maps = [&] {
      for (int i = 0; i < kMapsBeside; ++i) {
        const Stopwatch watch;
        benchmark::DoNotOptimize(map_of(path));
        maps.push_back(watch.seconds());
      }
    };
    state.PauseTiming();
    time_maps();
    state.ResumeTiming();
    const Stopwatch watch;
    cells = recipe(path);
    const double seconds = watch.seconds();
    state.SetIterationTime(seconds);
    state.PauseTiming();
    time_maps();
    state.ResumeTiming();
    findings.recipes.push_back({name, seconds, median_of(maps)});
  }
  state.counters["cells"] = static_cast<double>(cells);
}

void print_growth(const Findings& findings) {
  if (findings.maps.empty()) return;
  fmt::print("\nMap, from file to map\n{:>10} {:>6} {:>11} {:>10} {:>12} {:>16}\n", "points", "runs", "median ms",
             "least ms", "ns a point", "growth a point");
  double before = 0.0;
  for (const auto& [asked, map] : findings.maps) {
    const double seconds = median_of(map.seconds), a_point = 1e9 * seconds / map.points;
    fmt::print("{:>10.0f} {:>6} {:>11.1f} {:>10.1f} {:>12.1f} {:>16}\n", map.points, map.seconds.size(), 1e3 * seconds,
               1e3 * *std::min_element(map.seconds.begin(), map.seconds.end()), a_point,
               before > 0.0 ? fmt::format("x {:.2f}", a_point / before) : "");
    before = a_point;
  }
}

void print_ratios(const Findings& findings) {
  if (findings.recipes.empty()) return;
  fmt::print("\nThe same file of {:.0f} points in the same run\n{:<40} {:>10} {:>16} {:>8}\n", findings.compared_points,
             "", "recipe s", "canewise map s", "ratio");
  for (const auto& recipe : findings.recipes) {
    fmt::print("{:<40} {:>10.3f} {:>16.3f} {:>8.1f}\n", recipe.name + " / canewise map", recipe.seconds,
               recipe.map_seconds, recipe.seconds / recipe.map_seconds);
  }
}

}  // namespace

int main(int argc, char** argv) {
  try {
    benchmark::Initialize(&argc, argv);
    if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
    pcl::console::setVerbosityLevel(pcl::console::L_ERROR);
    open3d::utility::SetVerbosityLevel(open3d::utility::VerbosityLevel::Error);

    const Scans scans;
    Findings findings;
    constexpr double compared = 1e6;
    const auto add = [](const std::string& name, auto run, benchmark::IterationCount iterations) {
      benchmark::RegisterBenchmark(name.c_str(), run)
          ->Iterations(iterations)
          ->UseManualTime()
          ->Unit(benchmark::kMillisecond);
    };
    // The largest sizes take seconds; fewer of them are steady enough.
    for (const auto& [points, runs] :
         {std::pair{0.25e6, 21}, std::pair{1e6, 11}, std::pair{4e6, 5}, std::pair{16e6, 3}}) {
      add(
          fmt::format("map/{:g}M", points / kMillion),
          [&, points = points](benchmark::State& state) { map_case(state, scans, points, findings); }, runs);
    }
    for (const auto stage : kStages) {
      add(
          fmt::format("stages/1M/{}", stage),
          [&, stage](benchmark::State& state) { stage_case(state, scans, compared, stage); }, 7);
    }
    const auto add_recipe = [&](const std::string& name, auto recipe) {
      add(
          "recipe/1M/" + name,
          [&, name, recipe](benchmark::State& state) { recipe_case(state, scans, compared, name, recipe, findings); },
          1);
    };
    add_recipe("PCL (mean_k 50)", [](const auto& path) { return pcl_recipe(path, 50); });
    add_recipe("PCL (mean_k 10)", [](const auto& path) { return pcl_recipe(path, 10); });
    add_recipe("Open3D (50 neighbours)", [](const auto& path) { return open3d_recipe(path); });

    benchmark::RunSpecifiedBenchmarks();
    print_growth(findings);
    print_ratios(findings);
    fmt::print("\n{} cores\n", std::thread::hardware_concurrency());
    benchmark::Shutdown();
    return 0;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "canewise_bench: %s\n", error.what());
    return 1;
  }
}
