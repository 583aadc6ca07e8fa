#include "calib/board.h"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <opencv2/aruco.hpp>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <utility>

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

/// Corners by their indices in the board, and where they seem to be.
struct RoughCorners {
  std::vector<int> indices;
  std::vector<cv::Point2f> at;
};

BoardView refused(Message why) {
  BoardView view;
  view.refusal = std::move(why);
  return view;
}

/// Corners to a fraction of a pixel; the window reaches a third of the way to the nearest neighbour. Those that ran
/// away are dropped.
BoardView refined(const cv::Mat& image, const Board& board, const RoughCorners& rough) {
  double nearest = 1e9;
  for (std::size_t i = 0; i < rough.at.size(); ++i) {
    for (std::size_t j = i + 1; j < rough.at.size(); ++j)
      nearest = std::min(nearest, static_cast<double>(cv::norm(rough.at[i] - rough.at[j])));
  }
  // A marker's ink ends nearer to the corner than the next corner does.
  const double clear = board.kind == BoardKind::charuco
                           ? std::min(0.35, 0.5 * (board.square_mm - board.marker_mm) / board.square_mm)
                           : 0.35;
  const int window = std::clamp(static_cast<int>(clear * nearest), 2, 11);
  std::vector<cv::Point2f> corners = rough.at;
  cv::cornerSubPix(image, corners, {window, window}, {-1, -1},
                   {cv::TermCriteria::COUNT + cv::TermCriteria::EPS, 60, 1e-4});
  BoardView view;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (cv::norm(corners[i] - rough.at[i]) > window) continue;
    view.corners.push_back(rough.indices[i]);
    view.board_mm.push_back(board.corner_mm(rough.indices[i]));
    view.pixels.emplace_back(corners[i].x, corners[i].y);
  }
  return view;
}

double brightness(const cv::Mat& image, const cv::Point2f& at) {
  const int x = std::clamp(static_cast<int>(std::lround(at.x)), 1, image.cols - 2);
  const int y = std::clamp(static_cast<int>(std::lround(at.y)), 1, image.rows - 2);
  return cv::mean(image(cv::Rect(x - 1, y - 1, 3, 3)))[0];
}

/// The order of a chessboard's corners is anyone's guess: the board's upper left square is black, and it is not
/// mirrored, which fixes it.
std::vector<cv::Point2f> in_order(const cv::Mat& image, const Board& board, std::vector<cv::Point2f> corners) {
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
  return corners;
}

/// The sector-based detector: where no whole board is in view the older one searches for many seconds. Nothing where it
/// finds no board of this size.
std::optional<std::vector<cv::Point2f>> chessboard_corners(const cv::Mat& image, int columns, int rows) {
  std::vector<cv::Point2f> corners;
  if (!cv::findChessboardCornersSB(image, {columns - 1, rows - 1}, corners, cv::CALIB_CB_NORMALIZE_IMAGE))
    return std::nullopt;
  return corners;
}

/// A board of a square less each way, or both, was printed or stated wrong.
Message why_no_chessboard(const cv::Mat& image, const Board& board) {
  for (const auto& [columns, rows] :
       {std::pair{board.columns - 1, board.rows}, std::pair{board.columns, board.rows - 1},
        std::pair{board.columns - 1, board.rows - 1}}) {
    if (columns < 4 || rows < 4 || !chessboard_corners(image, columns, rows)) continue;
    return {"board.other_count",
            {{"columns", number(columns)},
             {"rows", number(rows)},
             {"said_columns", number(board.columns)},
             {"said_rows", number(board.rows)}}};
  }
  return {"board.no_chessboard"};
}

