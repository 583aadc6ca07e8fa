#include "scanproc/mechanics/cane.h"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>

#include "scanproc/core/budget.h"

namespace canewise {
namespace {

// By hand, m = 1 - 0.3^2 450/9000 = 0.9955.
TEST(Cane, ItsPlaneStressStiffnessIsReddys) {
  const Cane cane{9000.0, 450.0, 1100.0, 0.3, 500.0, 0.1};
  const Eigen::Matrix3d q = plane_stress_stiffness(cane);
  EXPECT_NEAR(q(0, 0), 9040.6831, 1e-3);
  EXPECT_NEAR(q(1, 1), 452.03415, 1e-4);
  EXPECT_NEAR(q(0, 1), 135.61025, 1e-4);
  EXPECT_EQ(q(1, 0), q(0, 1));
  EXPECT_EQ(q(2, 2), 1100.0);
  EXPECT_EQ(q(0, 2), 0.0);
  EXPECT_EQ(q(1, 2), 0.0);
}

// What the engineering constants mean: strain for a stress along one axis alone.
TEST(Cane, APullAlongTheFibreStretchesItByItsModulusAndContractsItAcross) {
  const Cane cane{9000.0, 450.0, 1100.0, 0.3, 500.0, 0.1};
  const Eigen::Matrix3d compliance = plane_stress_stiffness(cane).inverse();
  EXPECT_NEAR(compliance(0, 0) * 9000.0, 1.0, 1e-12);
  EXPECT_NEAR(compliance(1, 0) * 9000.0, -0.3, 1e-12);
  EXPECT_NEAR(compliance(1, 1) * 450.0, 1.0, 1e-12);
  EXPECT_NEAR(compliance(2, 2) * 1100.0, 1.0, 1e-12);
}

// Models of clarinet reeds. E_L, E_T, G_LT and density: Facchinetti, Boutillon and Constantinescu, JASA 113 (2003)
// 2874; Taillard et al., Acta Acust. united Ac. 100 (2014) 555. E_L alone: Avanzini and van Walstijn, Acta Acust.
// united Ac. 90 (2004) 537.
TEST(Cane, DryCaneLiesAmongPublishedModelsAndItsSpreadHoldsThem) {
  const CaneState dry = cane_in(MoistureState::dry);
  const auto holds = [&](double published, double middle, double spread_rel) {
    EXPECT_LT(std::abs(published / middle - 1.0), kCoverage95 * spread_rel) << published;
    EXPECT_LT(spread_rel, 0.5) << "and says something still";
  };
  for (const double e_l : {5600.0, 10000.0, 14000.0}) holds(e_l, dry.cane.e_l_mpa, dry.spread.e_l_rel);
  for (const double e_t : {400.0, 480.0}) holds(e_t, dry.cane.e_t_mpa, dry.spread.e_t_rel);
  for (const double g_lt : {1100.0, 1300.0}) holds(g_lt, dry.cane.g_lt_mpa, dry.spread.g_lt_rel);
  for (const double density : {450.0, 480.0, 500.0}) holds(density, dry.cane.density_kg_per_m3, dry.spread.density_rel);
  EXPECT_EQ(dry.cane.nu_lt, 0.22) << "both sets of models";
  EXPECT_GT(dry.cane.gradient_per_mm, 0.0) << "common practice: stiffer towards the bark";
}

// A strong fall when wet: Ukshini and Dirckx, Materials 13 (2020) 4566, abstract.
TEST(Cane, WetCaneIsFarSofterAndHeavierAndLessIsKnownOfIt) {
  const CaneState dry = cane_in(MoistureState::dry), wet = cane_in(MoistureState::wet);
  for (const double share : {wet.cane.e_l_mpa / dry.cane.e_l_mpa, wet.cane.e_t_mpa / dry.cane.e_t_mpa,
                             wet.cane.g_lt_mpa / dry.cane.g_lt_mpa}) {
    EXPECT_GT(share, 0.3);
    EXPECT_LT(share, 0.8);
  }
  EXPECT_GT(wet.cane.density_kg_per_m3, 1.2 * dry.cane.density_kg_per_m3);
  EXPECT_LT(wet.cane.density_kg_per_m3, 1000.0) << "it still floats";
  for (const CanePart part : {CanePart::e_l, CanePart::e_t, CanePart::g_lt, CanePart::density})
    EXPECT_GT(spread_of(wet.spread, part), spread_of(dry.spread, part)) << static_cast<int>(part);
  EXPECT_EQ(wet.spread.left_right_rel, dry.spread.left_right_rel);
}

TEST(Cane, OfAnUnknownStateItIsDryCaneWhoseSpreadReachesTheWetOne) {
  const Cane dry = cane_in(MoistureState::dry).cane, wet = cane_in(MoistureState::wet).cane;
  const CaneState unknown = cane_in(MoistureState::unknown);
  EXPECT_EQ(unknown.cane.e_l_mpa, dry.e_l_mpa);
  EXPECT_EQ(unknown.cane.e_t_mpa, dry.e_t_mpa);
  EXPECT_EQ(unknown.cane.g_lt_mpa, dry.g_lt_mpa);
  EXPECT_EQ(unknown.cane.density_kg_per_m3, dry.density_kg_per_m3);
  EXPECT_LT(1.0 - wet.e_l_mpa / dry.e_l_mpa, kCoverage95 * unknown.spread.e_l_rel);
  EXPECT_LT(1.0 - wet.e_t_mpa / dry.e_t_mpa, kCoverage95 * unknown.spread.e_t_rel);
  EXPECT_LT(1.0 - wet.g_lt_mpa / dry.g_lt_mpa, kCoverage95 * unknown.spread.g_lt_rel);
  EXPECT_LT(wet.density_kg_per_m3 / dry.density_kg_per_m3 - 1.0, kCoverage95 * unknown.spread.density_rel);
}

TEST(Cane, EachStateSaysWhereItsValuesComeFrom) {
  EXPECT_EQ(cane_in(MoistureState::dry).source, Message{"cane.dry"});
  EXPECT_EQ(cane_in(MoistureState::wet).source, Message{"cane.wet"});
  EXPECT_EQ(cane_in(MoistureState::unknown).source, Message{"cane.taken_for_dry"});
}

TEST(Cane, EveryPartHasItsOwnSpreadAndStandsAtItsNumber) {
  const CaneSpread spread{.e_l_rel = 0.11,
                          .e_t_rel = 0.12,
                          .g_lt_rel = 0.13,
                          .density_rel = 0.14,
                          .gradient_per_mm = 0.15,
                          .left_right_rel = 0.16,
                          .between_reeds_rel = 0.17};
  EXPECT_EQ(spread_of(spread, CanePart::e_l), 0.11);
  EXPECT_EQ(spread_of(spread, CanePart::e_t), 0.12);
  EXPECT_EQ(spread_of(spread, CanePart::g_lt), 0.13);
  EXPECT_EQ(spread_of(spread, CanePart::density), 0.14);
  EXPECT_EQ(spread_of(spread, CanePart::gradient), 0.15);
  EXPECT_EQ(spread_of(spread, CanePart::left_right), 0.16);
  // PlateDerivative::by_cane is read by these numbers.
  for (std::size_t k = 0; k < kCaneParts.size(); ++k) EXPECT_EQ(static_cast<std::size_t>(kCaneParts.at(k)), k);
}

}  // namespace
}  // namespace canewise
