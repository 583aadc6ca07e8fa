#include "scanproc/scrape/fault_layers.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "scanproc/assess/cell_groups.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

/// Beyond so much of the tolerance a piece is a fault that must go; up to it, one that should.
constexpr double kBorneOfTolerance = 0.8;
constexpr double kBlockAlong_mm = 1.5, kBlockAcross_mm = 0.9;

class Layers {
 public:
  Layers(const FaultGround& ground, int number)
      : ground_(ground),
        number_(number),
        fault_(ground.assessment.faults.at(static_cast<std::size_t>(number))),
        grid_(ground.map.grid) {}

  std::vector<Place> run() {
    std::vector<double> heights;
    for (const Eigen::Index cell : fault_.cell_indices) heights.push_back(height_mm(cell));
    constexpr double nearly_all = 0.95;
    const auto at = heights.begin() + static_cast<std::ptrdiff_t>(nearly_all * static_cast<double>(heights.size() - 1));
    std::nth_element(heights.begin(), at, heights.end());
    const double peak = *at;
    // A layer thinner than this is not worth a step of its own.
    constexpr double layer_mm = 0.007;
    constexpr int most = 4;
    const int layers = std::clamp(static_cast<int>(peak / layer_mm), 1, most);
    std::vector<Place> places;
    for (int k = 0; k < layers; ++k) add_layer(std::max(0.0, peak * (k + 0.3) / (layers + 0.3)), places);
    return places;
  }

 private:
  /// Over what may stay.
  double height_mm(Eigen::Index cell) const {
    const double leave = kFaultShare * tolerance_at_mm(ground_.assessment.balance, grid_.x_mm(cell % grid_.rows),
                                                       ground_.assessment.zones.vamp_length_mm);
    return static_cast<double>(fault_.thicker) * static_cast<double>(ground_.felt_mm.data()[cell]) - leave;
  }

  void add_layer(double over_mm, std::vector<Place>& places) const {
    CellMask cells = CellMask::Constant(grid_.rows, grid_.columns, false);
    for (const Eigen::Index cell : fault_.cell_indices) {
      const Eigen::Index r = cell % grid_.rows, c = cell / grid_.rows;
      if (height_mm(cell) > over_mm && grid_.y_mm(c) > ground_.field.innermost_mm(grid_.x_mm(r))) cells(r, c) = true;
    }
    constexpr double least_mm2 = 1.2;
    for (const auto& group : connected_groups(cells)) {
      if (static_cast<double>(group.size()) * square(grid_.cell_mm) < least_mm2) continue;
      const std::vector<Station> borders = borders_of(group);
      // Near the tip: deep where a slip cannot reach what stays there, shallow nearer to it.
      double sure_area = 0.0;
      for (const double share : {1.0, 0.7, 0.4}) {
        auto place = ground_.maker.stretch(fault_.thicker, borders, share * ground_.field.sure_of_tip_mm());
        if (!place) continue;
        if (share < 1.0 && place->area_mm2 < 1.05 * sure_area) continue;  // It does not reach the tip.
        sure_area = place->area_mm2;
        place->fault = number_;
        places.push_back(std::move(*place));
      }
    }
  }

  /// From row to row, evened out over a millimetre.
  std::vector<Station> borders_of(const std::vector<Eigen::Index>& group) const {
    Eigen::Index first = grid_.rows, last = 0;
    std::map<Eigen::Index, std::pair<double, double>> rows;
    for (const Eigen::Index cell : group) {
      const Eigen::Index r = cell % grid_.rows;
      const double y = grid_.y_mm(cell / grid_.rows);
      first = std::min(first, r), last = std::max(last, r);
      auto [row, is_new] = rows.try_emplace(r, y, y);
      row->second.first = std::min(row->second.first, y), row->second.second = std::max(row->second.second, y);
    }
    const double from = grid_.x_mm(first) - 0.5 * grid_.cell_mm, to = grid_.x_mm(last) + 0.5 * grid_.cell_mm;
    constexpr double apart_mm = 1.0;
    const int parts = std::max(1, static_cast<int>(std::lround((to - from) / apart_mm)));
    std::vector<Station> borders;
    for (int k = 0; k <= parts; ++k) {
      const double x = from + (to - from) * k / parts;
      double inner = 0.0, outer = 0.0, count = 0.0;
      for (const auto& [r, row] : rows) {
        if (std::abs(grid_.x_mm(r) - x) > 0.5 * apart_mm + 0.5 * grid_.cell_mm) continue;
        inner += row.first - 0.5 * grid_.cell_mm, outer += row.second + 0.5 * grid_.cell_mm, count += 1.0;
      }
      if (count > 0.0) borders.push_back({x, inner / count, outer / count});
    }
    return borders;
  }

