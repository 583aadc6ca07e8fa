// Where the sides differ, by cells, and which of them is at fault: reeds of cuts drawn anew, with a bump on one side or
// a hollow in it, which look alike in a left-right difference.
#include "scanproc/assess/faults.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <mutex>

#include "fixtures/cane_faults.h"
#include "scanproc/core/parallel.h"
#include "tests/support/scans.h"

namespace canewise {
namespace {

TEST(Faults, ReachAsFarAsTheCaneDiffersWhateverTheZones) {
  fixtures::CaneFault bump;
  bump.height_um = 40.0;
  bump.from_mm = 6.5;  // Across two zones' border, in rail and flank.
  bump.to_mm = 12.0;
  bump.rim_to_mm = 2.6;
  for (const int side : {-1, 1}) {
    bump.side = side;
    const auto m =
        test::measured(fixtures::scan_reed(fixtures::with_faults(fixtures::Reed({}, test::rough_cane(1)), {bump}),
                                           fixtures::profilometer(), test::plain_scene(1), 1));
    ASSERT_EQ(m.assessment.faults.size(), 1U);
    const Fault& fault = m.assessment.faults.front();
    EXPECT_EQ(fault.thicker, side > 0 ? Side::right : Side::left);
    EXPECT_EQ(fault.across, AcrossBand::rail);
    // A fault begins at half the tolerance, 7.5 um of 40: on its flank of 2 mm that is 1.45 mm out; half a cell more or
    // less, and what averaging over a millimetre adds.
    EXPECT_NEAR(fault.from_mm, bump.from_mm - 1.45, 0.5);
    EXPECT_NEAR(fault.to_mm, bump.to_mm + 1.45, 0.5);
    EXPECT_NEAR(fault.peak_mm, 0.040, 0.004);
    EXPECT_EQ(fault.at_fault, AtFault::thicker_side);
    EXPECT_EQ(fault.witness, FaultWitness::own_profile);
  }
}

TEST(Faults, AnEvenReedHasNone) {
  const auto m = test::measured(
      fixtures::scan_reed(fixtures::Reed({}, test::rough_cane(2)), fixtures::profilometer(), test::plain_scene(2), 2));
  EXPECT_TRUE(m.assessment.faults.empty());
}

// The common profile is all that tells a bump from a hollow on the other side.
TEST(Faults, TheOwnProfileNeverNamesTheWrongSide) {
  int said = 0, wrong = 0, thin_said = 0, all = 0;
  std::mutex lock;
  run_parts([&](std::size_t part) {
    for (std::uint64_t seed = part; seed < 80; seed += kParallelParts) {
      auto faults = fixtures::drawn_faults(seed);
      const bool thin = seed % 2 == 1;
      for (fixtures::CaneFault& fault : faults) fault.height_um *= thin ? -1.0 : 1.0;
      // Bark that lies to a side makes the sides differ behind the cut, which is no fault of either.
      fixtures::ReedShape shape = fixtures::drawn_cut(seed);
      shape.bark_crown_y_mm = 0.09 * (static_cast<double>(seed % 5) - 2.0);
      const fixtures::Reed reed = fixtures::with_faults(fixtures::Reed(shape, test::rough_cane(seed)), faults);
      const auto m =
          test::measure_drawn(reed, seed % 4 < 2 ? fixtures::profilometer() : fixtures::laser_line(), seed + 500);
      const Side faulty = faults.front().side > 0 ? Side::right : Side::left;
      for (const Fault& fault : m.assessment.faults) {
        // Seating and curl make small differences that are nobody's fault.
        if (fault.difference_mm < 0.020) continue;
        const std::scoped_lock guard(lock);
        ++all;
        if (fault.at_fault == AtFault::cannot_tell) continue;
        ++said;
        thin_said += fault.at_fault == AtFault::thinner_side;
        const Side named = fault.at_fault == AtFault::thicker_side ? fault.thicker : fault.thinner();
        wrong += named != faulty;
        EXPECT_EQ(named, faulty) << "seed " << seed << ", " << fault.from_mm << " to " << fault.to_mm;
      }
    }
  });
  std::printf("%d faults, of %d the side at fault is named, of %d as thin; %d wrongly\n", all, said, thin_said, wrong);
  EXPECT_EQ(wrong, 0);
  EXPECT_GE(said, all / 2) << "or it says nothing";
  EXPECT_GE(thin_said, said / 4);
}

TEST(Faults, APlayersTargetSaysWhichSideIsAtFaultAndABuiltInOneNeverDoes) {
  for (const double height_um : {60.0, -60.0}) {
    // As long as the reed: its own profile cannot tell.
    fixtures::CaneFault wedge;
    wedge.height_um = height_um;
    wedge.from_mm = 2.0;
    wedge.to_mm = 30.0;
    wedge.rim_to_mm = 2.2;
    const fixtures::Reed sound({}, test::rough_cane(3));
    const auto of = [&](const fixtures::Reed& reed) {
      return test::measured(fixtures::scan_reed(reed, fixtures::profilometer(), test::plain_scene(3), 3));
    };
    const auto best = of(sound);
    auto m = of(fixtures::with_faults(sound, {wedge}));
    const Target mine =
        mean_target("mine", kUsualTolerances,
                    {sample_for_target(best.map, best.aligned.outline, best.assessment.cut.vamp_length_mm.value)});
    const ZonedMap zoned{.map = m.map, .zones = m.assessment.zones, .outline = m.aligned.outline};
    auto against = compare_with_target(zoned, m.assessment.cut, mine);
    const auto worst = [&](const TargetComparison& target) {
      return find_faults(zoned, m.assessment.balance, &target).front();
    };
    EXPECT_NE(worst(against).witness, FaultWitness::target) << "not chosen";
    against.chosen_by_user = true;
    const Fault fault = worst(against);
    EXPECT_EQ(fault.witness, FaultWitness::target);
    EXPECT_EQ(fault.at_fault, height_um > 0.0 ? AtFault::thicker_side : AtFault::thinner_side);
    EXPECT_EQ(fault.thicker, height_um > 0.0 ? Side::right : Side::left);
  }
}

}  // namespace
}  // namespace canewise