BoardView find_chessboard(const cv::Mat& image, const Board& board) {
  auto corners = chessboard_corners(image, board.columns, board.rows);
  if (!corners) return refused(why_no_chessboard(image, board));
  RoughCorners rough{{}, in_order(image, board, std::move(*corners))};
  for (int i = 0; i < board.corner_count(); ++i) rough.indices.push_back(i);
  return refined(image, board, rough);
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

constexpr std::size_t kFewestMarkers = 4;

Message why_no_charuco(const cv::Mat& image, const Board& board) {
  cv::Mat mirrored;
  cv::flip(image, mirrored, 1);
  const bool is_mirrored = find_markers(mirrored, board).ids.size() >= kFewestMarkers;
  return is_mirrored ? Message{"board.mirrored"} : Message{"board.few_markers"};
}

/// Sum of the places that several markers foretell a corner at.
struct Foretold {
  cv::Point2f sum;
  int markers = 0;
};

/// Each corner is foretold by the markers that touch it, because a lens bends the far ones elsewhere.
std::map<int, Foretold> foretold_corners(const Board& board, const Markers& markers) {
  std::map<int, Foretold> foretold;
  const int inner = board.columns - 1;
  for (std::size_t i = 0; i < markers.ids.size(); ++i) {
    const cv::Mat h = cv::getPerspectiveTransform(marker_corners(board, markers.ids[i]), markers.corners[i]);
    const cv::Point2f square = square_of(board, markers.ids[i]);
    for (int k = 0; k < 4; ++k) {
      const auto side = static_cast<float>(board.square_mm);
      const cv::Point2f corner = square + cv::Point2f(k % 2 == 0 ? 0 : side, k < 2 ? 0 : side);
      const auto column = static_cast<int>(std::lround(corner.x / board.square_mm)),
                 row = static_cast<int>(std::lround(corner.y / board.square_mm));
      if (column < 1 || row < 1 || column >= board.columns || row >= board.rows) continue;
      std::vector<cv::Point2f> at{corner};
      cv::perspectiveTransform(at, at, h);
      Foretold& there = foretold[(row - 1) * inner + column - 1];
      there.sum += at[0];
      ++there.markers;
    }
  }
  return foretold;
}

/// Those whose surroundings are in the picture.
RoughCorners inside(const cv::Mat& image, const std::map<int, Foretold>& foretold) {
  RoughCorners rough;
  for (const auto& [index, corner] : foretold) {
    const cv::Point2f at = corner.sum * (1.0F / static_cast<float>(corner.markers));
    constexpr float border = 3.0F;
    if (at.x < border || at.y < border || at.x > static_cast<float>(image.cols) - border ||
        at.y > static_cast<float>(image.rows) - border)
      continue;
    rough.indices.push_back(index);
    rough.at.push_back(at);
  }
  return rough;
}

/// What a marker's side measures against the squares, by one map over all squares' corners; 0 where there is none.
double marker_share(const Board& board, const BoardView& view, const Markers& markers) {
  std::vector<cv::Point2f> from, to;
  for (std::size_t i = 0; i < view.corners.size(); ++i) {
    from.emplace_back(static_cast<float>(view.pixels[i].x()), static_cast<float>(view.pixels[i].y()));
    to.emplace_back(static_cast<float>(view.board_mm[i].x()), static_cast<float>(view.board_mm[i].y()));
  }
  const cv::Mat back = cv::findHomography(from, to, cv::RANSAC, 0.2 * board.square_mm);
  if (back.empty()) return 0.0;
  std::vector<double> shares;
  for (const auto& corners_of_marker : markers.corners) {
    std::vector<cv::Point2f> on_board;
    cv::perspectiveTransform(corners_of_marker, on_board, back);
    for (std::size_t k = 0; k < 4; ++k)
      shares.push_back(cv::norm(on_board[k] - on_board[(k + 1) % 4]) / board.square_mm);
  }
  return median(shares);
}

BoardView find_charuco(const cv::Mat& image, const Board& board) {
  const Markers markers = find_markers(image, board);
  if (markers.ids.size() < kFewestMarkers) return refused(why_no_charuco(image, board));
  const RoughCorners rough = inside(image, foretold_corners(board, markers));
  if (rough.at.size() < 6) return refused({"board.little_seen"});
  BoardView view = refined(image, board, rough);
  view.marker_share = marker_share(board, view, markers);
  return view;
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
  const cv::Mat image = as_8_bit(picture);
  BoardView view;
  try {
    view = board.kind == BoardKind::chessboard ? find_chessboard(image, board) : find_charuco(image, board);
  } catch (const cv::Exception&) {
    // The library throws on degenerate findings; for us that is a photograph without a board.
    view = refused({"board.none"});
  }
  view.name = name;
  view.width = picture.columns;
  view.height = picture.rows;
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
