#include "scanproc/report/reed_drawing.h"

#include <gtest/gtest.h>
#include <png.h>

#include <cmath>
#include <string>

namespace canewise {
namespace {

constexpr Colour kRed{1.0, 0.0, 0.0}, kBlue{0.0, 0.0, 1.0};

/// Red, green and blue of a pixel of a finished picture.
class Shown {
 public:
  explicit Shown(Canvas canvas) {
    const std::string bytes = std::move(canvas).finish();
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    EXPECT_EQ(png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()), 1);
    image.format = PNG_FORMAT_RGB;
    width_ = image.width;
    rgb_.resize(PNG_IMAGE_SIZE(image));
    EXPECT_EQ(png_image_finish_read(&image, nullptr, rgb_.data(), 0, nullptr), 1);
  }
  [[nodiscard]] bool is(Colour colour, std::size_t x, std::size_t y) const {
    const png_byte* p = &rgb_.at(3 * (y * width_ + x));
    return std::abs(p[0] - 255.0 * colour.red) < 60 && std::abs(p[1] - 255.0 * colour.green) < 60 &&
           std::abs(p[2] - 255.0 * colour.blue) < 60;
  }

 private:
  std::size_t width_ = 0;
  std::vector<png_byte> rgb_;
};

// Four by four cells of a millimetre, ten pixels each, the tip's apex at (20, 0).
const Grid kGrid{1.0, 4, 4};
const ReedView kView{20.0, 0.0, 10.0};

TEST(ReedDrawing, TheTipIsUpAndTheLeftSideIsLeft) {
  const ReedView view{100.0, 50.0, 8.0};
  EXPECT_EQ(view.at(3.0, 2.0).x, 116.0) << "y to the right";
  EXPECT_EQ(view.at(3.0, 2.0).y, 74.0) << "x down";
}

TEST(ReedDrawing, TheRimRunsFromTheLeftCornerOverTheTipToItsEnd) {
  Outline outline;
  outline.left.offset_mm = -6.0, outline.left.slope = -0.01;
  outline.right.offset_mm = 5.0, outline.right.slope = 0.02;
  outline.tip_edge_first_y_mm = -6.0, outline.tip_edge_step_mm = 6.0;
  outline.tip_edge_mm = {3.0, 0.0, 1.5};  // At y = -6, 0 and 6.
  const ReedView view{0.0, 0.0, 1.0};
  const auto rim = rim_of(outline, view, 20.0);
  ASSERT_GT(rim.size(), 20U);
  EXPECT_NEAR(rim.front().x, -5.5, 1e-12) << "half of the width at the tip";
  EXPECT_NEAR(rim.front().y, 3.0 * 5.5 / 6.0, 1e-12);
  EXPECT_NEAR(rim[rim.size() - 3].x, 5.5, 1e-12);
  EXPECT_NEAR(rim[rim.size() - 3].y, 1.5 * 5.5 / 6.0, 1e-12);
  EXPECT_NEAR(rim[rim.size() - 2].x, 5.4, 1e-12) << "then down the right side";
  EXPECT_NEAR(rim[rim.size() - 2].y, 20.0, 1e-12);
  EXPECT_NEAR(rim.back().x, -6.2, 1e-12) << "and over to the left one";
}

TEST(ReedDrawing, ACellIsDrawnAtItsPlaceUpToTheEndAndOnlyIfItHasAColour) {
  Canvas canvas = Canvas::png(40, 40);
  draw_cells(canvas, {kGrid, kView, 2.0}, [](Eigen::Index row, Eigen::Index column) -> std::optional<Colour> {
    if (column == 0 && row == 1) return kRed;
    if (column == 3) return kBlue;
    return std::nullopt;
  });
  const Shown shown(std::move(canvas));
  EXPECT_TRUE(shown.is(kRed, 5, 15));
  EXPECT_TRUE(shown.is(kPaper, 5, 5));
  EXPECT_TRUE(shown.is(kBlue, 35, 5));
  EXPECT_TRUE(shown.is(kBlue, 35, 15));
  EXPECT_TRUE(shown.is(kPaper, 35, 27)) << "beyond the end";
  EXPECT_TRUE(shown.is(kPaper, 22, 15));
}

TEST(ReedDrawing, AContourRunsWhereTheFieldHasItsLevel) {
  // The field is y itself: its level 0.25 lies a quarter of a millimetre right of the middle.
  Field field(4, 4);
  for (Eigen::Index c = 0; c < 4; ++c) field.col(c).setConstant(static_cast<float>(kGrid.y_mm(c)));
  Canvas canvas = Canvas::png(40, 40);
  draw_contours(canvas, {kGrid, kView, 3.0}, {field, {0.25}}, {kRed, 1.0});
  const Shown shown(std::move(canvas));
  EXPECT_TRUE(shown.is(kRed, 22, 10)) << "pixels 22 to 23";
  EXPECT_TRUE(shown.is(kRed, 22, 20));
  EXPECT_TRUE(shown.is(kPaper, 22, 30)) << "beyond the end";
  for (const std::size_t x : {10U, 18U, 27U}) EXPECT_TRUE(shown.is(kPaper, x, 15)) << x;
  field.row(1).setConstant(std::nanf(""));
  Canvas broken = Canvas::png(40, 40);
  draw_contours(broken, {kGrid, kView, 3.0}, {field, {0.25}}, {kRed, 1.0});
  EXPECT_TRUE(Shown(std::move(broken)).is(kPaper, 22, 10)) << "not beside what is not known";
}

/// Rows lie half a step and more behind the tip, columns at y = -1, 0 and 1; the value is ten times the row and the
/// column.
Mechanics shape_grid(Eigen::ArrayXXd& shape) {
  Mechanics mechanics;
  mechanics.shape_step_mm = 1.0;
  mechanics.shape_first_y_mm = -1.0;
  shape.resize(4, 3);
  for (Eigen::Index r = 0; r < 4; ++r)
    for (Eigen::Index c = 0; c < 3; ++c) shape(r, c) = static_cast<double>(10 * r + c);
  return mechanics;
}

TEST(ReedDrawing, AShapeIsBilinearBetweenItsPlaces) {
  Eigen::ArrayXXd shape;
  const Mechanics m = shape_grid(shape);
  EXPECT_NEAR(shape_at(m, shape, 0.5, -1.0), 0.0, 1e-12);
  EXPECT_NEAR(shape_at(m, shape, 1.5, 0.0), 11.0, 1e-12);
  EXPECT_NEAR(shape_at(m, shape, 2.25, 0.25), 10.0 * 1.75 + 1.25, 1e-12);
  EXPECT_NEAR(shape_at(m, shape, 3.5, 1.0), 32.0, 1e-12) << "at its very corner";
  EXPECT_NEAR(shape_at(m, shape, 0.1, 0.0), 1.0, 1e-12) << "the tip's half step is the first row's";
}

TEST(ReedDrawing, BesideWhatIsNotKnownAShapeIsNotKnown) {
  Eigen::ArrayXXd shape;
  const Mechanics m = shape_grid(shape);
  shape(1, 1) = std::nan("");
  EXPECT_TRUE(std::isnan(shape_at(m, shape, 1.5, 0.0)));
  EXPECT_TRUE(std::isnan(shape_at(m, shape, 1.55, 0.05)));
  EXPECT_NEAR(shape_at(m, shape, 0.5, 0.0), 1.0, 1e-12) << "a step away it is";
}

TEST(ReedDrawing, FarBeyondItsGridAShapeIsNotKnown) {
  Eigen::ArrayXXd shape;
  const Mechanics m = shape_grid(shape);
  EXPECT_TRUE(std::isnan(shape_at(m, shape, 9.0, 0.0)));
  EXPECT_TRUE(std::isnan(shape_at(m, shape, 1.5, 4.0)));
  EXPECT_TRUE(std::isnan(shape_at(m, shape, 1.5, -4.0)));
}

TEST(ReedDrawing, AColourBarHasTheLargestShareOnTop) {
  Canvas canvas = Canvas::png(200, 140);
  draw_colour_bar(canvas, {.top_left = {20.0, 20.0},
                           .height = 100.0,
                           .title = "um",
                           .colour_of_share = [](double share) { return share > 0.7 ? kRed : kBlue; },
                           .ticks = {{0.0, "0"}, {1.0, "9"}}});
  const Shown shown(std::move(canvas));
  EXPECT_TRUE(shown.is(kRed, 30, 25));
  EXPECT_TRUE(shown.is(kRed, 30, 45));
  EXPECT_TRUE(shown.is(kBlue, 30, 55)) << "three tenths from the top";
  EXPECT_TRUE(shown.is(kBlue, 30, 115));
}

}  // namespace
}  // namespace canewise
