#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <string>
#include <vector>

namespace canewise {

/// Least squares with a penalty on the weights, none on the mean ([Hoerl1970]): columns of `x` as they are, centred;
/// penalty 0 is ordinary least squares. Weights first, then the mean's.
struct Ridge {
  Eigen::VectorXd weights;
  double constant = 0.0;
  /// Root mean square of what each row misses when the others predict it, from the hat matrix ([Allen1974]).
  double left_out_error = 0.0;
};
[[nodiscard]] Ridge ridge(const Eigen::MatrixXd& x, const Eigen::VectorXd& y, double penalty);

/// Fewer reeds teach nothing.
inline constexpr int kFewestMarkedReeds = 8;

struct FigureWeight {
  std::string figure;
  double marks_per_spread = 0.0;  ///< So many marks more for a figure that is larger by the spread of these reeds.
};

/// Which figures go with a player's marks.
struct Learned {
  int reeds = 0;
  int missing = 0;                    ///< So many more it takes.
  bool is_claimed = false;            ///< Something was found that shuffled marks hardly ever show.
  double error_marks = 0.0;           ///< Of a mark that is predicted from the other reeds.
  double spread_marks = 0.0;          ///< The same where only their mean is used.
  double by_chance = 1.0;             ///< Share of shuffles that predict as well.
  std::vector<FigureWeight> weights;  ///< Largest first; empty unless claimed.
};

struct LearnOptions {
  int shuffles = 499;
  std::uint64_t seed = 1;
  double most_by_chance = 0.05;
};

/// `x`: a row for each reed, a column for each figure; `marks` in the same order. Figures that do not differ are left
/// out. The penalty is the one with the least error on left-out reeds; shuffled marks choose theirs alike, so that the
/// choice is not taken for a finding.
[[nodiscard]] Learned learn_from_marks(const std::vector<std::string>& figures, const Eigen::MatrixXd& x,
                                       const Eigen::VectorXd& marks, const LearnOptions& options = {});

}  // namespace canewise
