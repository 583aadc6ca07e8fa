#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "calib/pictures.h"
#include "calib/plot.h"
#include "scanproc/core/statistics.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

double round_up(double value) {
  const double power = std::pow(10.0, std::floor(std::log10(std::max(1e-9, value))));
  for (const double nice : {1.0, 2.0, 5.0, 10.0}) {
    if (nice * power >= value) return nice * power;
  }
  return 10.0 * power;
}

/// A rectangle of the camera's shape.
Plot picture_plot(const Camera& camera, double left, double top, double width) {
  Plot plot;
  plot.left = left, plot.top = top, plot.width = width;
  plot.height = width * static_cast<double>(camera.height) / static_cast<double>(camera.width);
  plot.x_high = static_cast<double>(camera.width), plot.y_high = static_cast<double>(camera.height);
  plot.y_down = true;
  return plot;
}

/// Upright bars, one a photograph or pose, numbered; crosses where one was left out.
void draw_bars(Canvas& canvas, Plot plot, const std::vector<double>& values, const std::vector<bool>& used) {
  const double step = plot.width / static_cast<double>(std::max<std::size_t>(1, values.size()));
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double x = plot.left + step * (static_cast<double>(i) + 0.5);
    const CanvasPoint zero = plot.at(0, std::max(0.0, plot.y_low)),
                      top = plot.at(0, std::clamp(values[i], plot.y_low, plot.y_high));
    if (used[i]) {
      canvas.rectangle({{x - 0.35 * step, std::min(zero.y, top.y)}, 0.7 * step, std::abs(zero.y - top.y)}, kSeen);
    } else {
      draw_cross(canvas, {x, zero.y - 10.0}, 5.0, kBad);
    }
    if (values.size() <= 30 || i % 5 == 0)
      canvas.text({x, plot.top + plot.height + 18.0}, fmt::format("{}", i + 1), {12.0, kFaint}, Anchor::middle);
  }
}

/// A photograph or pose that was left out; `at` counts from 1.
struct LeftOut {
  std::size_t at;
  std::string name;
  Message advice;
};

/// What was left out and why, below the bars.
void draw_left_out(Canvas& canvas, double y, const std::vector<LeftOut>& left_out, const Speech& speech) {
  for (const auto& [at, name, advice] : left_out) {
    const Message words{"picture_calib.left_out", {{"at", count(at)}, {"name", text(name)}, {"advice", part(advice)}}};
    y = canvas.paragraph({30, y}, phrase(words, speech), {13.0, kBad}, kImageWidth - 60.0);
  }
}

/// A page with its heading, and where the heading ends.
struct Page {
  Canvas canvas;
  double y = 0.0;
};

/// High enough for its heading, a picture and the room below that.
Page page_of(const std::string& title, const std::string& words, double picture, double below) {
  Canvas canvas = Canvas::png(kImageWidth, static_cast<int>(heading_end(kImageWidth, title, words) + picture + below));
  const double y = draw_heading(canvas, kImageWidth, title, words);
  return {std::move(canvas), y};
}

constexpr double kPictureWidth = 600.0;

double picture_height(const Camera& camera) {
  return kPictureWidth * static_cast<double>(camera.height) / static_cast<double>(camera.width);
}

/// How many corners were seen in each part of the picture, the more the darker.
void draw_coverage(Canvas& canvas, const Plot& plot, const CameraCalibration& c, const Speech& speech) {
  const double cell_w = plot.width / CameraCalibration::kAcross, cell_h = plot.height / CameraCalibration::kDown;
  int most = 1;
  for (const int n : c.coverage) most = std::max(most, n);
  for (int r = 0; r < CameraCalibration::kDown; ++r) {
    for (int k = 0; k < CameraCalibration::kAcross; ++k) {
      const int n = c.coverage.at(static_cast<std::size_t>(r * CameraCalibration::kAcross + k));
      const double x = plot.left + k * cell_w, top = plot.top + r * cell_h;
      const double light = 0.97 - 0.22 * std::sqrt(static_cast<double>(n) / most);
      canvas.rectangle({{x, top}, cell_w, cell_h}, n == 0 ? kPaper : Colour{light, light, light + 0.02});
      if (n == 0) {
        draw_cross(canvas, {x + 0.5 * cell_w, top + 0.5 * cell_h}, 9.0, kBad);
        canvas.text({x + 0.5 * cell_w, top + 0.5 * cell_h + 26.0}, phrase({"picture_calib.no_corner"}, speech),
                    {11.0, kBad}, Anchor::middle);
      }
    }
  }
}

