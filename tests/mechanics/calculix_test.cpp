// A whole reed as a thin plate and as a solid of bricks in CalculiX. CANEWISE_FINE=1 in the environment takes a finer
// solid (12 s in place of 2 s), to see that what is left comes from the plate and not from the bricks.
#include "tests/support/calculix.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "fixtures/reed.h"
#include "scanproc/mechanics/plate.h"

namespace canewise {
namespace {

constexpr double kClamp_mm = 34.0;

Cane even_cane() {
  Cane cane;
  cane.gradient_per_mm = 0.0;
  return cane;
}

/// Bricks between a flat underside and the top: along, across and through. Seen from above every brick is a straight
/// quadrilateral, smaller towards the tip and the sides.
class Solid {
 public:
  Solid(const fixtures::Reed& reed, int along, int across, int through)
      : along_(along), across_(across), through_(through) {
    number_.assign(static_cast<std::size_t>((2 * along + 1) * (2 * across + 1) * (2 * through + 1)), -1);
    std::vector<Eigen::Vector3d> nodes;
    for (int i = 0; i <= 2 * along; ++i) {
      for (int j = 0; j <= 2 * across; ++j) {
        const Eigen::Vector2d at = place(reed, i, j);
        for (int k = 0; k <= 2 * through; ++k) {
          if (i % 2 + j % 2 + k % 2 > 1) continue;
          number(i, j, k) = static_cast<int>(nodes.size());
          nodes.emplace_back(at.x(), at.y(), reed.thickness_mm(at.x(), at.y()) * k / (2.0 * through));
          if (i == 2 * along) model_.held.push_back(number(i, j, k));
        }
        if (i == 0 && j % 2 == 0) tip_mm_.push_back(at);
      }
    }
    model_.nodes_mm.resize(3, static_cast<Eigen::Index>(nodes.size()));
    for (std::size_t n = 0; n < nodes.size(); ++n) model_.nodes_mm.col(static_cast<Eigen::Index>(n)) = nodes[n];
    for (int i = 0; i < along; ++i) {
      for (int j = 0; j < across; ++j) {
        for (int k = 0; k < through; ++k) model_.bricks.push_back(brick(2 * i, 2 * j, 2 * k));
      }
    }
    const Cane cane = even_cane();
    // What a sheet does not tell: radially as across, sheared along the fibre alike in both planes; across the fibre
    // cane shears easily, here a tenth of that. In a thin reed none of these matters much.
    model_.elastic_mpa = {cane.e_l_mpa, cane.e_t_mpa,  cane.e_t_mpa,  cane.nu_lt,         cane.nu_lt,
                          0.3,          cane.g_lt_mpa, cane.g_lt_mpa, 0.1 * cane.g_lt_mpa};
    model_.density_kg_per_m3 = cane.density_kg_per_m3;
  }

  [[nodiscard]] test::CalculixModel& model() { return model_; }

  /// Counter-clockwise from above: what the plate has to fill.
  [[nodiscard]] std::vector<Eigen::Vector2d> outline_mm(const fixtures::Reed& reed) const {
    std::vector<Eigen::Vector2d> outline(tip_mm_.rbegin(), tip_mm_.rend());
    outline.emplace_back(kClamp_mm, -reed.half_width_mm(kClamp_mm));
    outline.emplace_back(kClamp_mm, reed.half_width_mm(kClamp_mm));
    return outline;
  }

  /// Forces on the nodes of the top that do the same work as these.
  [[nodiscard]] Eigen::VectorXd load_of(const PointLoads& loads) const {
    Eigen::VectorXd load = Eigen::VectorXd::Zero(model_.nodes_mm.cols());
    for (Eigen::Index p = 0; p < loads.points_mm.cols(); ++p) spread(loads.points_mm.col(p), loads.weights(p), load);
    return load;
  }

 private:
  [[nodiscard]] int& number(int i, int j, int k) {
    return number_.at(static_cast<std::size_t>((i * (2 * across_ + 1) + j) * (2 * through_ + 1) + k));
  }
  [[nodiscard]] int number(int i, int j, int k) const {
    return number_.at(static_cast<std::size_t>((i * (2 * across_ + 1) + j) * (2 * through_ + 1) + k));
  }

  /// Seen from above. Middles of sides lie halfway.
  [[nodiscard]] Eigen::Vector2d place(const fixtures::Reed& reed, int i, int j) const {
    if (i % 2 == 1) return 0.5 * (place(reed, i - 1, j) + place(reed, i + 1, j));
    if (j % 2 == 1) return 0.5 * (place(reed, i, j - 1) + place(reed, i, j + 1));
    const double u = static_cast<double>(i) / (2 * along_), side = static_cast<double>(j) / across_ - 1.0;
    const double e = 0.5 * side + 0.5 * std::sin(0.5 * std::numbers::pi * side);
    const double tip = reed.tip_edge_mm(0.5 * e * reed.shape().tip_width_mm);
    const double x = tip + (kClamp_mm - tip) * u * (0.5 + 0.5 * u);
    return {x, e * reed.half_width_mm(x)};
  }

