#include "calib/board.h"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <opencv2/aruco.hpp>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr int kMarkerCells = 6;  // Four of code, a black frame around.
constexpr int kCellsOfAMarker = kMarkerCells * kMarkerCells;

cv::Ptr<cv::aruco::Dictionary> dictionary() { return cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_250); }

/// Cells of every marker, row by row; true is black.
const std::vector<std::array<bool, kCellsOfAMarker>>& marker_cells() {
  static const auto all = [] {
    std::vector<std::array<bool, kCellsOfAMarker>> cells(250);
    const auto codes = dictionary();
    for (int id = 0; id < 250; ++id) {
      cv::Mat image;
      codes->drawMarker(id, kMarkerCells, image, 1);
      for (int k = 0; k < kCellsOfAMarker; ++k) {
        cells[static_cast<std::size_t>(id)].at(static_cast<std::size_t>(k)) =
            image.at<unsigned char>(k / kMarkerCells, k % kMarkerCells) == 0;
      }
    }
    return cells;
  }();
  return all;
}

/// Markers are numbered over the white squares, row by row.
int marker_at(const Board& board, int column, int row) {
  const int before = row * board.columns + column;
  return before / 2;  // Every second square is white: right for even and odd widths alike.
}

cv::Mat as_8_bit(const GreyPicture& picture) {
  const cv::Mat full(static_cast<int>(picture.rows), static_cast<int>(picture.columns), CV_16UC1,
                     const_cast<std::uint16_t*>(picture.values.data()));
  cv::Mat image;
  full.convertTo(image, CV_8UC1, 255.0 / picture.full_scale);
  return image;
}

double clipped_share(const GreyPicture& picture) {
  const auto full = static_cast<std::uint16_t>(0.985 * picture.full_scale);
  const auto clipped =
      std::count_if(picture.values.begin(), picture.values.end(), [full](std::uint16_t v) { return v >= full; });
  return static_cast<double>(clipped) / static_cast<double>(picture.values.size());
}

/// Corners to a fraction of a pixel; the window reaches a third of the way to the nearest neighbour. Those that ran
/// away are dropped.
void refine(const cv::Mat& image, const Board& board, BoardView& view, std::vector<cv::Point2f> corners) {
  double nearest = 1e9;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    for (std::size_t j = i + 1; j < corners.size(); ++j)
      nearest = std::min(nearest, static_cast<double>(cv::norm(corners[i] - corners[j])));
  }
  // A marker's ink ends nearer to the corner than the next corner does.
  const double clear = board.kind == BoardKind::charuco
                           ? std::min(0.35, 0.5 * (board.square_mm - board.marker_mm) / board.square_mm)
                           : 0.35;
  const int window = std::clamp(static_cast<int>(clear * nearest), 2, 11);
  const std::vector<cv::Point2f> before = corners;
  cv::cornerSubPix(image, corners, {window, window}, {-1, -1},
                   {cv::TermCriteria::COUNT + cv::TermCriteria::EPS, 60, 1e-4});
  std::vector<int> kept;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (cv::norm(corners[i] - before[i]) > window) continue;
    kept.push_back(view.corners[i]);
    view.board_mm.push_back(board.corner_mm(view.corners[i]));
    view.pixels.emplace_back(corners[i].x, corners[i].y);
  }
  view.corners = std::move(kept);
}

double brightness(const cv::Mat& image, const cv::Point2f& at) {
  const int x = std::clamp(static_cast<int>(std::lround(at.x)), 1, image.cols - 2);
  const int y = std::clamp(static_cast<int>(std::lround(at.y)), 1, image.rows - 2);
  return cv::mean(image(cv::Rect(x - 1, y - 1, 3, 3)))[0];
}

