#include "scanproc/thickness/bin_points.h"

#include <algorithm>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

std::vector<float> weights_of(const Eigen::VectorXf& u_mm) {
  std::vector<float> weights;
  if (u_mm.size() == 0) return weights;
  const Eigen::Index step = std::max<Eigen::Index>(1, u_mm.size() / 50000);
  std::vector<double> sizes;
  for (Eigen::Index i = 0; i < u_mm.size(); i += step) sizes.push_back(u_mm(i));
  const auto usual = static_cast<float>(std::max(1e-6, median(std::move(sizes))));
  constexpr float least = 1e-3F;
  weights.reserve(static_cast<std::size_t>(u_mm.size()));
  for (Eigen::Index i = 0; i < u_mm.size(); ++i) {
    const float ratio = usual / std::max(u_mm(i), 1e-9F);
    weights.push_back(std::clamp(ratio * ratio, least, 1.0F));
  }
  return weights;
}

}  // namespace

BinnedPoints points_by_band(const Eigen::Matrix3Xd& points_mm, const Eigen::VectorXf& u_mm, const InnerOutline& inner,
                            const Grid& grid) {
  BinnedPoints binned{points_mm, inner, weights_of(u_mm)};
  const auto bin_rows = static_cast<std::size_t>(2 * grid.rows);
  const double inverse = 2.0 / grid.cell_mm, rows = static_cast<double>(bin_rows);
  parallel_parts(static_cast<std::size_t>(points_mm.cols()), [&](std::size_t part, std::size_t begin, std::size_t end) {
    auto& found = binned.bands.at(part);
    for (auto& indices : found) indices.reserve((end - begin) / kParallelParts + (end - begin) / 64);
    for (std::size_t i = begin; i < end; ++i) {
      const double row = std::floor(points_mm(0, static_cast<Eigen::Index>(i)) * inverse);
      if (!(row >= 0.0 && row < rows)) continue;
      const auto band = static_cast<std::size_t>(row) * kParallelParts / bin_rows;
      found.at(band).push_back(static_cast<std::uint32_t>(i));
    }
  });
  return binned;
}

}  // namespace canewise
