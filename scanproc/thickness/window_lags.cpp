#include "scanproc/thickness/window_lags.h"

#include <Eigen/Cholesky>
#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <utility>
#include <vector>

namespace canewise {
namespace {

using Index = Eigen::Index;
constexpr Index kN = WindowLags::kWindow, kMax = WindowLags::kMax, kSpan = 2 * kMax + 1, kDegrees = 3;

/// One direction's share in the entries, by two lags: sums over the places r for which all places named lie inside.
struct OneWay {
  Eigen::Matrix<double, kN, kDegrees> basis;  ///< Orthonormal polynomials.
  /// Of degree a: sum of p(r) p(r + l - m) and of p(r + m) p(r + l).
  std::array<Eigen::Matrix<double, kSpan, kSpan>, kDegrees> before, after;
  /// Of degrees a and b: sum of p_a(r) p_b(r + m).
  std::array<std::array<Eigen::Matrix<double, kSpan, 1>, kDegrees>, kDegrees> both;
};

OneWay one_way() {
  OneWay way;
  Eigen::Matrix<double, kN, kDegrees> powers;
  for (Index r = 0; r < kN; ++r) {
    const double u = (static_cast<double>(r) - 0.5 * (kN - 1)) / (0.5 * kN);
    powers.row(r) << 1.0, u, u * u;
  }
  const Eigen::HouseholderQR<Eigen::MatrixXd> qr(powers);
  way.basis = (qr.householderQ() * Eigen::MatrixXd::Identity(kN, kDegrees));
  const auto inside = [](Index r) { return r >= 0 && r < kN; };
  for (Index a = 0; a < kDegrees; ++a) {
    const auto p = way.basis.col(a);
    for (Index l = -kMax; l <= kMax; ++l) {
      for (Index m = -kMax; m <= kMax; ++m) {
        double before = 0.0, after = 0.0;
        for (Index r = 0; r < kN; ++r) {
          if (inside(r + l) && inside(r + l - m)) before += p(r) * p(r + l - m);
          if (inside(r + l) && inside(r + m)) after += p(r + m) * p(r + l);
        }
        way.before.at(static_cast<std::size_t>(a))(l + kMax, m + kMax) = before;
        way.after.at(static_cast<std::size_t>(a))(l + kMax, m + kMax) = after;
      }
      for (Index b = 0; b < kDegrees; ++b) {
        double sum = 0.0;
        for (Index r = 0; r < kN; ++r)
          if (inside(r + l)) sum += p(r) * way.basis(r + l, b);
        way.both.at(static_cast<std::size_t>(a)).at(static_cast<std::size_t>(b))(l + kMax) = sum;
      }
    }
  }
  return way;
}

/// Degrees along and across of a quadratic's six terms.
constexpr std::array<std::pair<std::size_t, std::size_t>, 6> kTerms{{{0, 0}, {0, 1}, {1, 0}, {0, 2}, {1, 1}, {2, 0}}};

/// A lag along and across.
struct Lag {
  Index along = 0, across = 0;
};

double pairs_at(const Lag& l) { return static_cast<double>((kN - std::abs(l.along)) * (kN - std::abs(l.across))); }

/// Sum over the pairs at lag l of what a covariance of one at lag m alone (one sign) leaves of itself in residuals:
/// <M T_m M, T_l>, T_m being one where two places lie m apart.
double leaves(const OneWay& way, const Lag& l, const Lag& m) {
  const Index la = l.along + kMax, lc = l.across + kMax, ma = m.along + kMax, mc = m.across + kMax;
  double sum = l.along == m.along && l.across == m.across ? pairs_at(l) : 0.0;
  for (const auto& [a, b] : kTerms) {
    sum -= way.before.at(a)(la, ma) * way.before.at(b)(lc, mc);
    sum -= way.after.at(a)(la, ma) * way.after.at(b)(lc, mc);
    for (const auto& [c, d] : kTerms)
      sum += way.both.at(a).at(c)(ma) * way.both.at(b).at(d)(mc) * way.both.at(a).at(c)(la) * way.both.at(b).at(d)(lc);
  }
  return sum;
}

/// Lags of one half plane: those of the other are the same pairs.
std::vector<Lag> lags_to(Index across) {
  std::vector<Lag> lags;
  for (Index dx = 0; dx <= kMax; ++dx) {
    for (Index dy = dx == 0 ? 0 : -across; dy <= across; ++dy) lags.push_back({dx, dy});
  }
  return lags;
}

/// Mean of Q Q' over the pairs at a lag, of windows without gaps.
double full_leverage(const OneWay& way, const Lag& l) {
  double sum = 0.0;
  for (const auto& [a, b] : kTerms) sum += way.both.at(a).at(a)(l.along + kMax) * way.both.at(b).at(b)(l.across + kMax);
  return sum / pairs_at(l);
}

/// E[p] = A c of windows without gaps.
struct FullWindows {
  std::vector<Lag> seen = lags_to(kMax), wanted = lags_to(WindowLags::kMaxAcross);
  Eigen::MatrixXd matrix;
  Eigen::VectorXd pairs, leverage;
};

FullWindows full_windows() {
  FullWindows full;
  const OneWay way = one_way();
  const auto rows = static_cast<Index>(full.seen.size()), columns = static_cast<Index>(full.wanted.size());
  full.matrix.resize(rows, columns);
  full.pairs.resize(rows);
  full.leverage.resize(rows);
  for (Index i = 0; i < rows; ++i) {
    const Lag l = full.seen[static_cast<std::size_t>(i)];
    full.pairs(i) = pairs_at(l);
    full.leverage(i) = full_leverage(way, l);
    for (Index j = 0; j < columns; ++j) {
      const Lag m = full.wanted[static_cast<std::size_t>(j)];
      double sum = leaves(way, l, m);
      if (m.along != 0 || m.across != 0) sum += leaves(way, l, {-m.along, -m.across});
      full.matrix(i, j) = sum / full.pairs(i);
    }
  }
  return full;
}

/// Least squares, each lag by its number of pairs. Lags that no pair shows are held at nothing.
Eigen::MatrixXd solution_of(const FullWindows& full, const Eigen::MatrixXd& matrix, const Eigen::VectorXd& pairs) {
  const Eigen::MatrixXd weighted = matrix.transpose() * pairs.asDiagonal();
  constexpr double hold = 1e-6;
  Eigen::MatrixXd normal = weighted * matrix;
  normal.diagonal().array() += hold * full.pairs.maxCoeff();
  return normal.ldlt().solve(weighted);
}

/// Where bins are empty a fit of as many terms takes more from each that is left: of C's terms that meet themselves,
/// c(0) at every lag and c(l) at its own. The others keep their share, because their third place may be empty too.
Eigen::MatrixXd with_gaps(const FullWindows& full, const Eigen::VectorXd& leverage) {
  Eigen::MatrixXd matrix = full.matrix;
  const Eigen::VectorXd more = leverage - full.leverage;
  for (Index i = 0; i < matrix.rows(); ++i) {
    const Lag l = full.seen[static_cast<std::size_t>(i)];
    for (Index j = 0; j < matrix.cols(); ++j) {
      const Lag m = full.wanted[static_cast<std::size_t>(j)];
      if (m.along == 0 && m.across == 0) matrix(i, j) -= more(i);
      if (m.along == l.along && m.across == l.across && (l.along != 0 || l.across != 0)) matrix(i, j) -= 2.0 * more(0);
    }
  }
  return matrix;
}

/// What `full.seen` names of an array by lag.
Eigen::VectorXd at_lags(const FullWindows& full, const Eigen::ArrayXXd& by_lag) {
  Eigen::VectorXd values(static_cast<Index>(full.seen.size()));
  for (Index i = 0; i < values.size(); ++i) {
    const Lag l = full.seen[static_cast<std::size_t>(i)];
    values(i) = by_lag(l.along, l.across + kMax);
  }
  return values;
}

Index ring_of(const Lag& lag) { return std::max(lag.along, std::abs(lag.across)); }

/// The farthest ring of lags up to which every ring's mean covariance is clearly more than nothing: what is beyond only
/// adds its scatter to a sum. The scatter is that of white noise, whose mean products at different lags are
/// independent.
Index reach_of(const FullWindows& full, const Eigen::MatrixXd& by_products, const Eigen::VectorXd& found,
               const Eigen::VectorXd& all_pairs) {
  constexpr double clear = 2.0;
  for (Index ring = 1; ring <= kMax; ++ring) {
    Eigen::RowVectorXd mean = Eigen::RowVectorXd::Zero(found.size());
    for (Index j = 0; j < found.size(); ++j) mean(j) = ring_of(full.wanted[static_cast<std::size_t>(j)]) == ring;
    mean /= mean.sum();
    const Eigen::ArrayXd weights = (mean * by_products).transpose().array();
    const double u = found(0) * std::sqrt((weights.square() / all_pairs.array().max(1.0)).sum());
    if (!(mean.dot(found) > clear * u)) return ring - 1;
  }
  return kMax;
}

/// What is alike even far across the fibre is no noise but slow error, which the plate beside the reed shows and which
/// is counted from there.
double slow_part(const FullWindows& full, const Eigen::VectorXd& found, Index reach) {
  constexpr Index far_across = WindowLags::kMaxAcross - 1;
  double sum = 0.0, count = 0.0;
  for (Index j = 0; j < found.size(); ++j) {
    const Lag m = full.wanted[static_cast<std::size_t>(j)];
    if (ring_of(m) <= reach && std::abs(m.across) >= far_across) sum += found(j), count += 1.0;
  }
  return count > 0.0 ? std::clamp(sum / count, 0.0, 0.9 * found(0)) : 0.0;
}

}  // namespace

Eigen::ArrayXXd covariance_from_residuals(const ResidualLags& lags) {
  static const FullWindows full = full_windows();
  static const Eigen::MatrixXd solution = solution_of(full, full.matrix, full.pairs);
  constexpr double whole = 1.0 - 1e-9;
  const bool has_gaps = lags.filled_share() < whole;
  // Pairs as of one window.
  const Eigen::VectorXd pairs = at_lags(full, lags.pairs / lags.possible).cwiseProduct(full.pairs);
  const Eigen::MatrixXd own =
      has_gaps ? solution_of(full, with_gaps(full, at_lags(full, lags.leverage)), pairs) : Eigen::MatrixXd();
  const Eigen::MatrixXd& by_products = has_gaps ? own : solution;
  const Eigen::VectorXd found = by_products * at_lags(full, lags.products);
  const Index reach = reach_of(full, by_products, found, at_lags(full, lags.pairs));
  const double slow = slow_part(full, found, reach);
  Eigen::ArrayXXd covariance = Eigen::ArrayXXd::Zero(kMax + 1, kSpan);
  for (Index j = 0; j < found.size(); ++j) {
    const Lag m = full.wanted[static_cast<std::size_t>(j)];
    if (ring_of(m) > reach) continue;
    covariance(m.along, m.across + kMax) = found(j) - slow;
    if (m.along == 0) covariance(0, kMax - m.across) = found(j) - slow;
  }
  return covariance;
}

}  // namespace canewise
