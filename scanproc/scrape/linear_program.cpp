#include "scanproc/scrape/linear_program.h"

#include <glpk.h>

#include <cmath>
#include <memory>

namespace canewise {
namespace {

int bounds_kind(double lower, double upper) {
  if (std::isinf(lower)) return std::isinf(upper) ? GLP_FR : GLP_UP;
  if (std::isinf(upper)) return GLP_LO;
  return lower < upper ? GLP_DB : GLP_FX;
}

}  // namespace

int LinearProgram::add_variable(double its_cost, double its_most) {
  cost.push_back(its_cost);
  most.push_back(its_most);
  return static_cast<int>(cost.size()) - 1;
}

std::optional<std::vector<double>> solve(const LinearProgram& program) {
  for (const auto& row : program.rows)
    if (row.lower > row.upper) return std::nullopt;
  if (program.cost.empty()) return std::vector<double>{};
  glp_term_out(GLP_OFF);
  const std::unique_ptr<glp_prob, decltype(&glp_delete_prob)> problem(glp_create_prob(), &glp_delete_prob);
  glp_prob* p = problem.get();
  glp_set_obj_dir(p, GLP_MIN);
  const auto variables = static_cast<int>(program.cost.size());
  glp_add_cols(p, variables);
  for (int j = 0; j < variables; ++j) {
    const auto k = static_cast<std::size_t>(j);
    glp_set_obj_coef(p, j + 1, program.cost[k]);
    const double most = program.most[k];
    glp_set_col_bnds(p, j + 1, bounds_kind(0.0, most), 0.0, most);
  }
  if (!program.rows.empty()) glp_add_rows(p, static_cast<int>(program.rows.size()));
  // GLPK counts from 1.
  std::vector<int> columns;
  std::vector<double> factors;
  for (std::size_t i = 0; i < program.rows.size(); ++i) {
    const LinearProgram::Row& row = program.rows[i];
    columns.assign(1, 0);
    factors.assign(1, 0.0);
    for (const auto& term : row.terms) {
      columns.push_back(term.variable + 1);
      factors.push_back(term.factor);
    }
    const auto number = static_cast<int>(i) + 1;
    glp_set_mat_row(p, number, static_cast<int>(row.terms.size()), columns.data(), factors.data());
    glp_set_row_bnds(p, number, bounds_kind(row.lower, row.upper), row.lower, row.upper);
  }
  glp_scale_prob(p, GLP_SF_AUTO);
  glp_smcp parameters;
  glp_init_smcp(&parameters);
  parameters.msg_lev = GLP_MSG_OFF;
  const auto solved = [&] { return glp_simplex(p, &parameters) == 0 && glp_get_status(p) == GLP_OPT; };
  if (!solved()) {
    // Rarely the basis at hand is no good; the presolver starts from another.
    parameters.presolve = GLP_ON;
    if (!solved()) return std::nullopt;
  }
  std::vector<double> x;
  x.reserve(program.cost.size());
  for (int j = 0; j < variables; ++j) x.push_back(std::fmax(0.0, glp_get_col_prim(p, j + 1)));
  return x;
}

}  // namespace canewise
