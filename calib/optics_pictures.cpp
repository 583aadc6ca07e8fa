#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "calib/pictures.h"
#include "calib/plot.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr int kWidth = 1000;

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
      canvas.rectangle(x - 0.35 * step, std::min(zero.y, top.y), 0.7 * step, std::abs(zero.y - top.y), kSeen);
    } else {
      draw_cross(canvas, {x, zero.y - 10.0}, 5.0, kBad);
    }
    if (values.size() <= 30 || i % 5 == 0)
      canvas.text({x, plot.top + plot.height + 18.0}, fmt::format("{}", i + 1), 12.0, Anchor::middle, kFaint);
  }
}

}  // namespace

std::string camera_png(const CameraCalibration& c) {
  const CalibratedCamera& found = c.found;
  std::size_t left_out = 0;
  for (const auto& view : c.views) left_out += view.used ? 0 : 1;
  std::string words = fmt::format(
      "{} photographs used, {} left out. Corners miss their place by {:.2f} px (root mean square; limit {:g}), by "
      "{:.2f} px in "
      "photographs that the fit had not seen. At {:.3f} mm a pixel that is {:.0f} µm on the board.",
      c.used.size(), left_out, found.rms_px, kRmsLimit_px, found.cross_validated_px, c.mm_per_px,
      1e3 * found.cross_validated_px * c.mm_per_px);
  for (const auto& remark : c.remarks) words += " " + remark;
  const double picture_height =
      600.0 * static_cast<double>(found.camera.height) / static_cast<double>(found.camera.width);
  Canvas canvas = Canvas::png(kWidth, static_cast<int>(picture_height) + 560);
  const double y = draw_heading(canvas, kWidth, "The camera", words);
  const Plot plot = picture_plot(found.camera, 90, y + 40, 600);
  const double cell_w = plot.width / CameraCalibration::kAcross, cell_h = plot.height / CameraCalibration::kDown;
  int most = 1;
  for (const int n : c.coverage) most = std::max(most, n);
  for (int r = 0; r < CameraCalibration::kDown; ++r) {
    for (int k = 0; k < CameraCalibration::kAcross; ++k) {
      const int n = c.coverage.at(static_cast<std::size_t>(r * CameraCalibration::kAcross + k));
      const double x = plot.left + k * cell_w, top = plot.top + r * cell_h;
      const double light = 0.97 - 0.22 * std::sqrt(static_cast<double>(n) / most);
      canvas.rectangle(x, top, cell_w, cell_h, n == 0 ? kPaper : Colour{light, light, light + 0.02});
      if (n == 0) {
        draw_cross(canvas, {x + 0.5 * cell_w, top + 0.5 * cell_h}, 9.0, kBad);
        canvas.text({x + 0.5 * cell_w, top + 0.5 * cell_h + 26.0}, "no corner", 11.0, Anchor::middle, kBad);
      }
    }
  }
  draw_axes(canvas, plot, "column, px", "row, px");
  // Misses, enlarged so that a usual one is seen.
  const double enlarged = 12.0 / std::max(0.01, c.corner_sd_px);
  for (std::size_t i = 0; i < c.used.size(); ++i) {
    const Eigen::VectorXd off = residuals_of(found.camera, c.used[i], c.poses[i]);
    for (std::size_t k = 0; k < c.used[i].pixels.size(); ++k) {
      const auto& at = c.used[i].pixels[k];
      const CanvasPoint from = plot.at(at.x(), at.y());
      const auto row = static_cast<Eigen::Index>(2 * k);
      canvas.line(from, {from.x + enlarged * off(row), from.y + enlarged * off(row + 1)}, kSeen, 1.2);
    }
  }
  double ty = plot.top + 4.0;
  const double tx = plot.left + plot.width + 30.0, tw = kWidth - tx - 20.0;
  ty = canvas.paragraph({tx, ty + 8}, "Blue strokes", 14.0, tw, kInk, true);
  ty = canvas.paragraph({tx, ty},
                        fmt::format("show how far corners miss, enlarged {:.0f} times. They should point "
                                    "anywhere; strokes that all turn one way in a part of the picture show a lens "
                                    "or a sheet that the model cannot take.",
                                    enlarged * static_cast<double>(found.camera.width) / plot.width),
                        13.0, tw);
  ty = canvas.paragraph({tx, ty + 12}, "Grey parts", 14.0, tw, kInk, true);
  canvas.paragraph({tx, ty}, "saw corners, the more the darker. Crossed parts saw none: nobody knows the lens there.",
                   13.0, tw);
  Plot bars{90, plot.top + plot.height + 90, kWidth - 120.0, 150, 0, 1, 0, 1};
  std::vector<double> values;
  std::vector<bool> used;
  for (const auto& view : c.views) values.push_back(view.rms_px), used.push_back(view.used);
  bars.y_high = 1.15 * std::max(0.05, *std::max_element(values.begin(), values.end()));
  canvas.line({bars.left, bars.top + bars.height}, {bars.left + bars.width, bars.top + bars.height}, kFaint, 1.0);
  draw_bars(canvas, bars, values, used);
  canvas.text({bars.left, bars.top - 10.0},
              fmt::format("error of each photograph, px (tallest {:.2f}); crossed ones were left out",
                          *std::max_element(values.begin(), values.end())),
              13.0);
  double ly = bars.top + bars.height + 44.0;
  int told = 0;
  for (std::size_t i = 0; i < c.views.size() && told < 3; ++i) {
    if (c.views[i].used) continue;
    ly = canvas.paragraph({30, ly}, fmt::format("{}: {}: {}", i + 1, c.views[i].name, c.views[i].advice), 13.0,
                          kWidth - 60.0, kBad);
    ++told;
  }
  return std::move(canvas).finish();
}

