// Cells that hang together by their sides.
#include "scanproc/assess/cell_groups.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

namespace canewise {
namespace {

CellMask mask(const std::vector<std::string>& rows) {
  CellMask cells(static_cast<Eigen::Index>(rows.size()), static_cast<Eigen::Index>(rows.front().size()));
  for (Eigen::Index r = 0; r < cells.rows(); ++r) {
    for (Eigen::Index c = 0; c < cells.cols(); ++c)
      cells(r, c) = rows[static_cast<std::size_t>(r)][static_cast<std::size_t>(c)] == '#';
  }
  return cells;
}

std::set<std::set<Eigen::Index>> groups_of(CellMask cells) {
  std::set<std::set<Eigen::Index>> groups;
  for (const auto& group : connected_groups(cells)) {
    groups.emplace(group.begin(), group.end());
    EXPECT_EQ(std::set<Eigen::Index>(group.begin(), group.end()).size(), group.size()) << "each cell once";
  }
  EXPECT_FALSE(cells.any()) << "the mask is used up";
  return groups;
}

TEST(CellGroups, HangTogetherBySidesNotByCorners) {
  // Column-major: the cell at row r and column c of three rows is 3 c + r.
  EXPECT_EQ(groups_of(mask({"##..#",  //
                            "..#.#",  //
                            "#.#.."})),
            (std::set<std::set<Eigen::Index>>{{0, 3}, {2}, {7, 8}, {12, 13}}));
}

TEST(CellGroups, AreFollowedRoundEveryBend) {
  // A spiral: one group, whichever cell it is entered by.
  const auto groups = groups_of(mask({"#####",  //
                                      "....#",  //
                                      "###.#",  //
                                      "#...#",  //
                                      "#####"}));
  ASSERT_EQ(groups.size(), 1U);
  EXPECT_EQ(groups.begin()->size(), 17U);
}

TEST(CellGroups, DoNotGoOnOverTheMapsEdge) {
  // In memory the end of one column lies beside the begin of the next.
  EXPECT_EQ(groups_of(mask({".#",  //
                            "..",  //
                            "#."})),
            (std::set<std::set<Eigen::Index>>{{2}, {3}}));
}

TEST(CellGroups, OfNoCellsAreNone) {
  EXPECT_TRUE(groups_of(mask({"...", "..."})).empty());
  EXPECT_TRUE(groups_of(CellMask(0, 0)).empty());
}

}  // namespace
}  // namespace canewise
