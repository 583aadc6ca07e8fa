#include "scanproc/datum/block_tie.h"

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <Eigen/LU>
#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

/// One face of each scan, of one axis of the block: the same face, or two opposite ones.
struct FacePair {
  std::size_t first, second;  ///< Indices of SeenBlock::faces.
  std::size_t edge;           ///< Index of the known edge along the axis.
  bool opposite;
};

/// How the second scan's block lies in the first's: its axis k is the first's axis `axis_of[k]`, turned round or not.
struct Labels {
  std::array<std::size_t, 3> axis_of;
  std::array<double, 3> sign;
  std::array<std::size_t, 3> edge_of;  ///< Of the first's axes.
};

/// Best first: the largest face of each scan pairs with all of the other's. More pairs would say nothing new.
std::vector<FacePair> pairs_of(const SeenBlock& first, const SeenBlock& second, const Labels& labels) {
  std::vector<FacePair> pairs;
  for (std::size_t axis = 0; axis < 3; ++axis) {
    std::vector<std::size_t> in_first, in_second;
    for (std::size_t i = 0; i < first.faces.size(); ++i) {
      if (static_cast<std::size_t>(first.faces[i].axis) == axis) in_first.push_back(i);
    }
    for (std::size_t i = 0; i < second.faces.size(); ++i) {
      if (labels.axis_of.at(static_cast<std::size_t>(second.faces[i].axis)) == axis) in_second.push_back(i);
    }
    const auto add = [&](std::size_t i, std::size_t k) {
      const BlockFace& a = first.faces[i];
      const BlockFace& b = second.faces[k];
      const auto other_axis = static_cast<std::size_t>(b.axis);
      const double side_a = a.normal.dot(first.axes.at(axis));
      const double side_b = labels.sign.at(other_axis) * b.normal.dot(second.axes.at(other_axis));
      pairs.push_back({i, k, labels.edge_of.at(axis), side_a * side_b < 0.0});
    };
    for (const std::size_t k : in_second) add(in_first.front(), k);
    for (std::size_t i = 1; i < in_first.size(); ++i) add(in_first[i], in_second.front());
  }
  return pairs;
}

/// A start: the axes onto each other, and the planes at their distances.
Eigen::Isometry3d first_guess(const SeenBlock& first, const SeenBlock& second, const Labels& labels,
                              const std::array<double, 3>& edges_mm) {
  Eigen::Matrix3d turn = Eigen::Matrix3d::Zero();
  for (std::size_t k = 0; k < 3; ++k)
    turn += labels.sign.at(k) * first.axes.at(labels.axis_of.at(k)) * second.axes.at(k).transpose();
  const Eigen::JacobiSVD<Eigen::Matrix3d> svd(turn, Eigen::ComputeFullU | Eigen::ComputeFullV);
  Eigen::Isometry3d motion = Eigen::Isometry3d::Identity();
  motion.linear() = svd.matrixU() * svd.matrixV().transpose();
  Eigen::Matrix3d normals;
  Eigen::Vector3d shifts;
  Eigen::Index row = 0;
  std::array<bool, 3> done{};
  for (const FacePair& pair : pairs_of(first, second, labels)) {
    const BlockFace& a = first.faces[pair.first];
    if (done.at(static_cast<std::size_t>(a.axis))) continue;
    done.at(static_cast<std::size_t>(a.axis)) = true;
    normals.row(row) = a.normal.transpose();
    shifts(row++) = (pair.opposite ? -edges_mm.at(pair.edge) : 0.0) +
                    a.normal.dot(a.middle_mm - motion.linear() * second.faces[pair.second].middle_mm);
  }
  motion.translation() = normals.inverse() * shifts;
  return motion;
}

/// The block in two scans, and which of its faces belong together.
struct PairedBlocks {
  const SeenBlock& first;
  const SeenBlock& second;
  std::vector<FacePair> pairs;
};

/// Height and two slopes of the second's faces against the first's, how they change with a small shift and turn about
/// `centre`, and their covariance.
struct Equations {
  Eigen::VectorXd residual;
  Eigen::MatrixXd slope;  ///< Rows x 6.
  Eigen::MatrixXd covariance;
};