std::string plane_png(const LaserPlaneCalibration& c, const Camera& camera) {
  const double picture_height = 600.0 * static_cast<double>(camera.height) / static_cast<double>(camera.width);
  Canvas canvas = Canvas::png(kWidth, static_cast<int>(picture_height) + 520);
  std::size_t used = 0;
  for (const auto& pose : c.poses) used += pose.advice.empty() ? 1 : 0;
  const double y = draw_heading(
      canvas, kWidth, "The plane of light",
      fmt::format(
          "{} poses used, {} left out. Their points lie {:.1f} µm (root mean square) off one plane; the line's middle "
          "scatters by {:.2f} px. The lines cross at up to {:.0f} degrees.",
          used, c.poses.size() - used, c.found.residual_um, c.found.centre_noise_px, c.crossing_deg));
  const Plot plot = picture_plot(camera, 90, y + 40, 600);
  draw_axes(canvas, plot, "column, px", "row, px");
  std::vector<double> sizes;
  for (const auto& r : c.residuals) sizes.push_back(std::abs(r.distance_um));
  std::sort(sizes.begin(), sizes.end());
  const double limit = round_up(sizes.empty() ? 1.0 : sizes[sizes.size() * 95 / 100]);
  for (const auto& r : c.residuals) {
    const CanvasPoint at = plot.at(r.column, r.row);
    canvas.rectangle(at.x - 2.0, at.y - 2.0, 4.0, 4.0, diverging_colour(std::clamp(r.distance_um / limit, -1.0, 1.0)));
  }
  draw_scale_bar(canvas, {plot.left, plot.top + plot.height + 52.0}, 300.0, limit, "µm");
  canvas.text({plot.left + 320.0, plot.top + plot.height + 64.0}, "distance of the line's points from the plane", 13.0);
  const double tx = plot.left + plot.width + 30.0, tw = kWidth - tx - 20.0;
  double ty = canvas.paragraph({tx, plot.top + 12.0}, "What to look for", 14.0, tw, kInk, true);
  canvas.paragraph(
      {tx, ty},
      "Each stripe is the laser's line on one board. Colours that change at random along a stripe are noise. A "
      "whole stripe of one colour is a board that was found badly or bent; colours that follow the place in the "
      "picture are a lens that is not well known there, or a curved sheet of light.",
      13.0, tw);
  Plot bars{90, plot.top + plot.height + 150, kWidth - 120.0, 130, 0, 1, 0, 1};
  std::vector<double> values;
  std::vector<bool> flags;
  for (const auto& pose : c.poses) values.push_back(pose.offset_um), flags.push_back(pose.advice.empty());
  double largest = 1.0;
  for (const double v : values) largest = std::max(largest, std::abs(v));
  bars.y_low = -1.15 * largest, bars.y_high = 1.15 * largest;
  canvas.line(bars.at(0, 0), {bars.left + bars.width, bars.at(0, 0).y}, kFaint, 1.0);
  const double step = bars.width / static_cast<double>(std::max<std::size_t>(1, values.size()));
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double x = bars.left + step * (static_cast<double>(i) + 0.5), zero = bars.at(0, 0).y,
                 top = bars.at(0, values[i]).y;
    if (flags[i]) {
      canvas.rectangle(x - 0.3 * step, std::min(zero, top), 0.6 * step, std::max(1.5, std::abs(zero - top)), kSeen);
    } else {
      draw_cross(canvas, {x, zero}, 5.0, kBad);
    }
    canvas.text({x, bars.top + bars.height + 18.0}, fmt::format("{}", i + 1), 12.0, Anchor::middle, kFaint);
  }
  canvas.text(
      {bars.left, bars.top - 10.0},
      fmt::format("mean distance of each pose's line from the plane (largest {:.1f} µm); crossed ones were left out",
                  largest),
      13.0);
  double ly = bars.top + bars.height + 44.0;
  int told = 0;
  for (std::size_t i = 0; i < c.poses.size() && told < 2; ++i) {
    if (c.poses[i].advice.empty()) continue;
    ly = canvas.paragraph({30, ly}, fmt::format("{}: {}: {}", i + 1, c.poses[i].name, c.poses[i].advice), 13.0,
                          kWidth - 60.0, kBad);
    ++told;
  }
  return std::move(canvas).finish();
}

