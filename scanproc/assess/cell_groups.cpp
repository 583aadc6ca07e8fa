#include "scanproc/assess/cell_groups.h"

namespace canewise {

std::vector<std::vector<Eigen::Index>> connected_groups(CellMask& cells) {
  std::vector<std::vector<Eigen::Index>> groups;
  for (Eigen::Index start = 0; start < cells.size(); ++start) {
    if (!cells.data()[start]) continue;
    std::vector<Eigen::Index> group{start};
    cells.data()[start] = false;
    for (std::size_t k = 0; k < group.size(); ++k) {
      const Eigen::Index r = group[k] % cells.rows(), c = group[k] / cells.rows();
      const auto visit = [&](Eigen::Index row, Eigen::Index column) {
        if (row < 0 || column < 0 || row >= cells.rows() || column >= cells.cols() || !cells(row, column)) return;
        cells(row, column) = false;
        group.push_back(column * cells.rows() + row);
      };
      visit(r - 1, c);
      visit(r + 1, c);
      visit(r, c - 1);
      visit(r, c + 1);
    }
    groups.push_back(std::move(group));
  }
  return groups;
}

}  // namespace canewise
