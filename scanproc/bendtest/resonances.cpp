#include "scanproc/bendtest/resonances.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "scanproc/core/budget.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

using Index = Eigen::Index;
constexpr double kTurn = 2.0 * std::numbers::pi;

/// Second-order high-pass (bilinear transform of Butterworth's), twice: hum and its harmonics go. What it adds decays
/// within its own period and is gone before a fit begins.
Eigen::VectorXd without_hum(Eigen::VectorXd x, double rate_hz, double corner_hz) {
  const double k = std::tan(std::numbers::pi * corner_hz / rate_hz),
               norm = 1.0 / (1.0 + std::numbers::sqrt2 * k + k * k);
  const double b0 = norm, b1 = -2.0 * norm, b2 = norm;
  const double a1 = 2.0 * (k * k - 1.0) * norm, a2 = (1.0 - std::numbers::sqrt2 * k + k * k) * norm;
  for (int pass = 0; pass < 2; ++pass) {
    double x1 = 0.0, x2 = 0.0, y1 = 0.0, y2 = 0.0;
    for (Index n = 0; n < x.size(); ++n) {
      const double y = b0 * x(n) + b1 * x1 + b2 * x2 - a1 * y1 - a2 * y2;
      x2 = x1, x1 = x(n), y2 = y1, y1 = y;
      x(n) = y;
    }
  }
  return x;
}

/// Loudness in steps of a millisecond.
std::vector<double> loudness(const Eigen::VectorXd& x, Index step) {
  std::vector<double> loud;
  for (Index n = 0; n + step <= x.size(); n += step)
    loud.push_back(std::sqrt(x.segment(n, step).squaredNorm() / static_cast<double>(step)));
  return loud;
}

struct Tap {
  Index first = 0, count = 0;
  double noise = 0.0;
};

/// Loud beginnings well above what lies between them.
std::vector<Tap> taps_of(const Eigen::VectorXd& raw, const Eigen::VectorXd& x, double rate_hz) {
  const Index step = static_cast<Index>(1e-3 * rate_hz);
  const std::vector<double> loud = loudness(x, step);
  std::vector<Tap> taps;
  if (loud.size() < 50) return taps;
  // Quiet: the quieter fifth of all.
  std::vector<double> sorted = loud;
  std::nth_element(sorted.begin(), sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 5), sorted.end());
  const double quiet = sorted[sorted.size() / 5], loudest = *std::max_element(loud.begin(), loud.end());
  constexpr double above_quiet = 8.0, of_loudest = 0.03, clipped = 0.985;
  const double enough = std::max(above_quiet * quiet, of_loudest * loudest), top = raw.cwiseAbs().maxCoeff();
  constexpr std::size_t apart_ms = 60, most_taps = 24, rise_ms = 4;
  for (std::size_t k = 0; k < loud.size() && taps.size() < most_taps; ++k) {
    if (loud[k] < enough) continue;
    std::size_t peak = k;
    for (std::size_t i = k; i < std::min(loud.size(), k + rise_ms); ++i)
      if (loud[i] > loud[peak]) peak = i;
    // The finger leaves after a millisecond or two; the microphone may be overdriven for longer.
    Index first = static_cast<Index>(peak) * step + 2 * step;
    for (Index n = first; n < std::min<Index>(raw.size(), first + 20 * step); ++n)
      if (top > 0.0 && std::abs(raw(n)) > clipped * top) first = n + step / 2;
    std::size_t end = peak + 3;
    while (end < loud.size() && loud[end] > 2.0 * quiet && end < peak + 45) ++end;
    const Index last = std::min<Index>(x.size(), static_cast<Index>(end) * step);
    constexpr Index fewest = 150;
    if (last - first >= fewest) taps.push_back({first, last - first, quiet});
    k = std::max(end, k + apart_ms);
  }
  return taps;
}

struct Pole {
  double frequency_hz, q, energy;
};

