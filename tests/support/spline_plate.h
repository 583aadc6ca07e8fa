#pragma once

#include <Eigen/Sparse>
#include <array>
#include <cmath>
#include <functional>
#include <stdexcept>
#include <vector>

#include "scanproc/mechanics/cane.h"

namespace canewise::test {

/// A reed as an orthotropic Kirchhoff plate, solved in another way than the product's: bicubic B-splines on a regular
/// net, the outline cut out of it by quadrature, modulus integrated through the thickness. Newtons, millimetres.
struct SplineReed {
  std::function<double(double x_mm, double y_mm)> thickness_mm;
  std::function<bool(double x_mm, double y_mm)> inside;
  std::function<double(double x_mm, double y_mm)> bark_mm;
  std::function<double(double x_mm)> half_width_mm;
  double support_mm = 32.0;  ///< Held up along this line...
  double clamp_mm = 38.0;    ///< ...and clamped from here on.
  double left_right = 0.0;   ///< Moduli of the right half over those of the left, less 1.
  Cane cane;
};

class SplinePlate {
 public:
  explicit SplinePlate(const SplineReed& reed) : last_(reed.clamp_mm) {
    const auto pieces_x = static_cast<int>(std::lround((reed.clamp_mm + 1.0) / kNet_mm));
    for (int k = -3; k <= pieces_x; ++k) knots_x_.push_back(reed.clamp_mm - kNet_mm * (pieces_x - k));
    for (int k = 0; k < 3; ++k) knots_x_.push_back(reed.clamp_mm);
    constexpr int pieces_y = 14;
    for (int k = -3; k <= pieces_y + 3; ++k) knots_y_.push_back(kNet_mm * (k - 0.5 * pieces_y));
    // The last two across the clamp are the ones with a deflection or a slope there.
    count_x_ = static_cast<int>(knots_x_.size()) - 4 - 2;
    count_y_ = static_cast<int>(knots_y_.size()) - 4;
    assemble(reed);
  }

  /// A newton over the mean deflection of the patch that it is spread over, with nothing under the vamp.
  [[nodiscard]] double stiffness(double x_mm, double y_mm, double length_mm, double width_mm) const {
    const Eigen::VectorXd load = patch(x_mm, y_mm, length_mm, width_mm);
    return 1.0 / load.dot(solve(load).col(0));
  }
  /// What a load does: coefficients of the net, whose product with a patch or a point is its deflection.
  [[nodiscard]] Eigen::MatrixXd solve(const Eigen::MatrixXd& loads) const { return solver_.solve(loads); }
  /// 1 N at a place.
  [[nodiscard]] Eigen::VectorXd point(double x_mm, double y_mm) const {
    Eigen::VectorXd load = Eigen::VectorXd::Zero(count_x_ * count_y_);
    add(load, x_mm, y_mm);
    return load;
  }
  /// 1 N spread evenly over a rectangle, as far as the reed reaches.
  [[nodiscard]] Eigen::VectorXd patch(double x_mm, double y_mm, double length_mm, double width_mm) const {
    Eigen::VectorXd load = Eigen::VectorXd::Zero(count_x_ * count_y_);
    constexpr int steps = 24;
    double total = 0.0;
    for (int i = 0; i < steps; ++i) {
      for (int j = 0; j < steps; ++j) {
        const double x = x_mm + length_mm * ((i + 0.5) / steps - 0.5), y = y_mm + width_mm * ((j + 0.5) / steps - 0.5);
        if (!inside_(x, y)) continue;
        total += 1.0;
        add(load, x, y);
      }
    }
    return load / total;
  }

 private:
  /// Four cubic B-splines that are not nought at u, with two derivatives; `first` is the first one's number.
  struct Basis {
    int first = 0;
    std::array<double, 4> value{}, slope{}, curvature{};
  };
  void add(Eigen::VectorXd& load, double x_mm, double y_mm) const {
    const Basis bx = basis(knots_x_, x_mm), by = basis(knots_y_, y_mm);
    for (int a = 0; a < 4; ++a)
      for (int b = 0; b < 4; ++b)
        if (bx.first + a < count_x_) load((bx.first + a) * count_y_ + by.first + b) += bx.value.at(a) * by.value.at(b);
  }
  static Basis basis(const std::vector<double>& knots, double u) {
    int span = 3;
    const auto last = static_cast<int>(knots.size()) - 5;
    while (span < last && u >= knots[static_cast<std::size_t>(span) + 1]) ++span;
    // Cox and de Boor, degree by degree; slopes from the degree below.
    const auto t = [&](int k) { return knots[static_cast<std::size_t>(k)]; };
    std::array<std::array<double, 5>, 4> n{};  // n[p][k]: spline span - 3 + k of degree p.
    n[0][3] = 1.0;
    const auto ratio = [](double a, double b) { return b != 0.0 ? a / b : 0.0; };
    for (int p = 1; p <= 3; ++p)
      for (int k = 3 - p; k <= 3; ++k) {
        const int i = span - 3 + k;
        n.at(p).at(k) = ratio(u - t(i), t(i + p) - t(i)) * n.at(p - 1).at(k) +
                        ratio(t(i + p + 1) - u, t(i + p + 1) - t(i + 1)) * n.at(p - 1).at(k + 1);
      }
    Basis b;
    b.first = span - 3;
    const auto derivative = [&](int p, int k, const auto& lower) {
      const int i = span - 3 + k;
      return p * (ratio(lower(k), t(i + p) - t(i)) - ratio(lower(k + 1), t(i + p + 1) - t(i + 1)));
    };
    for (int k = 0; k < 4; ++k) {
      b.value.at(k) = n[3].at(k);
      b.slope.at(k) = derivative(3, k, [&](int q) { return n[2].at(q); });
      b.curvature.at(k) = derivative(
          3, k, [&](int q) { return q > 4 ? 0.0 : derivative(2, q, [&](int r) { return r > 4 ? 0.0 : n[1].at(r); }); });
    }
    return b;
  }