/// The order of a chessboard's corners is anyone's guess: the board's upper left square is black, and it is not
/// mirrored, which fixes it.
void put_in_order(const cv::Mat& image, const Board& board, std::vector<cv::Point2f>& corners) {
  const int width = board.columns - 1;
  const auto at = [&](int column, int row) { return corners[static_cast<std::size_t>(row * width + column)]; };
  const cv::Point2f right = at(width - 1, 0) - at(0, 0), down = at(0, board.rows - 2) - at(0, 0);
  if (right.x * down.y - right.y * down.x < 0.0F) {  // Found from right to left.
    for (int row = 0; row < board.rows - 1; ++row) {
      std::reverse(corners.begin() + static_cast<std::ptrdiff_t>(row) * width,
                   corners.begin() + static_cast<std::ptrdiff_t>(row + 1) * width);
    }
  }
  // Square (1, 1) of the pattern lies between the first four corners; black like the upper left one.
  double black = 0.0;
  for (int row = 0; row + 1 < board.rows - 1; ++row) {
    for (int column = 0; column + 1 < width; ++column) {
      const cv::Point2f middle =
          0.25F * (at(column, row) + at(column + 1, row) + at(column, row + 1) + at(column + 1, row + 1));
      black += ((column + row) % 2 == 0 ? 1.0 : -1.0) * brightness(image, middle);
    }
  }
  if (black > 0.0) std::reverse(corners.begin(), corners.end());
}

/// The sector-based detector: where no whole board is in view the older one searches for many seconds.
bool chessboard_corners(const cv::Mat& image, int columns, int rows, std::vector<cv::Point2f>& corners) {
  return cv::findChessboardCornersSB(image, {columns - 1, rows - 1}, corners, cv::CALIB_CB_NORMALIZE_IMAGE);
}

void find_chessboard(const cv::Mat& image, const Board& board, BoardView& view) {
  std::vector<cv::Point2f> corners;
  if (!chessboard_corners(image, board.columns, board.rows, corners)) {
    for (const auto& [columns, rows] :
         {std::pair{board.columns - 1, board.rows}, std::pair{board.columns, board.rows - 1},
          std::pair{board.columns - 1, board.rows - 1}}) {
      if (columns < 4 || rows < 4 || !chessboard_corners(image, columns, rows, corners)) continue;
      view.refusal = Message{"board.other_count",
                             {{"columns", number(columns)},
                              {"rows", number(rows)},
                              {"said_columns", number(board.columns)},
                              {"said_rows", number(board.rows)}}};
      return;
    }
    view.refusal = Message{"board.no_chessboard"};
    return;
  }
  put_in_order(image, board, corners);
  for (int i = 0; i < board.corner_count(); ++i) view.corners.push_back(i);
  refine(image, board, view, std::move(corners));
}

struct Markers {
  std::vector<int> ids;
  std::vector<std::vector<cv::Point2f>> corners;
};

Markers find_markers(const cv::Mat& image, const Board& board) {
  Markers found;
  auto parameters = cv::aruco::DetectorParameters::create();
  parameters->cornerRefinementMethod = cv::aruco::CORNER_REFINE_SUBPIX;
  parameters->cornerRefinementWinSize = 3;
  cv::aruco::detectMarkers(image, dictionary(), found.corners, found.ids, parameters);
  const int most = board.columns * board.rows / 2;
  for (std::size_t i = found.ids.size(); i-- > 0;) {
    if (found.ids[i] < most) continue;
    found.ids.erase(found.ids.begin() + static_cast<std::ptrdiff_t>(i));
    found.corners.erase(found.corners.begin() + static_cast<std::ptrdiff_t>(i));
  }
  return found;
}

/// Upper left corner of the white square that carries a marker.
cv::Point2f square_of(const Board& board, int id) {
  for (int row = 0; row < board.rows; ++row) {
    for (int column = (row + 1) % 2; column < board.columns; column += 2) {
      if (marker_at(board, column, row) == id)
        return {static_cast<float>(column * board.square_mm), static_cast<float>(row * board.square_mm)};
    }
  }
  return {0, 0};
}