std::string stage_png(const StageCalibration& c) {
  Canvas canvas = Canvas::png(kWidth, 620);
  std::string words = fmt::format(
      "The stage moves {:.4f} mm (U95 {:.4f}) for each millimetre that was stated. It leaves its straight way by "
      "{:.0f} µm "
      "(root mean square).",
      c.length_ratio, 1.96 * c.u_length_ratio, c.found.straightness_um);
  if (c.found.out_of_square_deg > 0.0) {
    words += fmt::format(" Its way is {:.1f} degrees out of square to the sheet of light, which is allowed for.",
                         c.found.out_of_square_deg);
  }
  for (const auto& remark : c.remarks) words += " " + remark;
  const double y = draw_heading(canvas, kWidth, "The stage", words);
  Plot plot{100, y + 50, kWidth - 150.0, 320, 0, 1, 0, 1};
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
  draw_axes(canvas, plot, "way of the stage as stated, mm", "off the straight way, µm");
  draw_level(canvas, plot, 0.0, "", false);
  std::vector<CanvasPoint> along, across;
  for (const auto& p : c.positions) {
    if (!p.advice.empty()) {
      draw_cross(canvas, plot.at(p.nominal_mm, 0.0), 6.0, kBad);
      continue;
    }
    along.push_back(plot.at(p.nominal_mm, p.off_um.x()));
    across.push_back(plot.at(p.nominal_mm, p.off_um.y()));
  }
  canvas.polyline(along, kSeen, 2.0);
  canvas.polyline(across, kInk, 1.5, false, true);
  for (const auto& p : c.positions) {
    if (!p.advice.empty()) continue;
    canvas.line(plot.at(p.nominal_mm, p.off_um.x() - 1.96 * p.u_along_um),
                plot.at(p.nominal_mm, p.off_um.x() + 1.96 * p.u_along_um), kSeen, 1.5);
  }
  for (const auto& p : along) draw_dot(canvas, p, 4.0, kSeen);
  for (const auto& p : across) draw_dot(canvas, p, 3.0, kInk);
  const double ly = plot.top + plot.height + 66.0;
  canvas.line({100, ly}, {140, ly}, kSeen, 2.0);
  canvas.text({150, ly + 4.0}, "along: uneven steps or a slipping belt (bars: what one photograph can tell)", 13.0);
  canvas.line({660, ly}, {700, ly}, kInk, 1.5, true);
  canvas.text({710, ly + 4.0}, "across: a bent or loose guide", 13.0);
  return std::move(canvas).finish();
}

