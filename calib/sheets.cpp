#include "calib/sheets.h"

#include <fmt/format.h>

#include <algorithm>

#include "scanproc/core/error.h"
#include "scanproc/drawing/canvas.h"

namespace canewise {
namespace {

constexpr double kWidth = 210.0, kHeight = 297.0, kMargin = 15.0;

void draw_ruler(Canvas& canvas, double x, double y, int length_mm) {
  canvas.line({x, y}, {x + length_mm, y}, kInk, 0.25);
  for (int mm = 0; mm <= length_mm; ++mm) {
    canvas.line({x + mm, y}, {x + mm, y - (mm % 10 == 0 ? 3.0 : mm % 5 == 0 ? 2.2 : 1.4)}, kInk, 0.2);
    if (mm % 10 == 0) canvas.text({x + mm, y + 3.6}, fmt::format("{}", mm), 3.0, Anchor::middle);
  }
}

/// Ink as rectangles: whole squares, and rows of a marker's cells.
void draw_board(Canvas& canvas, const Board& board, double x0, double y0) {
  const double inset = 0.5 * (board.square_mm - board.marker_mm), cell = board.marker_mm / 6.0;
  for (int row = 0; row < board.rows; ++row) {
    for (int column = 0; column < board.columns; ++column) {
      const double x = column * board.square_mm, y = row * board.square_mm;
      if ((column + row) % 2 == 0) {
        canvas.rectangle(x0 + x, y0 + y, board.square_mm, board.square_mm, {0, 0, 0});
        continue;
      }
      if (board.kind == BoardKind::chessboard) continue;
      for (int j = 0; j < 6; ++j) {
        for (int i = 0; i < 6;) {
          const auto black = [&](int k) {
            return board.black_at(x + inset + (k + 0.5) * cell, y + inset + (j + 0.5) * cell);
          };
          int end = i;
          while (end < 6 && black(end)) ++end;
          // A hair of overlap, or viewers draw seams between the rows.
          if (end > i) {
            canvas.rectangle(x0 + x + inset + i * cell, y0 + y + inset + j * cell, (end - i) * cell,
                             cell + (j < 5 && black(i) ? 0.02 : 0.0), {0, 0, 0});
          }
          i = std::max(end, i + 1);
        }
      }
    }
  }
}

}  // namespace

std::string board_pdf(const Board& board) {
  validate(board);
  const double room = kWidth - 2.0 * kMargin;
  if (board.width_mm() > room || board.height_mm() > 190.0) {
    throw UsageError(fmt::format(
        "a board of {:.0f} by {:.0f} mm does not fit on the page ({:.0f} by 190 mm). Choose fewer or smaller squares.",
        board.width_mm(), board.height_mm(), room));
  }
  Canvas canvas = Canvas::pdf(kWidth, kHeight);
  const bool markers = board.kind == BoardKind::charuco;
  double y = canvas.paragraph({kMargin, 20},
                              markers ? "Calibration board with markers (ChArUco)" : "Calibration board (chessboard)",
                              5.5, room, kInk, true);
  y = canvas.paragraph({kMargin, y + 1},
                       fmt::format("{} by {} squares of {:g} mm{}. Print at 100 %, 'actual size'. The ruler must "
                                   "measure exactly 100 mm; if it does not, "
                                   "measure ten squares and say --square-mm.",
                                   board.columns, board.rows, board.square_mm,
                                   markers ? fmt::format(", markers of {:g} mm", board.marker_mm) : ""),
                       3.6, room);
  draw_ruler(canvas, kMargin, y + 8.0, 100);
  const double x0 = 0.5 * (kWidth - board.width_mm()), y0 = y + 20.0 + std::max(4.0, board.square_mm);
  draw_board(canvas, board, x0, y0);
  double ty = y0 + board.height_mm() + std::max(8.0, 1.5 * board.square_mm) + 4.0;
  for (const char* line : {"Glue the sheet without bubbles on glass or a flat tile; a sheet that bends is the usual "
                           "reason for a bad calibration. Leave the white margin on: the "
                           "laser's line is looked for there and on plain squares.",
                           "Take 12 to 20 photographs with the rig's own camera, focus and aperture fixed: tilted by "
                           "20 to 40 degrees to all four sides, turned a little, some "
                           "near and some far, and some reaching into every corner of the picture. White must not be "
                           "clipped, and nothing may move.",
                           "Never photograph it in a mirror."})
    ty = canvas.paragraph({kMargin, ty}, line, 3.4, room) + 1.0;
  return std::move(canvas).finish();
}

std::string gauge_pdf() {
  Canvas canvas = Canvas::pdf(kWidth, kHeight);
  const double room = kWidth - 2.0 * kMargin;
  double y = canvas.paragraph({kMargin, 20}, "A step gauge from feeler stock", 5.5, room, kInk, true);
  const auto list = [&](const std::vector<const char*>& lines) {
    for (const char* line : lines) y = canvas.paragraph({kMargin, y + 1.2}, line, 3.7, room) + 0.8;
  };
  list(
      {"What you need: feeler stock (hardened steel strip, sold by thickness) of about 0.1, 0.3, 0.5 and 1.0 mm, and "
       "its stated tolerance; a flat plate; a "
       "drop of thin oil or four small magnets.",
       "1. Cut a strip of 12 mm by 40 mm, break the burr with fine stone, and wipe it. Only the flat middle is used, "
       "but a burr lifts it.",
       "2. Make it matt: steel mirrors the light. A spray that dries away, or a breath of matt paint, alike on strip "
       "and plate; the coat's thickness then "
       "cancels. Don't touch it afterwards.",
       "3. Press it flat: a film of oil and a weight for an hour, or magnets under a thin steel plate. A strip that "
       "rocks reads too thick; the picture of "
       "this step shows profiles that climb or bow.",
       "4. Leave as much plate free on both sides as the strip is wide: the height is taken over three widths (ISO "
       "5436-1, type A1).",
       "5. Scan every strip three times, turned and laid down anew each time, and list the scans in a file:"});
  const double x = kMargin + 6.0;
  y += 2.0;
  for (const char* line :
       {"[[step]]", "height_um = 500", "u_um = 2.9          # of a tolerance of +-5 um: that over the root of 3",
        "scans = [\"strip500-a.ply\", \"strip500-b.ply\", \"strip500-c.ply\"]"}) {
    canvas.text({x, y + 3.5}, line, 3.6);
    y += 5.2;
  }
  y = canvas.paragraph({kMargin, y + 5.0}, "Its limits", 4.4, room, kInk, true);
  list(
      {"Feeler stock of the usual kind keeps a few micrometres; a calibrated strip or gauge blocks wrung side by side "
       "do better. Several thicknesses tell a wrong "
       "strip from a wrong scale. It checks heights only: lengths along and across come from the board and the stage.",
       "Temperature: steel grows by 12 millionths a degree, far below what matters here; the rig's own frame matters "
       "more. Let it warm up for half an hour."});
  y = canvas.paragraph({kMargin, y + 5.0}, "Cautions", 4.4, room, kInk, true);
  list(
      {"Cut edges are sharp. Never look into the laser, nor at its mirror image on bare steel; follow its maker's and "
       "your local rules. Spray outdoors or with "
       "good air."});
  canvas.next_page();
  y = canvas.paragraph({kMargin, 20}, "A reference plate", 5.5, room, kInk, true);
  list(
      {"What you need: a piece of float glass 6 to 10 mm thick, or a ground granite or steel offcut, 60 by 120 mm or "
       "more; matt black or grey paint.",
       "1. Clear glass returns no usable signal: light goes through it. Paint the side that will be used with two thin "
       "coats, rubbed with very fine paper "
       "between, or lay on matt self-adhesive foil. Light grey is better than black if cane is over-exposed beside it.",
       "2. Fix it to the rig on three points so that it comes to lie in the same place each time, and never move it "
       "afterwards: its form is mapped where it "
       "lies ('canewise calibrate plate'), together with what camera and stage bend.",
       "3. Wipe it before every scan. A grain of cane dust of 20 µm under one rail is a heavy rail on the map.",
       "4. Map it anew after repainting, after a knock, and with the seasons."});
  y = canvas.paragraph({kMargin, y + 5.0}, "Its limits", 4.4, room, kInk, true);
  list(
      {"Float glass is flat to about 10 µm over 100 mm, paint to a few; the map takes off what repeats. What changes "
       "from time to time stays, and the "
       "step tells how much. A straight edge or a second plate laid on it shows bends that a bent rig would hide."});
  y = canvas.paragraph({kMargin, y + 5.0}, "A piece that does not change", 4.4, room, kInk, true);
  list(
      {"A reed-shaped piece of plastic, or a strip of feeler stock between two rails on a reed-sized carrier, kept in "
       "the dark: scan it in every session "
       "('canewise calibrate check SCAN'). Without it nobody can tell a reed that changed from a rig that did."});
  y = canvas.paragraph({kMargin, y + 5.0}, "The order of the steps", 4.4, room, kInk, true);
  list(
      {"Laser line: camera, plane, stage, plate, step, hand. Depth camera: depth, plate, step, hand. Any other "
       "scanner: plate, step, hand. Then, for all: "
       "reversal, touch, budget; the study once, the check in every session."});
  return std::move(canvas).finish();
}

}  // namespace canewise
