// What a bend test finds of cane that was drawn at random, on reeds, tables, seating, tips and scanners that were drawn
// too, bent by another solver than the product's.
//   canewise_bench_study [REEDS] [FIRST_SEED]    200 reeds a kind of scanner
// Columns: how many, root mean square of the error, bias, median of the stated U95, share of errors within U95. The
// modulus is that at the depth which the test names.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "tests/support/bench_scans.h"

namespace {

using namespace canewise;

struct Tally {
  double n = 0, inside = 0, sum = 0, squares = 0;
  std::vector<double> u95;
  void add(double error, double u) {
    n += 1, sum += error, squares += error * error, inside += std::abs(error) <= kCoverage95 * u;
    u95.push_back(kCoverage95 * u);
  }
  void print(const std::string& name) {
    if (n == 0) return;
    std::nth_element(u95.begin(), u95.begin() + static_cast<std::ptrdiff_t>(u95.size() / 2), u95.end());
    fmt::print("  {:<28}{:>5.0f}{:>8.2f} %{:>8.2f} %{:>8.2f} %{:>8.1f} %\n", name, n, 100.0 * std::sqrt(squares / n),
               100.0 * sum / n, 100.0 * u95[u95.size() / 2], 100.0 * inside / n);
  }
};

void study(const char* title, const fixtures::ScannerModel& scanner, const std::vector<LoadSide>& sides,
           std::uint64_t first, std::uint64_t reeds) {
  Tally modulus, across, twisting, left_right;
  std::map<std::string, int> refused;
  for (std::uint64_t seed = first; seed < first + reeds; ++seed) {
    try {
      const test::TestedBench bench(seed, scanner, sides);
      const BendTest test = bend_test(bench.inputs(), {.u_mass_rel = 0.002, .stands_over_mm = {}});
      const auto u = [&](CanePart part) {
        const auto k = static_cast<Eigen::Index>(part);
        return std::sqrt(test.cane.covariance(k, k));
      };
      const Cane& truth = bench.drawn.cane;
      const BestKnownModulus best = best_known_modulus(test.cane);
      modulus.add(std::log(best.e_l_mpa / truth.e_l_mpa) + truth.gradient_per_mm * (best.depth_mm - kGradientDepth_mm),
                  best.u_rel);
      across.add(std::log(test.cane.cane.e_t_mpa / truth.e_t_mpa), u(CanePart::e_t));
      twisting.add(std::log(test.cane.cane.g_lt_mpa / truth.g_lt_mpa), u(CanePart::g_lt));
      left_right.add(test.cane.left_right - bench.drawn.left_right, u(CanePart::left_right));
    } catch (const Error& error) {
      ++refused[error.message().id];
    }
  }
  fmt::print("{}\n", title);
  modulus.print("along the fibre");
  across.print("across");
  twisting.print("twisting");
  left_right.print("right over left");
  for (const auto& [why, count] : refused) fmt::print("  refused {}: {}\n", why, count);
  std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
  const auto reeds = static_cast<std::uint64_t>(argc > 1 ? std::atoi(argv[1]) : 200);
  const auto first = static_cast<std::uint64_t>(argc > 2 ? std::atoi(argv[2]) : 1000);
  const std::vector<LoadSide> three{LoadSide::centre, LoadSide::left, LoadSide::right};
  study("profilometer, three places", fixtures::profilometer(), three, first, reeds);
  study("laser line, three places", fixtures::laser_line(), three, first, reeds);
  study("profilometer, both rails alone", fixtures::profilometer(), {LoadSide::centre}, first, reeds);
  return 0;
}
