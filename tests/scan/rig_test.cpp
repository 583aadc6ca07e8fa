#include "scanproc/scan/rig.h"

#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

Rig read(const std::string& text) {
  const test::TempFolder folder;
  return read_rig(folder.file("rig.toml", text));
}

TEST(Rig, WhatTheFileSaysReplacesTheDefaults) {
  const Rig rig = read("name = 'attic laser'\nmirrored = true\n[priors]\ntip_lift_um = 4.5\nscale_rel = 0\n");
  EXPECT_EQ(rig.name, "attic laser");
  EXPECT_TRUE(rig.mirrored);
  EXPECT_EQ(rig.priors.tip_lift_um, 4.5);
  EXPECT_EQ(rig.priors.scale_rel, 0.0);
  EXPECT_EQ(rig.priors.table_bow_um, Priors{}.table_bow_um);
}

TEST(Rig, WhatItDoesNotKnowIsRefused) {
  EXPECT_THROW(read("[priors]\ntip_lift = 4\n"), InputError);
  EXPECT_THROW(read("[priors]\ntip_lift_um = -1\n"), InputError);
  EXPECT_THROW(read("[priors]\ntip_lift_um = nan\n"), InputError);
  EXPECT_THROW(read("[priors]\ntip_lift_um = 'much'\n"), InputError);
  EXPECT_THROW(read("colour = 'red'\n"), InputError);
  EXPECT_THROW(read("name = \n"), InputError);
}

}  // namespace
}  // namespace canewise