/// Misses of all corners, `enlarged` times.
void draw_misses(Canvas& canvas, const Plot& plot, const CameraCalibration& c, double enlarged) {
  for (std::size_t i = 0; i < c.used.size(); ++i) {
    const Eigen::VectorXd off = residuals_of(c.found.camera, c.used[i], c.poses[i]);
    for (std::size_t k = 0; k < c.used[i].pixels.size(); ++k) {
      const auto& at = c.used[i].pixels[k];
      const CanvasPoint from = plot.at(at.x(), at.y());
      const auto row = static_cast<Eigen::Index>(2 * k);
      canvas.line(from, {from.x + enlarged * off(row), from.y + enlarged * off(row + 1)}, {kSeen, 1.2});
    }
  }
}

/// What strokes and grey mean, beside the picture; strokes are so many `times` longer than the misses.
void draw_camera_key(Canvas& canvas, const Plot& plot, double times, const Speech& speech) {
  double y = plot.top + 4.0;
  const double x = plot.left + plot.width + 30.0, width = kImageWidth - x - 20.0;
  y = canvas.paragraph({x, y + 8}, phrase({"picture_calib.strokes"}, speech), {.size = 14.0, .bold = true}, width);
  y = canvas.paragraph({x, y}, phrase({"picture_calib.strokes_show", {{"times", number(times)}}}, speech), {13.0},
                       width);
  y = canvas.paragraph({x, y + 12}, phrase({"picture_calib.grey"}, speech), {.size = 14.0, .bold = true}, width);
  canvas.paragraph({x, y}, phrase({"picture_calib.grey_saw"}, speech), {13.0}, width);
}

/// Each photograph's error, and the first three that were left out.
void draw_photographs(Canvas& canvas, Plot bars, const CameraCalibration& c, const Speech& speech) {
  std::vector<double> values;
  std::vector<bool> used;
  for (const auto& view : c.views) values.push_back(view.rms_px), used.push_back(view.used);
  const double tallest = *std::max_element(values.begin(), values.end());
  bars.y_high = 1.15 * std::max(0.05, tallest);
  canvas.line({bars.left, bars.top + bars.height}, {bars.left + bars.width, bars.top + bars.height}, {kFaint, 1.0});
  draw_bars(canvas, bars, values, used);
  canvas.text({bars.left, bars.top - 10.0},
              phrase({"picture_calib.each_photograph", {{"tallest", number(tallest, 2)}}}, speech), {13.0});
  std::vector<LeftOut> left_out;
  for (std::size_t i = 0; i < c.views.size() && left_out.size() < 3; ++i) {
    if (!c.views[i].used) left_out.push_back({i + 1, c.views[i].name, c.views[i].advice});
  }
  draw_left_out(canvas, bars.top + bars.height + 44.0, left_out, speech);
}

Messages camera_words(const CameraCalibration& c) {
  const CalibratedCamera& found = c.found;
  std::size_t left_out = 0;
  for (const auto& view : c.views) left_out += view.used ? 0 : 1;
  Messages told{{"picture_calib.camera_words",
                 {{"used", count(c.used.size())},
                  {"left_out", count(left_out)},
                  {"seen", number(found.rms_px, 2)},
                  {"limit", number(kRmsLimit_px, decimals_of(kRmsLimit_px))},
                  {"unseen", number(found.cross_validated_px, 2)},
                  {"pixel", mm(c.mm_per_px, 3)},
                  {"on_board", um(1e3 * found.cross_validated_px * c.mm_per_px)}}}};
  told.insert(told.end(), c.remarks.begin(), c.remarks.end());
  return told;
}

