#include "calib/sheets.h"

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>

#include "scanproc/core/error.h"
#include "scanproc/drawing/canvas.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

constexpr double kSheetWidth = 210.0, kSheetHeight = 297.0, kSheetMargin = 15.0,
                 kRoom = kSheetWidth - 2.0 * kSheetMargin, kTop = 20.0;

void draw_ruler(Canvas& canvas, CanvasPoint from, int length_mm) {
  const auto [x, y] = from;
  canvas.line({x, y}, {x + length_mm, y}, {kInk, 0.25});
  for (int mm = 0; mm <= length_mm; ++mm) {
    canvas.line({x + mm, y}, {x + mm, y - (mm % 10 == 0 ? 3.0 : mm % 5 == 0 ? 2.2 : 1.4)}, {kInk, 0.2});
    if (mm % 10 == 0) canvas.text({x + mm, y + 3.6}, fmt::format("{}", mm), {3.0}, Anchor::middle);
  }
}

/// Ink as rectangles: whole squares, and rows of a marker's cells.
void draw_board(Canvas& canvas, const Board& board, CanvasPoint corner) {
  const auto [x0, y0] = corner;
  const double inset = 0.5 * (board.square_mm - board.marker_mm), cell = board.marker_mm / 6.0;
  for (int row = 0; row < board.rows; ++row) {
    for (int column = 0; column < board.columns; ++column) {
      const double x = column * board.square_mm, y = row * board.square_mm;
      if ((column + row) % 2 == 0) {
        canvas.rectangle({{x0 + x, y0 + y}, board.square_mm, board.square_mm}, {0, 0, 0});
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
            canvas.rectangle({{x0 + x + inset + i * cell, y0 + y + inset + j * cell},
                              (end - i) * cell,
                              cell + (j < 5 && black(i) ? 0.02 : 0.0)},
                             {0, 0, 0});
          }
          i = std::max(end, i + 1);
        }
      }
    }
  }
}

}  // namespace

std::string board_pdf(const Board& board, const Speech& speech) {
  validate(board);
  constexpr double most_mm = 190.0;
  if (board.width_mm() > kRoom || board.height_mm() > most_mm) {
    throw UsageError({"sheet.too_large",
                      {{"width", mm(board.width_mm())},
                       {"height", mm(board.height_mm())},
                       {"room_across", mm(kRoom)},
                       {"room_down", mm(most_mm)}}});
  }
  Canvas canvas = Canvas::pdf(kSheetWidth, kSheetHeight);
  const bool markers = board.kind == BoardKind::charuco;
  double y = canvas.paragraph({kSheetMargin, kTop},
                              phrase(markers ? Message{"sheet.charuco"} : Message{"sheet.chessboard"}, speech),
                              {.size = 5.5, .bold = true}, kRoom);
  const Message squares{"sheet.squares",
                        {{"columns", number(board.columns)},
                         {"rows", number(board.rows)},
                         {"square", mm(board.square_mm, decimals_of(board.square_mm))},
                         {"kind", word(markers ? "charuco" : "chessboard")},
                         {"marker", mm(board.marker_mm, decimals_of(board.marker_mm))}}};
  y = canvas.paragraph({kSheetMargin, y + 1}, sentences({squares, {"sheet.print"}}, speech), {3.6}, kRoom);
  draw_ruler(canvas, {kSheetMargin, y + 8.0}, 100);
  const double x0 = 0.5 * (kSheetWidth - board.width_mm()), y0 = y + 20.0 + std::max(4.0, board.square_mm);
  draw_board(canvas, board, {x0, y0});
  double ty = y0 + board.height_mm() + std::max(8.0, 1.5 * board.square_mm) + 4.0;
  // What does not fit under a high board goes on a second page.
  constexpr double high_mm = 45.0;
  if (ty + high_mm > kSheetHeight) canvas.next_page(), ty = kTop;
  for (const Message& line : {Message{"sheet.glue"}, Message{"sheet.photographs"}, Message{"sheet.no_mirror"}})
    ty = canvas.paragraph({kSheetMargin, ty}, phrase(line, speech), {3.4}, kRoom) + 1.0;
  return std::move(canvas).finish();
}

std::string gauge_pdf(const Speech& speech) {
  Canvas canvas = Canvas::pdf(kSheetWidth, kSheetHeight);
  double y = kTop;
  const auto title = [&](const Message& words) {
    y = canvas.paragraph({kSheetMargin, kTop}, phrase(words, speech), {.size = 5.5, .bold = true}, kRoom);
  };
  const auto heading = [&](const Message& words) {
    y = canvas.paragraph({kSheetMargin, y + 5.0}, phrase(words, speech), {.size = 4.4, .bold = true}, kRoom);
  };
  const auto list = [&](std::initializer_list<Message> lines) {
    for (const Message& line : lines)
      y = canvas.paragraph({kSheetMargin, y + 1.2}, phrase(line, speech), {3.7}, kRoom) + 0.8;
  };
  title({"sheet.gauge"});
  list({{"sheet.gauge_need"},
        {"sheet.gauge_cut"},
        {"sheet.gauge_matt"},
        {"sheet.gauge_press"},
        {"sheet.gauge_room"},
        {"sheet.gauge_scan"}});
  const double x = kSheetMargin + 6.0;
  y += 2.0;
  for (const std::string& line :
       {std::string("[[step]]"), std::string("height_um = 500"),
        "u_um = 2.9          # " + phrase({"sheet.gauge_tolerance"}, speech),
        std::string("scans = [\"strip500-a.ply\", \"strip500-b.ply\", \"strip500-c.ply\"]")}) {
    canvas.text({x, y + 3.5}, line, {3.6});
    y += 5.2;
  }
  heading({"sheet.limits"});
  list({{"sheet.gauge_limits"}, {"sheet.gauge_warm"}});
  heading({"sheet.cautions"});
  list({{"sheet.gauge_cautions"}});
  canvas.next_page();
  title({"sheet.plate"});
  list({{"sheet.plate_need"},
        {"sheet.plate_paint"},
        {"sheet.plate_fix"},
        {"sheet.plate_wipe", {{"grain", um(20)}}},
        {"sheet.plate_anew"}});
  heading({"sheet.limits"});
  list({{"sheet.plate_limits", {{"flat", um(10)}}}});
  heading({"sheet.piece"});
  list({{"sheet.piece_words"}});
  heading({"sheet.order"});
  list({{"sheet.order_words"}});
  return std::move(canvas).finish();
}

}  // namespace canewise