/// Columns of the sources of error: three for each face of each scan, three for each edge (size, and parallelism along
/// two directions), one for scale.
Equations equations_of(const PairedBlocks& blocks, const KnownBlock& known, const Eigen::Isometry3d& motion,
                       const Eigen::Vector3d& centre) {
  const auto& [first, second, pairs] = blocks;
  const auto rows = static_cast<Eigen::Index>(3 * pairs.size());
  const auto of_first = static_cast<Eigen::Index>(3 * first.faces.size()),
             of_second = static_cast<Eigen::Index>(3 * second.faces.size());
  constexpr Eigen::Index of_edges = 9;
  const Eigen::Index sources = of_first + of_second + of_edges + 1;
  Eigen::MatrixXd effect = Eigen::MatrixXd::Zero(rows, sources), law = Eigen::MatrixXd::Zero(sources, sources);
  for (std::size_t i = 0; i < first.faces.size(); ++i)
    law.block<3, 3>(static_cast<Eigen::Index>(3 * i), static_cast<Eigen::Index>(3 * i)) = first.faces[i].covariance;
  for (std::size_t i = 0; i < second.faces.size(); ++i) {
    const Eigen::Index k = of_first + static_cast<Eigen::Index>(3 * i);
    law.block<3, 3>(k, k) = second.faces[i].covariance;
  }
  law(sources - 1, sources - 1) = square(known.u_scale_rel);
  Equations equations{Eigen::VectorXd(rows), Eigen::MatrixXd::Zero(rows, 6), {}};
  for (std::size_t p = 0; p < pairs.size(); ++p) {
    const FacePair& pair = pairs[p];
    const BlockFace& a = first.faces[pair.first];
    const BlockFace& b = second.faces[pair.second];
    const auto row = static_cast<Eigen::Index>(3 * p);
    const auto col_a = static_cast<Eigen::Index>(3 * pair.first),
               col_b = of_first + static_cast<Eigen::Index>(3 * pair.second),
               col_edge = of_first + of_second + static_cast<Eigen::Index>(3 * pair.edge);
    const double way = pair.opposite ? -1.0 : 1.0, edge = pair.opposite ? known.edges_mm.at(pair.edge) : 0.0;
    const Eigen::Vector3d q = motion * b.middle_mm;
    const Eigen::Vector3d normal = way * (motion.linear() * b.normal), b_u = motion.linear() * b.u,
                          b_v = motion.linear() * b.v;
    equations.residual.segment<3>(row) << a.normal.dot(q - a.middle_mm) + edge, a.u.dot(normal), a.v.dot(normal);
    equations.slope.row(row) << a.normal.transpose(), (q - centre).cross(a.normal).transpose();
    equations.slope.block<1, 3>(row + 1, 3) = a.v.transpose();
    equations.slope.block<1, 3>(row + 2, 3) = -a.u.transpose();
    effect.block<3, 3>(row, col_a) << -1.0, -a.u.dot(q - a.middle_mm), -a.v.dot(q - a.middle_mm), 0, 1, 0, 0, 0, 1;
    effect.block<3, 3>(row, col_b) << way, 0, 0, 0, -way * a.u.dot(b_u), -way * a.u.dot(b_v), 0, -way * a.v.dot(b_u),
        -way * a.v.dot(b_v);
    if (!pair.opposite) continue;
    // The block's own other axes are the directions of its parallelism.
    const auto axis = static_cast<std::size_t>(a.axis);
    const Eigen::Vector3d t_1 = first.axes.at((axis + 1) % 3), t_2 = first.axes.at((axis + 2) % 3);
    effect.block<3, 3>(row, col_edge) << 1, 0, 0, 0, a.u.dot(t_1), a.u.dot(t_2), 0, a.v.dot(t_1), a.v.dot(t_2);
    effect(row, sources - 1) = -edge;
    // An edge belongs to one axis, so this is written once or alike.
    const std::size_t edge_1 = (axis + 1) % 3, edge_2 = (axis + 2) % 3;
    law(col_edge, col_edge) = square(known.u_size_mm);
    law(col_edge + 1, col_edge + 1) = square(known.u_size_mm / std::max(1.0, first.extent_mm.at(edge_1)));
    law(col_edge + 2, col_edge + 2) = square(known.u_size_mm / std::max(1.0, first.extent_mm.at(edge_2)));
  }
  equations.covariance = effect * law * effect.transpose();
  return equations;
}

/// What a mean square of normal values of variance 1 exceeds in one case of twenty. [Wilson1931].
double one_in_twenty(double freedom) {
  constexpr double quantile = 1.645;
  const double ninth = 2.0 / (9.0 * freedom);
  return std::pow(1.0 - ninth + quantile * std::sqrt(ninth), 3.0);
}