std::vector<cv::Point2f> marker_corners(const Board& board, int id) {
  const cv::Point2f square = square_of(board, id);
  const auto inset = static_cast<float>(0.5 * (board.square_mm - board.marker_mm));
  const auto side = static_cast<float>(board.marker_mm);
  const cv::Point2f first = square + cv::Point2f(inset, inset);
  return {first, first + cv::Point2f(side, 0), first + cv::Point2f(side, side), first + cv::Point2f(0, side)};
}

void find_charuco(const cv::Mat& image, const Board& board, BoardView& view) {
  const Markers markers = find_markers(image, board);
  constexpr std::size_t fewest = 4;
  if (markers.ids.size() < fewest) {
    cv::Mat mirrored;
    cv::flip(image, mirrored, 1);
    view.refusal =
        find_markers(mirrored, board).ids.size() >= fewest ? Message{"board.mirrored"} : Message{"board.few_markers"};
    return;
  }
  // Each corner is foretold by the markers that touch it, because a lens bends the far ones elsewhere.
  std::map<int, std::pair<cv::Point2f, int>> foretold;
  const int inner = board.columns - 1;
  std::vector<cv::Point2f> all_board, all_image;
  for (std::size_t i = 0; i < markers.ids.size(); ++i) {
    const auto on_board = marker_corners(board, markers.ids[i]);
    all_board.insert(all_board.end(), on_board.begin(), on_board.end());
    all_image.insert(all_image.end(), markers.corners[i].begin(), markers.corners[i].end());
    const cv::Mat h = cv::getPerspectiveTransform(on_board, markers.corners[i]);
    const cv::Point2f square = square_of(board, markers.ids[i]);
    for (int k = 0; k < 4; ++k) {
      const auto side = static_cast<float>(board.square_mm);
      const cv::Point2f corner = square + cv::Point2f(k % 2 == 0 ? 0 : side, k < 2 ? 0 : side);
      const auto column = static_cast<int>(std::lround(corner.x / board.square_mm)),
                 row = static_cast<int>(std::lround(corner.y / board.square_mm));
      if (column < 1 || row < 1 || column >= board.columns || row >= board.rows) continue;
      std::vector<cv::Point2f> at{corner};
      cv::perspectiveTransform(at, at, h);
      auto& sum = foretold[(row - 1) * inner + column - 1];
      sum.first += at[0];
      ++sum.second;
    }
  }
  // What a marker's side measures against the squares, by one map over all squares' corners.
  std::vector<cv::Point2f> corners;
  for (const auto& [index, sum] : foretold) {
    const cv::Point2f at = sum.first * (1.0F / static_cast<float>(sum.second));
    constexpr float border = 3.0F;
    if (at.x < border || at.y < border || at.x > static_cast<float>(image.cols) - border ||
        at.y > static_cast<float>(image.rows) - border)
      continue;
    view.corners.push_back(index);
    corners.push_back(at);
  }
  if (corners.size() < 6) {
    view.corners.clear();
    view.refusal = Message{"board.little_seen"};
    return;
  }
  refine(image, board, view, std::move(corners));
  std::vector<cv::Point2f> from, to;
  for (std::size_t i = 0; i < view.corners.size(); ++i) {
    from.emplace_back(static_cast<float>(view.pixels[i].x()), static_cast<float>(view.pixels[i].y()));
    to.emplace_back(static_cast<float>(view.board_mm[i].x()), static_cast<float>(view.board_mm[i].y()));
  }
  const cv::Mat back = cv::findHomography(from, to, cv::RANSAC, 0.2 * board.square_mm);
  if (back.empty()) return;
  std::vector<double> shares;
  for (const auto& corners_of_marker : markers.corners) {
    std::vector<cv::Point2f> on_board;
    cv::perspectiveTransform(corners_of_marker, on_board, back);
    for (std::size_t k = 0; k < 4; ++k)
      shares.push_back(cv::norm(on_board[k] - on_board[(k + 1) % 4]) / board.square_mm);
  }
  view.marker_share = median(shares);
}

}  // namespace

