#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "scanproc/assess/faults.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

/// Every second cell in each direction is enough: the profile is smooth.
constexpr Eigen::Index kEvery = 2;
/// A cut's form departs from a polynomial by so much, over such distances: an assumption that widens U where a fault is
/// as long as the reed.
constexpr double kFormAlong_mm = 5.0, kFormAcross_mm = 2.0, kForm_mm = 0.004;
constexpr Eigen::Index kPowersAlong = 6, kPowersAcross = 2;

struct Sample {
  double x_mm, y_mm, u, v;  ///< u and v: place in units of about one.
  double common_mm;
  Eigen::Index cell;
};

/// Cells of the right half that both sides show, where the fault lies and inwards and outwards of it.
std::vector<Sample> samples_about(const ZonedMap& reed, const Fault& fault) {
  const auto& [map, zones, outline, uncut] = reed;
  const Grid& grid = map.grid;
  // The heart is no polynomial: it counts only where the fault reaches towards it.
  double innermost = 1.0;
  std::vector<double> shares;
  for (const Eigen::Index cell : fault.cell_indices)
    shares.push_back(grid.y_mm(cell / grid.rows) / outline.half_width_mm(grid.x_mm(cell % grid.rows)));
  std::nth_element(shares.begin(), shares.begin() + static_cast<std::ptrdiff_t>(shares.size() / 10), shares.end());
  innermost = shares.at(shares.size() / 10);
  const double from_e = std::clamp(innermost - 0.2, 0.0, 0.55);
  constexpr double from_t = 0.05, to_t = 0.9;
  std::vector<Sample> samples;
  for (Eigen::Index c = grid.columns / 2; c < grid.columns; c += kEvery) {
    for (Eigen::Index r = 0; r < grid.rows; r += kEvery) {
      const double x = grid.x_mm(r), y = grid.y_mm(c), t = x / zones.vamp_length_mm, e = y / outline.half_width_mm(x);
      if (zones.label(r, c) < 0 || t < from_t || t > to_t || e < from_e || !reed.is_cut(r, c)) continue;
      const double common = 0.5 * (static_cast<double>(map.thickness_mm(r, c)) +
                                   static_cast<double>(map.thickness_mm(r, grid.mirrored(c))));
      if (std::isnan(common)) continue;
      samples.push_back({x, y, 2.0 * (t - from_t) / (to_t - from_t) - 1.0, e, common, c * grid.rows + r});
    }
  }
  return samples;
}

}  // namespace

ProfileWitness profile_witness(const ZonedMap& reed, const std::vector<Fault>& faults, std::size_t which) {
  const ProfileWitness nothing{std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()};
  const Fault& fault = faults.at(which);
  const std::vector<Sample> samples = samples_about(reed, fault);
  const Field felt = felt_difference_mm(reed);
  Field owner = Field::Constant(reed.map.grid.rows, reed.map.grid.columns, -1.0F);
  for (std::size_t k = 0; k < faults.size(); ++k)
    for (const Eigen::Index cell : faults[k].cell_indices) owner.data()[cell] = static_cast<float>(k);
  // Common profile = polynomial in x and y^2 + share of every fault's own form.
  const auto n = static_cast<Eigen::Index>(samples.size());
  const auto others = static_cast<Eigen::Index>(faults.size());
  const Eigen::Index base = kPowersAlong * kPowersAcross, columns = base + others;
  if (n < 4 * columns) return nothing;
  Eigen::MatrixXd a = Eigen::MatrixXd::Zero(n, columns);
  Eigen::VectorXd b(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Sample& s = samples[static_cast<std::size_t>(i)];
    b(i) = s.common_mm;
    for (Eigen::Index p = 0; p < kPowersAlong; ++p) {
      for (Eigen::Index q = 0; q < kPowersAcross; ++q) {
        a(i, p * kPowersAcross + q) =
            std::pow(s.u, static_cast<double>(p)) * std::pow(s.v, 2.0 * static_cast<double>(q));
      }
    }
    const auto whose = static_cast<Eigen::Index>(owner.data()[s.cell]);
    if (whose >= 0) a(i, base + whose) = std::abs(static_cast<double>(felt.data()[s.cell]));
  }
  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(a);
  const Eigen::Index wanted = base + static_cast<Eigen::Index>(which);
  const Eigen::VectorXd x = qr.solve(b), rest = b - a * x;
  // The answer as a weighted sum of the samples: x(wanted) = g' b.
  const Eigen::MatrixXd normal = a.transpose() * a;
  const Eigen::LDLT<Eigen::MatrixXd> factor(normal);
  if (factor.info() != Eigen::Success) return nothing;
  const Eigen::VectorXd g = a * factor.solve(Eigen::VectorXd::Unit(columns, wanted));
  // What is left is alike within some millimetres: whole blocks are the independent pieces.
  std::map<std::pair<long, long>, std::pair<double, double>> blocks;
  for (Eigen::Index i = 0; i < n; ++i) {
    const Sample& s = samples[static_cast<std::size_t>(i)];
    auto& [scatter, weight] = blocks[{std::lround(s.x_mm / kFormAlong_mm), std::lround(s.y_mm / kFormAcross_mm)}];
    scatter += g(i) * rest(i);
    weight += g(i);
  }
  double variance = 0.0;
  for (const auto& [place, sums] : blocks) variance += square(sums.first) + square(kForm_mm * sums.second);
  ProfileWitness witness{x(wanted), std::sqrt(variance)};
  if (!std::isfinite(witness.share) || !std::isfinite(witness.u)) return nothing;
  return witness;
}

}  // namespace canewise
