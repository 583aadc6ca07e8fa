#pragma once

#include <limits>
#include <optional>
#include <vector>

namespace canewise {

/// Minimise cost'x subject to lower <= a'x <= upper for every row and 0 <= x <= most.
struct LinearProgram {
  struct Term {
    int variable;
    double factor;
  };
  struct Row {
    std::vector<Term> terms;  ///< Every variable at most once.
    double lower = -std::numeric_limits<double>::infinity();
    double upper = std::numeric_limits<double>::infinity();
  };
  std::vector<double> cost, most;
  std::vector<Row> rows;

  /// Number of the new variable.
  int add_variable(double its_cost, double its_most = std::numeric_limits<double>::infinity());
};

/// By GLPK's simplex; empty if no x satisfies every row.
[[nodiscard]] std::optional<std::vector<double>> solve(const LinearProgram& program);

}  // namespace canewise