  const FaultGround& ground_;
  int number_;
  const Fault& fault_;
  const Grid& grid_;
};

struct BlockSums {
  double difference = 0.0, cells = 0.0, acting = 0.0, reached = 0.0, tolerance = 0.0;
};

/// On the right half: the largest share that any place takes off a cell or its mirror image.
Field reach_of(const Grid& grid, const std::vector<Place>& places) {
  Field reach = Field::Zero(grid.rows, grid.columns);
  for (const Place& place : places) {
    for (const Place::Part& part : place.parts) {
      for (std::size_t k = 0; k < part.cut.cells.size(); ++k) {
        const Eigen::Index r = part.cut.cells[k] % grid.rows, c = part.cut.cells[k] / grid.rows;
        float& most = reach(r, std::max(c, grid.mirrored(c)));
        most = std::max(most, part.cut.share[k]);
      }
    }
  }
  return reach;
}

}  // namespace

std::vector<Place> fault_layers(const FaultGround& ground, int fault) { return Layers(ground, fault).run(); }

void CaneBlocks::count(Place& place) const {
  std::vector<double> cells(blocks.size(), 0.0);
  place.block.assign(blocks.size(), 0.0);
  for (Eigen::Index i = 0; i < owner.size(); ++i)
    if (owner.data()[i] >= 0) cells[static_cast<std::size_t>(owner.data()[i])] += 1.0;
  for (const Place::Part& part : place.parts) {
    for (std::size_t k = 0; k < part.cut.cells.size(); ++k) {
      const Eigen::Index r = part.cut.cells[k] % owner.rows(), c = part.cut.cells[k] / owner.rows();
      const bool right = 2 * c >= owner.cols();
      const int b = owner(r, right ? c : owner.cols() - 1 - c);
      if (b < 0) continue;
      const auto block_number = static_cast<std::size_t>(b);
      place.block[block_number] -= (right ? 1.0 : -1.0) * static_cast<double>(part.cut.share[k]) / cells[block_number];
    }
  }
}

CaneBlocks cane_blocks(const FaultGround& ground, const std::vector<bool>& fault_acts,
                       const std::vector<Place>& places) {
  const Grid& grid = ground.map.grid;
  const Field reach = reach_of(grid, places);
  CellMask acting = CellMask::Constant(grid.rows, grid.columns, false);
  for (std::size_t f = 0; f < fault_acts.size(); ++f) {
    if (!fault_acts[f]) continue;
    for (const Eigen::Index cell : ground.assessment.faults[f].cell_indices) acting.data()[cell] = true;
  }
  CaneBlocks result;
  result.owner.setConstant(grid.rows, grid.columns, -1);
  std::map<std::pair<long, long>, int> number;
  std::vector<BlockSums> sums;
  constexpr float noticed = 0.1F;
  for (Eigen::Index c = grid.columns / 2; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      const double difference = ground.assessment.balance.difference_mm(r, c), x = grid.x_mm(r);
      if (std::isnan(difference) || ground.assessment.zones.label(r, c) < 0) continue;
      if (reach(r, c) < noticed && !acting(r, c)) continue;
      const auto [found, is_new] =
          number.try_emplace({static_cast<long>(x / kBlockAlong_mm), static_cast<long>(grid.y_mm(c) / kBlockAcross_mm)},
                             static_cast<int>(sums.size()));
      if (is_new) sums.emplace_back();
      result.owner(r, c) = found->second;
      BlockSums& sum = sums[static_cast<std::size_t>(found->second)];
      sum.difference += difference;
      sum.cells += 1.0;
      sum.acting += acting(r, c);
      sum.reached += static_cast<double>(reach(r, c));
      sum.tolerance += tolerance_at_mm(ground.assessment.balance, x, ground.assessment.zones.vamp_length_mm);
    }
  }
  for (const BlockSums& sum : sums) {
    constexpr double mostly = 0.6;
    const double difference = sum.difference / sum.cells, tolerance = sum.tolerance / sum.cells;
    const bool to_go = sum.acting > 0.0 && sum.reached > mostly * sum.cells;
    const double stays = to_go ? 0.0 : std::abs(difference);
    const double wanted = std::max(kFaultShare * tolerance, stays),
                 borne = std::max(kBorneOfTolerance * tolerance, stays);
    result.blocks.push_back({difference, sum.cells * square(grid.cell_mm), {-wanted, wanted}, {-borne, borne}});
  }
  return result;
}

}  // namespace canewise