bool Board::black_at(double x_mm, double y_mm) const {
  const auto column = static_cast<int>(std::floor(x_mm / square_mm)),
             row = static_cast<int>(std::floor(y_mm / square_mm));
  if (column < 0 || row < 0 || column >= columns || row >= rows) return false;
  if ((column + row) % 2 == 0) return true;
  if (kind == BoardKind::chessboard) return false;
  const double inset = 0.5 * (square_mm - marker_mm), cell = marker_mm / kMarkerCells;
  const auto i = static_cast<int>(std::floor((x_mm - column * square_mm - inset) / cell));
  const auto j = static_cast<int>(std::floor((y_mm - row * square_mm - inset) / cell));
  if (i < 0 || j < 0 || i >= kMarkerCells || j >= kMarkerCells) return false;
  const auto id = static_cast<std::size_t>(marker_at(*this, column, row));
  return id < marker_cells().size() && marker_cells()[id].at(static_cast<std::size_t>(j * kMarkerCells + i));
}

bool Board::plain_at(double x_mm, double y_mm, double margin_mm) const {
  const double width = width_mm(), height = height_mm();
  const bool outside = x_mm < -margin_mm || y_mm < -margin_mm || x_mm > width + margin_mm || y_mm > height + margin_mm;
  if (outside) return x_mm > -square_mm && y_mm > -square_mm && x_mm < width + square_mm && y_mm < height + square_mm;
  const double column = std::floor(x_mm / square_mm), row = std::floor(y_mm / square_mm);
  const double x = x_mm - column * square_mm, y = y_mm - row * square_mm;
  const bool clear = x > margin_mm && y > margin_mm && x < square_mm - margin_mm && y < square_mm - margin_mm;
  if (!clear || x_mm < 0 || y_mm < 0 || x_mm > width || y_mm > height) return false;
  const bool black = static_cast<long>(column + row) % 2 == 0;
  // Ink eats the light; white squares are better where they are blank.
  return kind == BoardKind::chessboard ? !black : black;
}

void validate(const Board& board) {
  if (board.columns < 4 || board.rows < 4 || board.columns > 40 || board.rows > 40)
    throw UsageError({"board.squares_each_way"});
  if (!(board.square_mm >= 0.5 && board.square_mm <= 200.0)) throw UsageError({"board.square_size"});
  if ((board.columns + board.rows) % 2 == 0) throw UsageError({"board.odd_and_even"});
  if (board.kind == BoardKind::charuco) {
    if (!(board.marker_mm > 0.3 * board.square_mm && board.marker_mm < 0.95 * board.square_mm))
      throw UsageError({"board.marker_size"});
    if (board.columns * board.rows / 2 > 250) throw UsageError({"board.most_squares"});
  }
}

BoardView find_board(const GreyPicture& picture, const Board& board, const std::string& name) {
  BoardView view;
  view.name = name;
  view.width = picture.columns;
  view.height = picture.rows;
  const cv::Mat image = as_8_bit(picture);
  try {
    if (board.kind == BoardKind::chessboard) {
      find_chessboard(image, board, view);
    } else {
      find_charuco(image, board, view);
    }
  } catch (const cv::Exception&) {
    // The library throws on degenerate findings; for us that is a photograph without a board.
    view.refusal = Message{"board.none"};
  }
  constexpr std::size_t fewest_corners = 6;
  if (view.refusal.empty() && view.pixels.size() < fewest_corners) view.refusal = Message{"board.little_sharp"};
  const double clipped = clipped_share(picture);
  constexpr double too_bright = 0.3;
  if (!view.refusal.empty() && clipped > too_bright) {
    view.refusal = Message{"board.over_exposed", {{"share", number(100.0 * clipped)}}};
  }
  if (!view.refusal.empty()) view.corners.clear(), view.board_mm.clear(), view.pixels.clear();
  return view;
}

}  // namespace canewise