Message plane_words(const LaserPlaneCalibration& c) {
  std::size_t used = 0;
  for (const auto& pose : c.poses) used += pose.advice.empty() ? 1 : 0;
  return {"picture_calib.plane_words",
          {{"used", count(used)},
           {"left_out", count(c.poses.size() - used)},
           {"off", um(c.found.residual_um, 1)},
           {"noise", number(c.found.centre_noise_px, 2)},
           {"crossing", number(c.crossing_deg)}}};
}

/// Distances of the line's points from the plane, and what their colours mean.
void draw_distances(Canvas& canvas, const Plot& plot, const LaserPlaneCalibration& c, const Speech& speech) {
  std::vector<double> sizes;
  for (const auto& r : c.residuals) sizes.push_back(std::abs(r.distance_um));
  std::sort(sizes.begin(), sizes.end());
  const double limit = round_up(sizes.empty() ? 1.0 : sizes[sizes.size() * 95 / 100]);
  for (const auto& r : c.residuals) {
    const CanvasPoint at = plot.at(r.column, r.row);
    canvas.rectangle({{at.x - 2.0, at.y - 2.0}, 4.0, 4.0},
                     diverging_colour(std::clamp(r.distance_um / limit, -1.0, 1.0)));
  }
  draw_scale_bar(canvas, {.top_left = {plot.left, plot.top + plot.height + 52.0}, .width = 300.0, .limit_um = limit},
                 speech);
  canvas.text({plot.left + 320.0, plot.top + plot.height + 64.0}, phrase({"picture_calib.plane_scale"}, speech),
              {13.0});
  const double x = plot.left + plot.width + 30.0, width = kImageWidth - x - 20.0;
  const double y = canvas.paragraph({x, plot.top + 12.0}, phrase({"picture_calib.look_for"}, speech),
                                    {.size = 14.0, .bold = true}, width);
  canvas.paragraph({x, y}, phrase({"picture_calib.stripes"}, speech), {13.0}, width);
}

/// Each pose's mean distance as an upright bar about nought; a cross where the pose was left out.
void draw_pose_bars(Canvas& canvas, const Plot& bars, const LaserPlaneCalibration& c) {
  canvas.line(bars.at(0, 0), {bars.left + bars.width, bars.at(0, 0).y}, {kFaint, 1.0});
  const double step = bars.width / static_cast<double>(std::max<std::size_t>(1, c.poses.size()));
  for (std::size_t i = 0; i < c.poses.size(); ++i) {
    const double x = bars.left + step * (static_cast<double>(i) + 0.5), zero = bars.at(0, 0).y,
                 top = bars.at(0, c.poses[i].offset_um).y;
    if (c.poses[i].advice.empty()) {
      canvas.rectangle({{x - 0.3 * step, std::min(zero, top)}, 0.6 * step, std::max(1.5, std::abs(zero - top))}, kSeen);
    } else {
      draw_cross(canvas, {x, zero}, 5.0, kBad);
    }
    canvas.text({x, bars.top + bars.height + 18.0}, fmt::format("{}", i + 1), {12.0, kFaint}, Anchor::middle);
  }
}

/// The poses' bars, and the first two that were left out.
void draw_poses(Canvas& canvas, Plot bars, const LaserPlaneCalibration& c, const Speech& speech) {
  double largest = 1.0;
  for (const auto& pose : c.poses) largest = std::max(largest, std::abs(pose.offset_um));
  bars.y_low = -1.15 * largest, bars.y_high = 1.15 * largest;
  draw_pose_bars(canvas, bars, c);
  canvas.text({bars.left, bars.top - 10.0}, phrase({"picture_calib.each_pose", {{"largest", um(largest, 1)}}}, speech),
              {13.0});
  std::vector<LeftOut> left_out;
  for (std::size_t i = 0; i < c.poses.size() && left_out.size() < 2; ++i) {
    if (!c.poses[i].advice.empty()) left_out.push_back({i + 1, c.poses[i].name, c.poses[i].advice});
  }
  draw_left_out(canvas, bars.top + bars.height + 44.0, left_out, speech);
}

}  // namespace