/// Sum of decaying sines: poles from the shift between two windows of the same data, as few as its singular values say.
std::vector<Pole> poles_of(const Eigen::VectorXd& x, double rate_hz, double noise) {
  constexpr Index longest = 700;
  const Index n = std::min(x.size(), longest), l = n / 3;
  Eigen::MatrixXd hankel(n - l, l + 1);
  for (Index i = 0; i < n - l; ++i) hankel.row(i) = x.segment(i, l + 1).transpose();
  const Eigen::MatrixXd gram = hankel.transpose() * hankel;
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(gram);
  if (eigen.info() != Eigen::Success) return {};
  // Noise alone has eigenvalues of about (sqrt(rows) + sqrt(columns))^2 times its variance.
  const double of_noise =
      square(noise * (std::sqrt(static_cast<double>(n - l)) + std::sqrt(static_cast<double>(l + 1))));
  constexpr Index most = 16;
  Index order = 0;
  while (order < most && eigen.eigenvalues()(l - order) > 1.5 * of_noise &&
         eigen.eigenvalues()(l - order) > 1e-5 * eigen.eigenvalues()(l))
    ++order;
  if (order < 2) return {};
  const Eigen::MatrixXd space = eigen.eigenvectors().rightCols(order);
  const Eigen::MatrixXd shift = space.topRows(l).colPivHouseholderQr().solve(space.bottomRows(l));
  const Eigen::VectorXcd roots = Eigen::EigenSolver<Eigen::MatrixXd>(shift, false).eigenvalues();
  // How loud each is: least squares on the data.
  Eigen::MatrixXcd powers(n, order);
  for (Index k = 0; k < order; ++k) {
    std::complex<double> power = 1.0;
    for (Index i = 0; i < n; ++i) powers(i, k) = power, power *= roots(k);
  }
  const Eigen::VectorXcd amplitude = powers.colPivHouseholderQr().solve(x.head(n).cast<std::complex<double>>());
  std::vector<Pole> poles;
  for (Index k = 0; k < order; ++k) {
    const double turn = std::arg(roots(k)), size = std::abs(roots(k));
    if (!(turn > 0.0) || !(size < 1.0) || !(size > 0.5)) continue;
    const double decay = -std::log(size), frequency = turn * rate_hz / kTurn;
    poles.push_back({frequency, 0.5 * turn / decay, powers.col(k).squaredNorm() * std::norm(amplitude(k))});
  }
  return poles;
}

}  // namespace

HeardTaps find_resonances(const Recording& recording, const ResonanceOptions& options) {
  HeardTaps heard;
  if (recording.samples.size() < static_cast<Index>(0.05 * recording.rate_hz)) return heard;
  const Eigen::VectorXd x = without_hum(recording.samples, recording.rate_hz, 0.5 * options.lowest_hz);
  struct Of {
    Pole pole;
    int tap;
    double share;
  };
  std::vector<Of> all;
  for (const Tap& tap : taps_of(recording.samples, x, recording.rate_hz)) {
    const std::vector<Pole> poles = poles_of(x.segment(tap.first, tap.count), recording.rate_hz, tap.noise);
    double energy = 0.0;
    for (const Pole& pole : poles) energy += pole.energy;
    for (const Pole& pole : poles) {
      constexpr double least_q = 4.0, most_q = 400.0, least_share = 0.003;
      if (pole.frequency_hz < options.lowest_hz || pole.frequency_hz > options.highest_hz || pole.q < least_q ||
          pole.q > most_q || pole.energy < least_share * energy)
        continue;
      all.push_back({pole, heard.taps, pole.energy / energy});
    }
    ++heard.taps;
  }
  std::sort(all.begin(), all.end(), [](const Of& a, const Of& b) { return a.pole.frequency_hz < b.pole.frequency_hz; });
  for (std::size_t from = 0; from < all.size();) {
    std::size_t to = from + 1;
    constexpr double alike_rel = 0.012;  // From one to the next.
    while (to < all.size() && all[to].pole.frequency_hz < (1.0 + alike_rel) * all[to - 1].pole.frequency_hz) ++to;
    // The loudest of every tap.
    std::vector<Of> best;
    for (std::size_t k = from; k < to; ++k) {
      const auto same = std::find_if(best.begin(), best.end(), [&](const Of& b) { return b.tap == all[k].tap; });
      if (same == best.end()) {
        best.push_back(all[k]);
      } else if (all[k].pole.energy > same->pole.energy) {
        *same = all[k];
      }
    }
    from = to;
    const auto count = static_cast<double>(best.size());
    if (best.size() < 2 || 2.0 * count < static_cast<double>(heard.taps)) continue;
    std::vector<double> frequencies, inverse_q, shares;
    for (const Of& of : best) {
      frequencies.push_back(of.pole.frequency_hz);
      inverse_q.push_back(1.0 / of.pole.q);
      shares.push_back(of.share);
    }
    Resonance r;
    r.taps = static_cast<int>(best.size());
    r.frequency_hz = median(frequencies);
    r.q = 1.0 / median(inverse_q);
    r.share = median(shares);
    const double widening = students_over_normal(count - 1.0);
    constexpr double least_rel = 3e-4;
    r.u_frequency_hz =
        std::hypot(least_rel * r.frequency_hz, widening * mad_sigma(frequencies, r.frequency_hz) / std::sqrt(count));
    r.u_q = r.q * std::hypot(0.02, widening * r.q * mad_sigma(inverse_q, 1.0 / r.q) / std::sqrt(count));
    heard.resonances.push_back(r);
  }
  return heard;
}

}  // namespace canewise
