#pragma once

#include <memory>
#include <string>
#include <vector>

#include "scanproc/drawing/colour.h"

namespace canewise {

struct CanvasPoint {
  double x = 0, y = 0;
};

struct CanvasRectangle {
  CanvasPoint corner;  ///< Upper left.
  double width = 0, height = 0;
};

/// How a line is drawn.
struct Stroke {
  Colour colour = kInk;
  double width = 0;
  bool dashed = false;
};

/// How words are written.
struct Lettering {
  double size = 0;
  Colour colour = kInk;
  bool bold = false;
};

enum class Anchor { left, middle, right };

/// Draws to a PNG or a PDF in memory. Units: pixels for PNG, millimetres for PDF; y down.
class Canvas {
 public:
  static Canvas png(int width_px, int height_px);
  /// `made_at` (ISO 8601, UTC) is what the file says of its making; empty: now. Equal drawings of one time are equal
  /// bytes.
  static Canvas pdf(double width_mm, double height_mm, const std::string& made_at = {});
  ~Canvas();
  Canvas(Canvas&&) noexcept;
  Canvas& operator=(Canvas&&) noexcept;

  void rectangle(const CanvasRectangle& rectangle, Colour fill);
  void line(CanvasPoint from, CanvasPoint to, const Stroke& stroke);
  void polyline(const std::vector<CanvasPoint>& points, const Stroke& stroke, bool closed = false);
  void polygon(const std::vector<CanvasPoint>& points, Colour fill, double opacity = 1.0);
  void text(CanvasPoint at, const std::string& words, const Lettering& lettering, Anchor anchor = Anchor::left);
  /// Text on a light ground, so that it reads over any colour.
  void label(CanvasPoint at, const std::string& words, double size);
  [[nodiscard]] double text_width(const std::string& words, double size, bool bold = false) const;
  /// Breaks words into lines no wider than `width`; returns the y below the last.
  double paragraph(CanvasPoint at, const std::string& words, const Lettering& lettering, double width);
  void next_page();

  /// The file's bytes. Call once, last.
  [[nodiscard]] std::string finish() &&;

 private:
  struct State;
  explicit Canvas(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace canewise