  void assemble(const SplineReed& reed) {
    inside_ = reed.inside;
    std::vector<Eigen::Triplet<double>> entries;
    const Eigen::Matrix3d q = plane_stress_stiffness(reed.cane);
    constexpr double step = 0.125;
    const auto size = count_x_ * count_y_;
    Eigen::SparseMatrix<double> stiffness(size, size);
    // Within a cell of the net the same sixteen splines live.
    for (double cell_x = knots_x_.front(); cell_x < reed.clamp_mm; cell_x += kNet_mm) {
      for (double cell_y = -kAcross_mm; cell_y < kAcross_mm; cell_y += kNet_mm) {
        Eigen::Matrix<double, 16, 16> sum = Eigen::Matrix<double, 16, 16>::Zero();
        for (double x = cell_x + 0.5 * step; x < cell_x + kNet_mm; x += step) {
          if (x <= 0.0) continue;
          const Basis bx = basis(knots_x_, x);
          for (double y = cell_y + 0.5 * step; y < cell_y + kNet_mm; y += step) {
            if (!reed.inside(x, y)) continue;
            const Basis by = basis(knots_y_, y);
            Eigen::Matrix<double, 3, 16> bend;
            for (int a = 0; a < 4; ++a)
              for (int b = 0; b < 4; ++b)
                bend.col(4 * a + b) << bx.curvature.at(a) * by.value.at(b), bx.value.at(a) * by.curvature.at(b),
                    2.0 * bx.slope.at(a) * by.slope.at(b);
            sum.noalias() += bend.transpose() * (step * step * rigidity(reed, x, y) * q) * bend;
          }
        }
        const int first_x = basis(knots_x_, cell_x + 0.5 * kNet_mm).first,
                  first_y = basis(knots_y_, cell_y + 0.5 * kNet_mm).first;
        for (int i = 0; i < 16; ++i)
          for (int j = 0; j < 16; ++j)
            if (first_x + i / 4 < count_x_ && first_x + j / 4 < count_x_)
              entries.emplace_back((first_x + i / 4) * count_y_ + first_y + i % 4,
                                   (first_x + j / 4) * count_y_ + first_y + j % 4, sum(i, j));
      }
    }
    // The table's edge, a stiff line; and next to nothing where a spline has no reed under it.
    const Basis bx = basis(knots_x_, reed.support_mm);
    constexpr double stiff = 1e6, nothing = 1e-9;
    const double half = reed.half_width_mm(reed.support_mm);
    for (double y = -half + 0.5 * step; y < half; y += step) {
      const Basis by = basis(knots_y_, y);
      for (int i = 0; i < 16; ++i)
        for (int j = 0; j < 16; ++j)
          entries.emplace_back(
              (bx.first + i / 4) * count_y_ + by.first + i % 4, (bx.first + j / 4) * count_y_ + by.first + j % 4,
              stiff * step * bx.value.at(i / 4) * by.value.at(i % 4) * bx.value.at(j / 4) * by.value.at(j % 4));
    }
    for (int k = 0; k < size; ++k) entries.emplace_back(k, k, nothing);
    stiffness.setFromTriplets(entries.begin(), entries.end());
    solver_.compute(stiffness);
    if (solver_.info() != Eigen::Success) throw std::runtime_error("the spline plate is not held");
  }

  /// Integral of the modulus' factor times the square of the distance from the neutral sheet.
  static double rigidity(const SplineReed& reed, double x, double y) {
    constexpr std::array<double, 3> place{-0.7745966692414834, 0.0, 0.7745966692414834};
    constexpr std::array<double, 3> weight{5.0 / 9.0, 8.0 / 9.0, 5.0 / 9.0};
    const double h = reed.thickness_mm(x, y), bark = std::max(reed.bark_mm(x, y), h);
    double m0 = 0.0, m1 = 0.0, m2 = 0.0;
    for (std::size_t k = 0; k < 3; ++k) {
      const double z = 0.5 * h * (1.0 + place.at(k));
      const double f = 0.5 * h * weight.at(k) * std::exp(-reed.cane.gradient_per_mm * (bark - z - kGradientDepth_mm));
      m0 += f;
      m1 += f * z;
      m2 += f * z * z;
    }
    const double side = std::clamp(y / (0.25 * reed.half_width_mm(x)), -1.0, 1.0);
    return (m2 - m1 * m1 / m0) * (1.0 + 0.5 * reed.left_right * side);
  }

  static constexpr double kNet_mm = 1.0, kAcross_mm = 7.0;  ///< No reed that is judged is wider.
  double last_;
  int count_x_ = 0, count_y_ = 0;
  std::vector<double> knots_x_, knots_y_;
  std::function<bool(double, double)> inside_;
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver_;
};

}  // namespace canewise::test