std::string depth_png(const DepthCalibration& c) {
  Canvas canvas = Canvas::png(kWidth, 760);
  const std::string left = std::isnan(c.after_um)
                               ? std::string("Add a third distance to see how well it foretells errors between them.")
                               : fmt::format("Distances that were left out are foretold to {:.1f} µm.", c.after_um);
  const double y =
      draw_heading(canvas, kWidth, "The depth camera",
                   fmt::format("Depths are wrong by {:.0f} µm (root mean square over the picture) and are corrected "
                               "from now on. {} {}",
                               c.before_um, left, c.advice));
  const DepthCorrection& d = c.found;
  const double width = 440.0, height = width * static_cast<double>(d.height) / static_cast<double>(d.width);
  double limit = 1.0;
  for (const double e : d.errors_um) limit = std::max(limit, std::abs(e));
  limit = round_up(0.8 * limit);
  for (int which = 0; which < 2; ++which) {
    const std::size_t k = which == 0 ? 0 : d.depths_mm.size() - 1;
    const double x0 = 40.0 + which * (width + 40.0);
    for (std::size_t r = 0; r < d.rows; ++r) {
      for (std::size_t i = 0; i < d.columns; ++i) {
        const double e = d.errors_um[(k * d.rows + r) * d.columns + i];
        canvas.rectangle(x0 + width * static_cast<double>(i) / static_cast<double>(d.columns),
                         y + 40 + height * static_cast<double>(r) / static_cast<double>(d.rows),
                         width / static_cast<double>(d.columns) + 1.0, height / static_cast<double>(d.rows) + 1.0,
                         diverging_colour(std::clamp(e / limit, -1.0, 1.0)));
      }
    }
    canvas.text({x0, y + 32}, fmt::format("error of depth at {:.1f} mm", d.depths_mm[k]), 14.0, Anchor::left, kInk,
                true);
  }
  draw_scale_bar(canvas, {40, y + 60 + height}, 300.0, limit, "µm");
  canvas.text({360, y + 72 + height}, "orange: seen too far; blue: too near", 13.0);
  Plot plot{100, y + 160 + height, kWidth - 150.0, std::max(80.0, 760.0 - (y + 160 + height) - 70.0), 0, 1, 0, 1};
  std::vector<double> noise;
  for (const auto& v : c.views) noise.push_back(v.noise_um);
  plot.x_low = d.depths_mm.front() - 0.05 * (d.depths_mm.back() - d.depths_mm.front());
  plot.x_high = d.depths_mm.back() + 0.05 * (d.depths_mm.back() - d.depths_mm.front());
  fit_y(plot, noise, {0.0});
  draw_axes(canvas, plot, "depth, mm", "noise from frame to frame, µm");
  for (const auto& v : c.views) draw_dot(canvas, plot.at(v.depth_mm, v.noise_um), 5.0, kSeen);
  return std::move(canvas).finish();
}

}  // namespace canewise
