#include "scanproc/mechanics/rail_contact.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>
#include <vector>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

/// Everything of the row in one state.
struct RowState {
  Pressed pressed;
  double energy = 0.0;  ///< Of the body and what it presses on, as a function of the places' forces.
};

RowState state_of(const ContactRow& row, const Eigen::VectorXd& free_mm, const Eigen::VectorXd& gap_mm,
                  const Eigen::VectorXd& force) {
  RowState state;
  Pressed& p = state.pressed;
  const Eigen::VectorXd given = row.compliance * force;
  p.depth_mm = row.interpolation * (free_mm - given) - gap_mm;
  const Eigen::Index samples = p.depth_mm.size();
  p.sample_force_n.resize(samples);
  p.change_n_per_mm2.resize(samples);
  Eigen::VectorXd stiffness(samples);
  state.energy = 0.5 * force.dot(given);
  for (Eigen::Index q = 0; q < samples; ++q) {
    const RailContact::Answer answer = row.law.at(p.depth_mm(q));
    p.sample_force_n(q) = row.length_mm(q) * answer.force;
    stiffness(q) = row.length_mm(q) * answer.stiffness;
    p.change_n_per_mm2(q) = row.length_mm(q) * answer.change;
    state.energy += row.length_mm(q) * answer.work;
  }
  p.force_n = row.interpolation.transpose() * p.sample_force_n;
  const Eigen::SparseMatrix<double> weighted = stiffness.asDiagonal() * row.interpolation;
  p.stiffness_n_per_mm = Eigen::MatrixXd(row.interpolation.transpose() * weighted);
  return state;
}

/// (I + K C) step = missing. Where nothing touches K has no rows, so that only the others have to be solved for.
Eigen::VectorXd newton_step(const ContactRow& row, const Pressed& pressed, const Eigen::VectorXd& missing) {
  std::vector<Eigen::Index> touching;
  for (Eigen::Index i = 0; i < missing.size(); ++i)
    if (pressed.stiffness_n_per_mm(i, i) > 0.0) touching.push_back(i);
  Eigen::VectorXd step = missing;
  if (touching.empty()) return step;
  const Eigen::MatrixXd k = pressed.stiffness_n_per_mm(touching, touching);
  step(touching).setZero();
  const Eigen::VectorXd by_others = row.compliance(touching, Eigen::all) * step;
  const Eigen::MatrixXd slope = Eigen::MatrixXd::Identity(k.rows(), k.rows()) + k * row.compliance(touching, touching);
  const Eigen::VectorXd right = missing(touching) - k * by_others;
  step(touching) = Eigen::VectorXd(slope.partialPivLu().solve(right));
  return step;
}

}  // namespace

RailContact::Answer RailContact::at(double depth_mm) const {
  if (!(depth_mm > 0.0)) return {};
  const double full = 2.0 * roughness_mm;
  if (depth_mm < full) {
    const double share = depth_mm / full;
    return {.force = give_n_per_mm2 * roughness_mm * square(share),
            .stiffness = give_n_per_mm2 * share,
            .change = give_n_per_mm2 / full,
            .work = give_n_per_mm2 * roughness_mm * full * share * square(share) / 3.0};
  }
  const double over = depth_mm - roughness_mm;
  return {.force = give_n_per_mm2 * over,
          .stiffness = give_n_per_mm2,
          .change = 0.0,
          .work = give_n_per_mm2 * (0.5 * square(over) + square(roughness_mm) / 6.0)};
}

Pressed press(const ContactRow& row, const Eigen::VectorXd& free_mm, const Eigen::VectorXd& gap_mm,
              const Eigen::VectorXd& start) {
  const Eigen::Index n = free_mm.size();
  Eigen::VectorXd force = start.size() == n ? start : Eigen::VectorXd::Zero(n);
  RowState state = state_of(row, free_mm, gap_mm, force);
  constexpr int most_steps = 200;
  for (int step = 0; step < most_steps; ++step) {
    const Eigen::VectorXd missing = state.pressed.force_n - force;
    constexpr double exact = 1e-11;
    if (missing.cwiseAbs().maxCoeff() <= exact * (1e-3 + state.pressed.force_n.cwiseAbs().maxCoeff()))
      return state.pressed;
    const Eigen::VectorXd full = newton_step(row, state.pressed, missing);
    double share = 1.0;
    RowState next = state_of(row, free_mm, gap_mm, force + full);
    constexpr double least_share = 1e-6;
    const double spare = 1e-12 * std::abs(state.energy);  // Rounding.
    while (next.energy > state.energy + spare && share > least_share) {
      share *= 0.5;
      next = state_of(row, free_mm, gap_mm, force + share * full);
    }
    force += share * full;
    state = std::move(next);
  }
  // Rounding may leave a little more than asked for.
  constexpr double good_enough = 1e-7;
  if ((state.pressed.force_n - force).cwiseAbs().maxCoeff() <=
      good_enough * (1e-3 + state.pressed.force_n.cwiseAbs().maxCoeff()))
    return state.pressed;
  throw std::runtime_error("the contact between reed and mouthpiece was not found");
}

Eigen::MatrixXd row_interpolation(Eigen::Index places, Eigen::Index between) {
  Eigen::MatrixXd weights = Eigen::MatrixXd::Zero(places * between, places);
  const Eigen::Index reach = std::min<Eigen::Index>(4, places);
  for (Eigen::Index q = 0; q < weights.rows(); ++q) {
    const double at = (static_cast<double>(q) + 0.5) / static_cast<double>(between) - 0.5;
    const Eigen::Index first =
        std::clamp<Eigen::Index>(static_cast<Eigen::Index>(std::floor(at)) - 1, 0, places - reach);
    for (Eigen::Index i = first; i < first + reach; ++i) {
      double weight = 1.0;
      for (Eigen::Index j = first; j < first + reach; ++j)
        if (j != i) weight *= (at - static_cast<double>(j)) / static_cast<double>(i - j);
      weights(q, i) = weight;
    }
  }
  return weights;
}

}  // namespace canewise