std::string camera_png(const CameraCalibration& c, const Speech& speech) {
  const Camera& camera = c.found.camera;
  constexpr double room_below = 450.0;
  auto [canvas, y] = page_of(phrase({"picture_calib.camera"}, speech), sentences(camera_words(c), speech),
                             picture_height(camera), room_below);
  const Plot plot = picture_plot(camera, 90, y + 40, kPictureWidth);
  draw_coverage(canvas, plot, c, speech);
  draw_axes(canvas, plot, {phrase({"picture_calib.column"}, speech), phrase({"picture_calib.row"}, speech)}, speech);
  const double enlarged = 12.0 / std::max(0.01, c.corner_sd_px);  // So that a usual miss is seen.
  draw_misses(canvas, plot, c, enlarged);
  draw_camera_key(canvas, plot, enlarged * static_cast<double>(camera.width) / plot.width, speech);
  draw_photographs(canvas, {90, plot.top + plot.height + 90, kImageWidth - 120.0, 150, 0, 1, 0, 1}, c, speech);
  return std::move(canvas).finish();
}

std::string plane_png(const LaserPlaneCalibration& c, const Camera& camera, const Speech& speech) {
  constexpr double room_below = 450.0;
  auto [canvas, y] = page_of(phrase({"picture_calib.plane"}, speech), phrase(plane_words(c), speech),
                             picture_height(camera), room_below);
  const Plot plot = picture_plot(camera, 90, y + 40, kPictureWidth);
  draw_axes(canvas, plot, {phrase({"picture_calib.column"}, speech), phrase({"picture_calib.row"}, speech)}, speech);
  draw_distances(canvas, plot, c, speech);
  draw_poses(canvas, {90, plot.top + plot.height + 150, kImageWidth - 120.0, 130, 0, 1, 0, 1}, c, speech);
  return std::move(canvas).finish();
}

std::string stage_png(const StageCalibration& c, const Speech& speech) {
  Messages told{{"picture_calib.stage_words",
                 {{"way", mm(c.length_ratio, 4)},
                  {"u95", mm(1.96 * c.u_length_ratio, 4)},
                  {"off", um(c.found.straightness_um)}}}};
  if (c.found.out_of_square_deg > 0.0)
    told.push_back({"picture_calib.out_of_square", {{"angle", number(c.found.out_of_square_deg, 1)}}});
  told.insert(told.end(), c.remarks.begin(), c.remarks.end());
  constexpr double room_below = 490.0;
  auto [canvas, y] = page_of(phrase({"picture_calib.stage"}, speech), sentences(told, speech), 0.0, room_below);
  Plot plot{100, y + 50, kImageWidth - 150.0, 320, 0, 1, 0, 1};
  std::vector<double> values;
  double first = 1e9, last = -1e9;
  for (const auto& p : c.positions) {
    first = std::min(first, p.nominal_mm), last = std::max(last, p.nominal_mm);
    if (p.advice.empty()) {
      values.insert(values.end(),
                    {p.off_um.x() - 1.96 * p.u_along_um, p.off_um.x() + 1.96 * p.u_along_um, p.off_um.y()});
    }
  }
  const double room = 0.04 * (last - first) + 1e-6;
  plot.x_low = first - room, plot.x_high = last + room;
  fit_y(plot, values, {-1.0, 1.0});
  draw_axes(canvas, plot, {phrase({"picture_calib.stated_way"}, speech), phrase({"picture_calib.off_way"}, speech)},
            speech);
  draw_level(canvas, plot, {0.0});
  std::vector<CanvasPoint> along, across;
  for (const auto& p : c.positions) {
    if (!p.advice.empty()) {
      draw_cross(canvas, plot.at(p.nominal_mm, 0.0), 6.0, kBad);
      continue;
    }
    along.push_back(plot.at(p.nominal_mm, p.off_um.x()));
    across.push_back(plot.at(p.nominal_mm, p.off_um.y()));
  }
  canvas.polyline(along, {kSeen, 2.0});
  canvas.polyline(across, {.colour = kInk, .width = 1.5, .dashed = true});
  for (const auto& p : c.positions) {
    if (!p.advice.empty()) continue;
    canvas.line(plot.at(p.nominal_mm, p.off_um.x() - 1.96 * p.u_along_um),
                plot.at(p.nominal_mm, p.off_um.x() + 1.96 * p.u_along_um), {kSeen, 1.5});
  }
  for (const auto& p : along) draw_dot(canvas, p, 4.0, kSeen);
  for (const auto& p : across) draw_dot(canvas, p, 3.0, kInk);
  const double ly = plot.top + plot.height + 66.0;
  canvas.line({100, ly}, {140, ly}, {kSeen, 2.0});
  canvas.text({150, ly + 4.0}, phrase({"picture_calib.along_way"}, speech), {13.0});
  const double second = ly + 24.0;
  canvas.line({100, second}, {140, second}, {.colour = kInk, .width = 1.5, .dashed = true});
  canvas.text({150, second + 4.0}, phrase({"picture_calib.across_way"}, speech), {13.0});
  return std::move(canvas).finish();
}