Eigen::Isometry3d small_motion(const Eigen::Matrix<double, 6, 1>& step, const Eigen::Vector3d& centre) {
  const Eigen::Vector3d turn = step.tail<3>();
  const double angle = turn.norm();
  const Eigen::Vector3d axis = angle > 0.0 ? Eigen::Vector3d(turn / angle) : Eigen::Vector3d::UnitX();
  return Eigen::Translation3d(centre + step.head<3>()) * Eigen::AngleAxisd(angle, axis) * Eigen::Translation3d(-centre);
}

std::optional<TiedMotion> fitted(const SeenBlock& first, const SeenBlock& second, const Labels& labels,
                                 const KnownBlock& known) {
  TiedMotion tied;
  const PairedBlocks blocks{first, second, pairs_of(first, second, labels)};
  tied.first_from_second = first_guess(first, second, labels, known.edges_mm);
  Eigen::Vector3d centre = Eigen::Vector3d::Zero();
  for (const auto& face : first.faces) centre += face.middle_mm / static_cast<double>(first.faces.size());
  Eigen::Matrix<double, 6, 6> covariance;
  constexpr int steps = 5;
  for (int i = 0; i < steps; ++i) {
    const Equations e = equations_of(blocks, known, tied.first_from_second, centre);
    const Eigen::LDLT<Eigen::MatrixXd> weight(e.covariance);
    covariance = (e.slope.transpose() * weight.solve(e.slope)).inverse();
    const Eigen::Matrix<double, 6, 1> step = -covariance * (e.slope.transpose() * weight.solve(e.residual));
    if (!step.allFinite()) return std::nullopt;
    tied.first_from_second = small_motion(step, centre) * tied.first_from_second;
  }
  const Equations e = equations_of(blocks, known, tied.first_from_second, centre);
  const double freedom = static_cast<double>(e.residual.size()) - 6.0;
  const double misfit = e.residual.dot(Eigen::LDLT<Eigen::MatrixXd>(e.covariance).solve(e.residual)) / freedom;
  // Faces that lean by more than 2 degrees or lie by a millimetre where they should not are another pair of faces.
  constexpr double farthest_mm = 1.0, most_lean = 0.035;
  double squares = 0.0;
  for (Eigen::Index p = 0; p < e.residual.size(); p += 3) {
    if (std::abs(e.residual(p)) > farthest_mm || e.residual.segment<2>(p + 1).norm() > most_lean) return std::nullopt;
    const FacePair& pair = blocks.pairs[static_cast<std::size_t>(p / 3)];
    squares += square(first.faces[pair.first].sigma_mm) + square(second.faces[pair.second].sigma_mm);
  }
  const double worse = misfit > one_in_twenty(freedom) ? misfit : 1.0;
  tied.covariance = in_frame(worse * covariance, Eigen::Isometry3d(Eigen::Translation3d(centre)));
  tied.residual_mm = std::sqrt(squares / static_cast<double>(blocks.pairs.size()));
  tied.ties = blocks.pairs.size();
  tied.method = {"joining.block"};
  return tied;
}

}  // namespace

std::vector<TiedMotion> match_blocks(const SeenBlock& first, const SeenBlock& second, const KnownBlock& known) {
  std::vector<TiedMotion> motions;
  const auto hand = [](const SeenBlock& block) {
    return block.axes[0].dot(block.axes[1].cross(block.axes[2])) > 0.0 ? 1.0 : -1.0;
  };
  for (const auto& edge_of : first.edge_of) {
    for (const auto& other_edge_of : second.edge_of) {
      Labels labels{{}, {}, edge_of};
      for (std::size_t k = 0; k < 3; ++k) {
        labels.axis_of.at(k) =
            static_cast<std::size_t>(std::find(edge_of.begin(), edge_of.end(), other_edge_of.at(k)) - edge_of.begin());
      }
      const auto& a = labels.axis_of;
      const double order = (a[1] + 3 - a[0]) % 3 == 1 ? 1.0 : -1.0;  // Of the permutation: in turn, or against it.
      for (unsigned bits = 0; bits < 8; ++bits) {
        double product = 1.0;
        for (std::size_t k = 0; k < 3; ++k) {
          labels.sign.at(k) = (bits >> k & 1U) != 0U ? -1.0 : 1.0;
          product *= labels.sign.at(k);
        }
        if (product * order * hand(first) * hand(second) < 0.0) continue;  // A mirror image is no motion.
        if (auto motion = fitted(first, second, labels, known)) motions.push_back(std::move(*motion));
      }
    }
  }
  return motions;
}

}  // namespace canewise
