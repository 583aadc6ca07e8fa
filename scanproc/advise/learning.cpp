#include "scanproc/advise/learning.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <utility>

namespace canewise {
namespace {

/// One decomposition for every penalty.
struct Centred {
  Eigen::RowVectorXd means;
  Eigen::BDCSVD<Eigen::MatrixXd> svd;
  explicit Centred(const Eigen::MatrixXd& x)
      : means(x.colwise().mean()), svd(x.rowwise() - means, Eigen::ComputeThinU | Eigen::ComputeThinV) {}
};

Ridge ridge_of(const Centred& centred, const Eigen::VectorXd& y, double penalty) {
  const auto& svd = centred.svd;
  const Eigen::ArrayXd s = svd.singularValues().array();
  const double n = static_cast<double>(y.size()), mean = y.mean();
  // Directions without length say nothing.
  const double least = 1e-12 * (s.size() > 0 ? s(0) : 0.0);
  const Eigen::ArrayXd shrink = (s > least).select(s.square() / (s.square() + penalty), 0.0);
  const Eigen::VectorXd along = svd.matrixU().transpose() * (y.array() - mean).matrix();
  Ridge found;
  found.weights = svd.matrixV() * ((s > least).select(shrink / s, 0.0) * along.array()).matrix();
  found.constant = mean - centred.means * found.weights;
  const Eigen::ArrayXd residual = (y.array() - mean) - (svd.matrixU() * (shrink * along.array()).matrix()).array();
  const Eigen::ArrayXd hat = 1.0 / n + (svd.matrixU().array().square().matrix() * shrink.matrix()).array();
  found.left_out_error = std::sqrt((residual / (1.0 - hat).max(1e-12)).square().mean());
  return found;
}

Ridge best_ridge(const Centred& centred, const Eigen::VectorXd& y) {
  Ridge best;
  best.left_out_error = std::numeric_limits<double>::infinity();
  constexpr double least = 0.03, most = 300.0;
  constexpr int steps = 14;
  for (int k = 0; k < steps; ++k) {
    const double penalty = static_cast<double>(y.size()) * least * std::pow(most / least, k / (steps - 1.0));
    Ridge tried = ridge_of(centred, y, penalty);
    if (tried.left_out_error < best.left_out_error) best = std::move(tried);
  }
  return best;
}

/// Columns that differ, each in units of its spread.
struct Standardized {
  Eigen::MatrixXd x;
  std::vector<std::string> figures;
};

Standardized standardized(const std::vector<std::string>& figures, const Eigen::MatrixXd& x) {
  Standardized kept;
  kept.x.resize(x.rows(), 0);
  for (Eigen::Index c = 0; c < x.cols(); ++c) {
    const Eigen::ArrayXd column = x.col(c).array() - x.col(c).mean();
    const double sd = std::sqrt(column.square().sum() / static_cast<double>(x.rows() - 1));
    if (!(sd > 1e-9 * std::abs(x.col(c).mean()) && sd > 0.0)) continue;
    kept.x.conservativeResize(Eigen::NoChange, kept.x.cols() + 1);
    kept.x.rightCols(1) = (column / sd).matrix();
    kept.figures.push_back(figures[static_cast<std::size_t>(c)]);
  }
  return kept;
}

}  // namespace

Ridge ridge(const Eigen::MatrixXd& x, const Eigen::VectorXd& y, double penalty) {
  return ridge_of(Centred(x), y, penalty);
}

Learned learn_from_marks(const std::vector<std::string>& figures, const Eigen::MatrixXd& x,
                         const Eigen::VectorXd& marks, const LearnOptions& options) {
  Learned learned;
  learned.reeds = static_cast<int>(marks.size());
  learned.missing = std::max(0, kFewestMarkedReeds - learned.reeds);
  if (learned.missing > 0) return learned;
  const double n = static_cast<double>(marks.size());
  learned.spread_marks = std::sqrt((marks.array() - marks.mean()).square().sum() / n) * n / (n - 1.0);
  const Standardized kept = standardized(figures, x);
  learned.error_marks = learned.spread_marks;
  if (kept.figures.empty() || !(learned.spread_marks > 0.0)) return learned;
  const Centred centred(kept.x);
  const Ridge best = best_ridge(centred, marks);
  learned.error_marks = best.left_out_error;
  std::mt19937_64 random(options.seed);
  Eigen::VectorXd shuffled = marks;
  int as_good = 1;  // The marks as they are count as one of the orders.
  for (int k = 0; k < options.shuffles; ++k) {
    std::shuffle(shuffled.begin(), shuffled.end(), random);
    as_good += best_ridge(centred, shuffled).left_out_error <= best.left_out_error;
  }
  learned.by_chance = as_good / (options.shuffles + 1.0);
  learned.is_claimed = learned.by_chance <= options.most_by_chance && best.left_out_error < learned.spread_marks;
  if (!learned.is_claimed) return learned;
  for (std::size_t k = 0; k < kept.figures.size(); ++k)
    learned.weights.push_back({kept.figures[k], best.weights(static_cast<Eigen::Index>(k))});
  std::sort(learned.weights.begin(), learned.weights.end(), [](const FigureWeight& a, const FigureWeight& b) {
    return std::abs(a.marks_per_spread) > std::abs(b.marks_per_spread);
  });
  return learned;
}

}  // namespace canewise