std::string depth_png(const DepthCalibration& c, const Speech& speech) {
  const Messages told{{"picture_calib.depth_words", {{"before", um(c.before_um)}}},
                      std::isnan(c.after_um) ? Message{"picture_calib.third_distance"}
                                             : Message{"picture_calib.foretold", {{"after", um(c.after_um, 1)}}},
                      c.advice};
  const DepthCorrection& d = c.found;
  const double width = 440.0, height = width * static_cast<double>(d.height) / static_cast<double>(d.width);
  constexpr double room_below = 380.0;
  auto [canvas, y] = page_of(phrase({"picture_calib.depth"}, speech), sentences(told, speech), height, room_below);
  double limit = 1.0;
  for (const double e : d.errors_um) limit = std::max(limit, std::abs(e));
  limit = round_up(0.8 * limit);
  for (int which = 0; which < 2; ++which) {
    const std::size_t k = which == 0 ? 0 : d.depths_mm.size() - 1;
    const double x0 = 40.0 + which * (width + 40.0);
    for (std::size_t r = 0; r < d.rows; ++r) {
      for (std::size_t i = 0; i < d.columns; ++i) {
        const double e = d.errors_um[(k * d.rows + r) * d.columns + i];
        canvas.rectangle({{x0 + width * static_cast<double>(i) / static_cast<double>(d.columns),
                           y + 40 + height * static_cast<double>(r) / static_cast<double>(d.rows)},
                          width / static_cast<double>(d.columns) + 1.0,
                          height / static_cast<double>(d.rows) + 1.0},
                         diverging_colour(std::clamp(e / limit, -1.0, 1.0)));
      }
    }
    canvas.text({x0, y + 32}, phrase({"picture_calib.depth_error", {{"depth", mm(d.depths_mm[k], 1)}}}, speech),
                {.size = 14.0, .bold = true});
  }
  draw_scale_bar(canvas, {.top_left = {40, y + 60 + height}, .width = 300.0, .limit_um = limit}, speech);
  canvas.text({360, y + 72 + height}, phrase({"picture_calib.depth_scale"}, speech), {13.0});
  Plot plot{100, y + 160 + height, kImageWidth - 150.0, 150.0, 0, 1, 0, 1};
  std::vector<double> noise;
  for (const auto& v : c.views) noise.push_back(v.noise_um);
  plot.x_low = d.depths_mm.front() - 0.05 * (d.depths_mm.back() - d.depths_mm.front());
  plot.x_high = d.depths_mm.back() + 0.05 * (d.depths_mm.back() - d.depths_mm.front());
  fit_y(plot, noise, {0.0});
  draw_axes(canvas, plot, {phrase({"picture_calib.depth_axis"}, speech), phrase({"picture_calib.noise_axis"}, speech)},
            speech);
  for (const auto& v : c.views) draw_dot(canvas, plot.at(v.depth_mm, v.noise_um), 5.0, kSeen);
  return std::move(canvas).finish();
}

}  // namespace canewise