  /// CalculiX's order: corners below and above, then middles below, above, and of the uprights.
  [[nodiscard]] std::array<int, 20> brick(int i, int j, int k) const {
    constexpr std::array<std::array<int, 3>, 20> places{
        {{0, 0, 0}, {2, 0, 0}, {2, 2, 0}, {0, 2, 0}, {0, 0, 2}, {2, 0, 2}, {2, 2, 2}, {0, 2, 2}, {1, 0, 0}, {2, 1, 0},
         {1, 2, 0}, {0, 1, 0}, {1, 0, 2}, {2, 1, 2}, {1, 2, 2}, {0, 1, 2}, {0, 0, 1}, {2, 0, 1}, {2, 2, 1}, {0, 2, 1}}};
    std::array<int, 20> nodes{};
    for (std::size_t n = 0; n < 20; ++n)
      nodes.at(n) = number(i + places.at(n)[0], j + places.at(n)[1], k + places.at(n)[2]);
    return nodes;
  }

  /// One force on the top face that holds its place, by the face's eight shape functions.
  void spread(const Eigen::Vector2d& at, double newtons, Eigen::VectorXd& load) const {
    constexpr std::array<std::array<int, 2>, 8> places{
        {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}, {0, -1}, {1, 0}, {0, 1}, {-1, 0}}};
    for (int i = 1; i < 2 * along_; i += 2) {
      for (int j = 1; j < 2 * across_; j += 2) {
        std::array<int, 8> face{};
        for (std::size_t n = 0; n < 8; ++n) face.at(n) = number(i + places.at(n)[0], j + places.at(n)[1], 2 * through_);
        // Seen from above the face is bilinear: Newton's method.
        Eigen::Vector2d local = Eigen::Vector2d::Zero();
        for (int step = 0; step < 20; ++step) {
          Eigen::Vector2d miss = at;
          Eigen::Matrix2d slope = Eigen::Matrix2d::Zero();
          for (std::size_t n = 0; n < 4; ++n) {
            const double a = places.at(n)[0], b = places.at(n)[1];
            const Eigen::Vector2d corner = model_.nodes_mm.col(face.at(n)).head<2>();
            miss -= 0.25 * (1.0 + a * local.x()) * (1.0 + b * local.y()) * corner;
            slope.col(0) += 0.25 * a * (1.0 + b * local.y()) * corner;
            slope.col(1) += 0.25 * b * (1.0 + a * local.x()) * corner;
          }
          const double determinant = slope(0, 0) * slope(1, 1) - slope(0, 1) * slope(1, 0);
          local += Eigen::Vector2d(slope(1, 1) * miss.x() - slope(0, 1) * miss.y(),
                                   slope(0, 0) * miss.y() - slope(1, 0) * miss.x()) /
                   determinant;
        }
        if (!(local.cwiseAbs().maxCoeff() <= 1.0 + 1e-9)) continue;
        for (std::size_t n = 0; n < 8; ++n) {
          const double a = places.at(n)[0], b = places.at(n)[1], s = local.x(), t = local.y();
          const double shape = n < 4    ? 0.25 * (1.0 + a * s) * (1.0 + b * t) * (a * s + b * t - 1.0)
                               : a == 0 ? 0.5 * (1.0 - s * s) * (1.0 + b * t)
                                        : 0.5 * (1.0 - t * t) * (1.0 + a * s);
          load(face.at(n)) += newtons * shape;
        }
        return;
      }
    }
    throw std::logic_error("the load lies beside the reed");
  }

