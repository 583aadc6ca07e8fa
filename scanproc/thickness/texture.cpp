#include "scanproc/thickness/texture.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

std::vector<double> kernel_of(double step_mm, double nesting_mm) {
  const auto reach = static_cast<std::ptrdiff_t>(std::ceil(nesting_mm / step_mm));
  std::vector<double> kernel;
  for (std::ptrdiff_t k = -reach; k <= reach; ++k) {
    kernel.push_back(step_mm * gaussian_weight(static_cast<double>(k) * step_mm, nesting_mm));
  }
  return kernel;
}

Eigen::ArrayXXd along_rows(const Eigen::ArrayXXd& z, const std::vector<double>& kernel) {
  const auto reach = static_cast<Eigen::Index>(kernel.size() / 2);
  Eigen::ArrayXXd out = Eigen::ArrayXXd::Zero(z.rows(), z.cols());
  for (Eigen::Index r = 0; r < z.rows(); ++r) {
    for (Eigen::Index k = std::max(-reach, -r); k <= std::min(reach, z.rows() - 1 - r); ++k) {
      out.row(r) += kernel[static_cast<std::size_t>(k + reach)] * z.row(r + k);
    }
  }
  return out;
}

}  // namespace

double gaussian_weight(double x_mm, double nesting_mm) {
  const double width = kGaussianAlpha * nesting_mm;
  return std::exp(-std::numbers::pi * square(x_mm / width)) / width;
}

double gaussian_transmission(double wavelength_mm, double nesting_mm) {
  return std::exp(-std::numbers::pi * square(kGaussianAlpha * nesting_mm / wavelength_mm));
}

Eigen::ArrayXXd gaussian_filter(const Eigen::ArrayXXd& z, double step_x_mm, double step_y_mm, double nesting_mm) {
  const auto along = kernel_of(step_x_mm, nesting_mm), across = kernel_of(step_y_mm, nesting_mm);
  const Eigen::ArrayXXd known = z.isNaN().select(Eigen::ArrayXXd::Zero(z.rows(), z.cols()), 1.0);
  const Eigen::ArrayXXd filled = z.isNaN().select(0.0, z);
  const auto both = [&](const Eigen::ArrayXXd& field) -> Eigen::ArrayXXd {
    const Eigen::ArrayXXd once = along_rows(field, along).transpose();
    return along_rows(once, across).transpose();
  };
  const Eigen::ArrayXXd weight = both(known);
  return (weight > 1e-9).select(both(filled) / weight, std::numeric_limits<double>::quiet_NaN());
}

ArealParameters areal_parameters(const Eigen::ArrayXXd& z) {
  double n = 0, sum = 0;
  for (Eigen::Index i = 0; i < z.size(); ++i) {
    if (std::isnan(z(i))) continue;
    n += 1, sum += z(i);
  }
  ArealParameters p;
  if (n < 1) return p;
  const double mean = sum / n;
  double second = 0, third = 0, fourth = 0;
  for (Eigen::Index i = 0; i < z.size(); ++i) {
    if (std::isnan(z(i))) continue;
    const double d = z(i) - mean;
    p.sa += std::abs(d) / n;
    second += d * d / n, third += d * d * d / n, fourth += d * d * d * d / n;
    p.sp = std::max(p.sp, d);
    p.sv = std::max(p.sv, -d);
  }
  p.sq = std::sqrt(second);
  p.ssk = second > 0 ? third / (second * p.sq) : 0.0;
  p.sku = second > 0 ? fourth / square(second) : 0.0;
  p.sz = p.sp + p.sv;
  return p;
}

std::optional<Texture> measure_texture(const Aligned& aligned, const ThicknessMap& map, double x_mm, double y_mm) {
  constexpr double along_mm = 4.0, across_mm = 2.5;
  const double step = std::max(aligned.spacing_mm, 0.02);
  if (step > kNesting_mm / 5.0) return std::nullopt;  // A filter needs several points within its nesting index.
  const auto rows = static_cast<Eigen::Index>(along_mm / step), columns = static_cast<Eigen::Index>(across_mm / step);
  const double x0 = x_mm - 0.5 * static_cast<double>(rows) * step,
               y0 = y_mm - 0.5 * static_cast<double>(columns) * step;

  std::vector<Eigen::Vector3d> inside;
  for (Eigen::Index i = 0; i < aligned.points_mm.cols(); ++i) {
    const Eigen::Vector3d p = aligned.points_mm.col(i);
    const double r = (p.x() - x0) / step, c = (p.y() - y0) / step;
    if (r >= 0 && c >= 0 && r < static_cast<double>(rows) && c < static_cast<double>(columns)) inside.emplace_back(p);
  }
  if (inside.size() < 100) return std::nullopt;
  // Form: one quadratic surface; points beyond five standard deviations of the scan's noise are no texture.
  Eigen::VectorXd form = Eigen::VectorXd::Zero(6);
  const auto basis = [&](const Eigen::Vector3d& p) {
    const double u = p.x() - x_mm, v = p.y() - y_mm;
    Eigen::VectorXd b(6);
    b << 1.0, u, v, u * u, u * v, v * v;
    return b;
  };
  for (int pass = 0; pass < 2; ++pass) {
    Eigen::MatrixXd design(static_cast<Eigen::Index>(inside.size()), 6);
    Eigen::VectorXd z(design.rows());
    for (Eigen::Index i = 0; i < design.rows(); ++i) {
      design.row(i) = basis(inside[static_cast<std::size_t>(i)]).transpose();
      z(i) = inside[static_cast<std::size_t>(i)].z();
    }
    form = fit_linear(design, z).coefficients;
    const double limit = std::max(6.0 * map.point_noise_mm, 0.02);
    std::erase_if(inside, [&](const Eigen::Vector3d& p) { return std::abs(p.z() - basis(p).dot(form)) > limit; });
    if (inside.size() < 100) return std::nullopt;
  }
  Eigen::ArrayXXd sums = Eigen::ArrayXXd::Zero(rows, columns), counts = sums;
  for (const auto& p : inside) {
    const auto r = static_cast<Eigen::Index>((p.x() - x0) / step), c = static_cast<Eigen::Index>((p.y() - y0) / step);
    sums(r, c) += p.z() - basis(p).dot(form);
    counts(r, c) += 1.0;
  }
  if ((counts > 0).count() < rows * columns / 3) return std::nullopt;
  Texture texture{x_mm, y_mm, step, {}, {}};
  const Eigen::ArrayXXd s_f = (counts > 0).select(sums / counts.max(1.0), std::numeric_limits<double>::quiet_NaN());
  texture.s_f = areal_parameters(s_f);
  texture.s_l = areal_parameters(s_f - gaussian_filter(s_f, step, step, kNesting_mm));
  return texture;
}

std::vector<Texture> vamp_texture(const Aligned& aligned, const ThicknessMap& map, double vamp_length_mm) {
  std::vector<Texture> patches;
  const double x = 0.45 * vamp_length_mm;
  for (const double side : {-0.5, 0.5}) {
    if (auto patch = measure_texture(aligned, map, x, side * aligned.outline.half_width_mm(x)))
      patches.push_back(*patch);
  }
  return patches;
}

}  // namespace canewise
