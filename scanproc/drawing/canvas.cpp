#include "scanproc/drawing/canvas.h"

#include <cairo-pdf.h>
#include <cairo.h>

#include <algorithm>
#include <sstream>

#include "scanproc/core/error.h"
#include "scanproc/drawing/png_bytes.h"

namespace canewise {
namespace {

constexpr double kPointsPerMm = 72.0 / 25.4;

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

}  // namespace

struct Canvas::State {
  std::string bytes;
  cairo_surface_t* surface = nullptr;
  cairo_t* cairo = nullptr;
  bool is_pdf = false;

  void check() const {
    if (cairo_status(cairo) != CAIRO_STATUS_SUCCESS || cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS) {
      throw OutputError({"drawing.failed", {{"why", canewise::text(cairo_status_to_string(cairo_status(cairo)))}}});
    }
  }
  void set(Colour c, double opacity = 1.0) const { cairo_set_source_rgba(cairo, c.red, c.green, c.blue, opacity); }
  void font(double size, bool bold) const {
    cairo_select_font_face(cairo, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                           bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cairo, size);
  }
  void path(const std::vector<CanvasPoint>& points, bool closed) const {
    cairo_new_path(cairo);
    for (const auto& p : points) cairo_line_to(cairo, p.x, p.y);
    if (closed) cairo_close_path(cairo);
  }
  void draw(const Stroke& stroke) const {
    const double dash = 3.0 * std::max(stroke.width, 0.3);
    cairo_set_dash(cairo, &dash, stroke.dashed ? 1 : 0, 0.0);
    cairo_set_line_width(cairo, stroke.width);
    cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
    set(stroke.colour);
    cairo_stroke(cairo);
  }
  State() = default;
  ~State() {
    if (cairo != nullptr) cairo_destroy(cairo);
    if (surface != nullptr) cairo_surface_destroy(surface);
  }
  State(const State&) = delete;
  State& operator=(const State&) = delete;
};

Canvas::Canvas(std::unique_ptr<State> state) : state_(std::move(state)) {}
Canvas::~Canvas() = default;
Canvas::Canvas(Canvas&&) noexcept = default;
Canvas& Canvas::operator=(Canvas&&) noexcept = default;

Canvas Canvas::png(int width_px, int height_px) {
  auto state = std::make_unique<State>();
  state->surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width_px, height_px);
  state->cairo = cairo_create(state->surface);
  state->check();
  state->set(kPaper);
  cairo_paint(state->cairo);
  return Canvas(std::move(state));
}

Canvas Canvas::pdf(double width_mm, double height_mm, const std::string& made_at) {
  auto state = std::make_unique<State>();
  state->is_pdf = true;
  state->surface =
      cairo_pdf_surface_create_for_stream(append, &state->bytes, width_mm * kPointsPerMm, height_mm * kPointsPerMm);
  if (!made_at.empty()) cairo_pdf_surface_set_metadata(state->surface, CAIRO_PDF_METADATA_CREATE_DATE, made_at.c_str());
  state->cairo = cairo_create(state->surface);
  state->check();
  cairo_scale(state->cairo, kPointsPerMm, kPointsPerMm);
  return Canvas(std::move(state));
}

void Canvas::rectangle(const CanvasRectangle& rectangle, Colour fill) {
  state_->set(fill);
  cairo_rectangle(state_->cairo, rectangle.corner.x, rectangle.corner.y, rectangle.width, rectangle.height);
  cairo_fill(state_->cairo);
}

void Canvas::line(CanvasPoint from, CanvasPoint to, const Stroke& stroke) {
  state_->path({from, to}, false);
  state_->draw(stroke);
}

void Canvas::polyline(const std::vector<CanvasPoint>& points, const Stroke& stroke, bool closed) {
  state_->path(points, closed);
  state_->draw(stroke);
}

void Canvas::polygon(const std::vector<CanvasPoint>& points, Colour fill, double opacity) {
  state_->path(points, true);
  state_->set(fill, opacity);
  cairo_fill(state_->cairo);
}

double Canvas::text_width(const std::string& words, double size, bool bold) const {
  state_->font(size, bold);
  cairo_text_extents_t extents;
  cairo_text_extents(state_->cairo, words.c_str(), &extents);
  return extents.x_advance;
}

void Canvas::text(CanvasPoint at, const std::string& words, const Lettering& lettering, Anchor anchor) {
  const double width = text_width(words, lettering.size, lettering.bold);
  const double x = anchor == Anchor::left ? at.x : anchor == Anchor::middle ? at.x - 0.5 * width : at.x - width;
  state_->set(lettering.colour);
  cairo_move_to(state_->cairo, x, at.y);
  cairo_show_text(state_->cairo, words.c_str());
}

void Canvas::label(CanvasPoint at, const std::string& words, double size) {
  const double width = text_width(words, size);
  const double pad = 0.25 * size;
  state_->set(kPaper, 0.85);
  cairo_rectangle(state_->cairo, at.x - 0.5 * width - pad, at.y - 0.8 * size - pad, width + 2 * pad, size + 2 * pad);
  cairo_fill(state_->cairo);
  text(at, words, {size}, Anchor::middle);
}

double Canvas::paragraph(CanvasPoint at, const std::string& words, const Lettering& lettering, double width) {
  std::istringstream stream(words);
  std::string line, word;
  double y = at.y;
  const auto flush = [&] {
    if (line.empty()) return;
    text({at.x, y}, line, lettering);
    y += 1.35 * lettering.size;
    line.clear();
  };
  while (stream >> word) {
    const std::string longer = line.empty() ? word : line + " " + word;
    if (text_width(longer, lettering.size, lettering.bold) > width) {
      flush();
      line = word;
    } else {
      line = longer;
    }
  }
  flush();
  return y;
}

void Canvas::next_page() { cairo_show_page(state_->cairo); }

std::string Canvas::finish() && {
  state_->check();
  if (state_->is_pdf) {
    cairo_surface_finish(state_->surface);
    return std::move(state_->bytes);
  }
  cairo_surface_flush(state_->surface);
  return png_from_rgb24(cairo_image_surface_get_data(state_->surface), cairo_image_surface_get_width(state_->surface),
                        cairo_image_surface_get_height(state_->surface),
                        cairo_image_surface_get_stride(state_->surface));
}

}  // namespace canewise