  int along_, across_, through_;
  std::vector<int> number_;
  std::vector<Eigen::Vector2d> tip_mm_;
  test::CalculixModel model_;
};

/// One newton spread evenly over 2 mm by 2 mm about a place.
PointLoads patch(const Eigen::Vector2d& centre) {
  constexpr int count = 20;
  PointLoads loads{Eigen::Matrix2Xd(2, count * count), Eigen::VectorXd::Constant(count * count, 1.0 / (count * count))};
  for (int i = 0; i < count; ++i) {
    for (int j = 0; j < count; ++j)
      loads.points_mm.col(i * count + j) =
          centre + 2.0 * Eigen::Vector2d((i + 0.5) / count - 0.5, (j + 0.5) / count - 0.5);
  }
  return loads;
}

Plate plate_of(const fixtures::Reed& reed, const Solid& solid) {
  PlateModel model;
  model.mesh = mesh_plate({solid.outline_mm(reed), {}}, 0.5);
  model.cane = even_cane();
  const Eigen::Matrix2Xd points = model.mesh.thickness_points_mm();
  model.thickness_mm.resize(points.cols());
  for (Eigen::Index p = 0; p < points.cols(); ++p)
    model.thickness_mm(p) = reed.thickness_mm(points(0, p), points(1, p));
  for (Eigen::Index n = 0; n < model.mesh.nodes(); ++n)
    model.fixed.insert(model.fixed.end(), 3, model.mesh.nodes_mm(0, n) > kClamp_mm - 1e-9 ? 1 : 0);
  return Plate(std::move(model));
}

/// Bricks enough for 0.2 % of stiffness and 0.5 % of frequency; finer on demand.
Solid solid_of(const fixtures::Reed& reed) {
  const bool fine = std::getenv("CANEWISE_FINE") != nullptr;
  return fine ? Solid(reed, 64, 24, 2) : Solid(reed, 28, 12, 2);
}

TEST(Calculix, AReedAsAPlateBendsAndRingsAsTheSolid) {
  const fixtures::Reed reed{fixtures::ReedShape{}};
  Solid solid = solid_of(reed);
  const std::vector<PointLoads> patches{patch({5.0, 0.0}), patch({5.0, 0.6 * reed.half_width_mm(5.0)})};
  for (const PointLoads& loads : patches) solid.model().upward_newtons.push_back(solid.load_of(loads));
  constexpr int modes = 4;
  solid.model().mode_count = modes;
  const test::CalculixResult expected = test::run_calculix(solid.model());
  const Plate plate = plate_of(reed, solid);

  for (std::size_t i = 0; i < patches.size(); ++i) {
    const Eigen::VectorXd load = plate.load_of(patches[i]);
    const double plate_mm = load.dot(plate.solve(load).col(0));
    const double solid_mm = solid.model().upward_newtons[i].dot(expected.upward_mm[i]);
    EXPECT_NEAR(solid.model().upward_newtons[i].sum(), 1.0, 1e-12);
    EXPECT_NEAR(plate_mm / solid_mm, 1.0, 0.01) << "patch " << i;
  }
  // Thin-plate theory leaves out shear through the thickness: where the reed twists and bends across, at 3 % of the
  // frequency, the plate is too stiff.
  const Eigen::VectorXd plate_hz = plate.modes(modes).frequency_hz;
  for (Eigen::Index m = 0; m < modes; ++m)
    EXPECT_NEAR(plate_hz(m) / expected.frequency_hz(m), 1.0, m == 0 ? 0.01 : 0.03) << "mode " << m;
}

TEST(Calculix, AHeavyRailMakesAPlateAsUnevenAsTheSolid) {
  fixtures::ReedFaults faults;
  faults.heavy_rail_um = 250.0;
  const fixtures::Reed reed{fixtures::ReedShape{}, faults};
  Solid solid = solid_of(reed);
  const double out = 0.6 * reed.half_width_mm(8.0);
  const PointLoads left = patch({8.0, -out}), right = patch({8.0, out});
  solid.model().upward_newtons = {solid.load_of(left), solid.load_of(right)};
  const test::CalculixResult expected = test::run_calculix(solid.model());
  const Plate plate = plate_of(reed, solid);
  const auto plate_mm = [&](const PointLoads& loads) {
    const Eigen::VectorXd load = plate.load_of(loads);
    return load.dot(plate.solve(load).col(0));
  };
  const double plate_ratio = plate_mm(left) / plate_mm(right);
  const double solid_ratio = solid.model().upward_newtons[0].dot(expected.upward_mm[0]) /
                             solid.model().upward_newtons[1].dot(expected.upward_mm[1]);
  EXPECT_GT(solid_ratio, 1.08);  // The right is the stiffer.
  EXPECT_NEAR(plate_ratio / solid_ratio, 1.0, 0.002);
}

// A bend test computes as if deflections were small. A reed that is bent across and along at once is stretched besides;
// with the weights that it takes, that is little.
TEST(Calculix, AHungWeightBendsAReedAsSmallDeflectionsSay) {
  const fixtures::Reed reed{fixtures::ReedShape{}};
  Solid solid = solid_of(reed);
  const double rim = reed.half_width_mm(5.0) - 1.0;
  const auto hung = [&](double left_n, double right_n) {
    Eigen::VectorXd load = -left_n * solid.load_of(patch({5.0, -rim}));
    return Eigen::VectorXd(load - right_n * solid.load_of(patch({5.0, rim})));
  };
  solid.model().upward_newtons = {hung(0.49, 0.49), hung(0.98, 0.0), hung(0.49, 0.0)};
  const test::CalculixResult small = test::run_calculix(solid.model());
  solid.model().large_deflections = true;
  const test::CalculixResult large = test::run_calculix(solid.model());
  for (std::size_t k = 0; k < 3; ++k) {
    double squares = 0.0, differences = 0.0;
    for (Eigen::Index n = 0; n < solid.model().nodes_mm.cols(); ++n) {
      const double x = solid.model().nodes_mm(0, n), a = small.upward_mm[k](n), b = large.upward_mm[k](n);
      if (x < 7.0 || x > 25.0) continue;
      squares += a * a;
      differences += (a - b) * (a - b);
    }
    EXPECT_LT(std::sqrt(differences / squares), 0.005) << k;
    EXPECT_GT(std::sqrt(differences / squares), 0.0005) << "else both are the same computation";
  }
}

}  // namespace
}  // namespace canewise
