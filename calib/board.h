#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "scanproc/images/picture.h"
#include "scanproc/words/message.h"

namespace canewise {

enum class BoardKind { chessboard, charuco };

/// A flat printed pattern. Its axes: origin at the upper left corner of the pattern, x to the right, y down, so that z
/// points into the paper. The square at the upper left is black. A ChArUco board carries a numbered marker in every
/// white square, so that it is known where it is cut off and told from its mirror image; a chessboard is neither.
struct Board {
  BoardKind kind = BoardKind::charuco;
  int columns = 11, rows = 8;  ///< Squares.
  double square_mm = 5.0;
  double marker_mm = 3.6;  ///< Side of a marker's black frame; ChArUco only.

  [[nodiscard]] double width_mm() const { return columns * square_mm; }
  [[nodiscard]] double height_mm() const { return rows * square_mm; }
  [[nodiscard]] int corner_count() const { return (columns - 1) * (rows - 1); }
  [[nodiscard]] Eigen::Vector2d corner_mm(int index) const {
    const int column = index % (columns - 1) + 1, row = index / (columns - 1) + 1;
    return {square_mm * column, square_mm * row};
  }
  /// Ink at this place; outside the pattern is white paper.
  [[nodiscard]] bool black_at(double x_mm, double y_mm) const;
  /// Far enough from every edge of ink: white if `white`, else black. For a line's middle must not be pulled.
  [[nodiscard]] bool plain_at(double x_mm, double y_mm, double margin_mm) const;
};
/// Throws UsageError for a board that cannot be found in a photograph, or whose two directions cannot be told apart.
void validate(const Board& board);

/// The corners of one photograph.
struct BoardView {
  std::string name;  ///< Of the file.
  std::size_t width = 0, height = 0;
  std::vector<int> corners;  ///< Index of each in the board.
  std::vector<Eigen::Vector2d> board_mm, pixels;
  Message refusal;            ///< Why nothing can be used of it; then no corners.
  double marker_share = 0.0;  ///< ChArUco: measured side of a marker over a square's.
};

/// Finds the board. Corners are refined in a window that fits between neighbours, so that slanted views do not mix
/// them. Never throws for a bad photograph: says what is wrong with it (no board, over-exposed, mirrored, another
/// number of squares).
[[nodiscard]] BoardView find_board(const GreyPicture& picture, const Board& board, const std::string& name);

}  // namespace canewise
