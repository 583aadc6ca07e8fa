#include "scanproc/rig/rig.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

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

/// A rig with every table.
Rig full_rig() {
  Rig rig;
  rig.name = "rig \"of\" the attic\n\\";
  rig.mirrored = true;
  rig.handedness_found = "2026-11-25";
  rig.calibrated_at = "2026-11-25T10:00:00Z";
  rig.priors.seating_roll_um = 1.0 / 3.0;
  rig.obtained["seating_roll_um"] = "reversal";
  rig.scale_parts["step gauge"] = 1e-4 / 3.0;
  rig.scale_parts[kGeometryPart] = 4e-4;
  rig.pads = Pads{1.4, 2.0};
  rig.carrier.sphere_diameter_mm = 8.0;
  rig.carrier.block_edges_mm = std::array<double, 3>{10, 12, 14};
  CalibratedCamera camera;
  camera.camera.width = 800, camera.camera.height = 600;
  Eigen::Matrix<double, 9, 1> p;
  p << 2400.5, 2401.25, 407.3, 295.9, -0.11, 0.06, 4e-4, -3e-4, 0.02;
  camera.camera.set_parameters(p);
  camera.covariance = (p.array() * 1e-3).square().matrix().asDiagonal();
  camera.rms_px = 0.1;
  rig.camera = camera;
  rig.laser_plane = LaserPlane{};
  rig.laser_plane->q = {1e-4, 2.0 / 3.0 * 1e-2, 1.0 / 115.0};
  rig.laser_plane->covariance = 1e-11 * Eigen::Matrix3d::Identity();
  rig.laser_plane->by_camera.setConstant(1e-7);
  rig.laser_plane->crosses_columns = false;
  rig.laser_plane->middle_mm = {0.5, -2.0, 115.0};
  rig.stage = Stage{};
  rig.stage->motion = {0.5, 1.0, -0.25};
  rig.stage->travel_per_frame_mm = 0.2;
  rig.plate_form = PlateForm{};
  rig.plate_form->heights_um = Eigen::ArrayXXd::Random(4, 7);
  rig.plate_form->heights_um(2, 3) = std::nan("");
  rig.depth = DepthCorrection{640, 480, 2, 1, {50.0, 60.0}, {1.0, 2.0, 3.0, 4.0}, 1.0, 5.0, 0.1, 0.3, 12};
  rig.height_scale = HeightScale{1.0007, 1e-4, Eigen::Vector3d(0.6, 0.0, -0.8)};
  rig.light = LightDepth{4.0, 1.0, 0.5, 1.2, Eigen::Matrix3d::Identity(), 3.0, MoistureState::dry};
  rig.smallest = SmallestDifference{9.0, 6.0, 17.0, 21.0};
  rig.checks = {{"2026-11-24T10:00:00Z", 2400.5, -1.25}, {"2026-11-25T10:00:00Z", 2401.5, 1.0 / 3.0}};
  return rig;
}

TEST(Rig, WhatIsWrittenComesBackToTheLastBit) {
  const Rig rig = full_rig(), back = read(rig_text(rig));
  EXPECT_EQ(back.name, rig.name);
  EXPECT_EQ(back.priors.seating_roll_um, rig.priors.seating_roll_um);
  EXPECT_EQ(back.scale_parts, rig.scale_parts);
  EXPECT_EQ(back.obtained, rig.obtained);
  EXPECT_EQ(back.camera->camera.parameters(), rig.camera->camera.parameters());
  EXPECT_EQ(back.camera->covariance, rig.camera->covariance);
  EXPECT_EQ(back.laser_plane->q, rig.laser_plane->q);
  EXPECT_EQ(back.laser_plane->by_camera, rig.laser_plane->by_camera);
  EXPECT_EQ(back.stage->motion, rig.stage->motion);
  EXPECT_TRUE(std::isnan(back.plate_form->heights_um(2, 3)));
  EXPECT_EQ(back.plate_form->heights_um(3, 6), rig.plate_form->heights_um(3, 6));
  EXPECT_EQ(back.depth->errors_um, rig.depth->errors_um);
  EXPECT_EQ(back.height_scale->up, rig.height_scale->up);
  EXPECT_EQ(back.checks.size(), 2U);
  EXPECT_EQ(rig_text(back), rig_text(rig)) << "nothing else was lost either";
}

TEST(Rig, EveryTableRefusesWhatItDoesNotKnowAndWhatCannotBe) {
  const std::string good = rig_text(full_rig());
  const auto with = [&](const std::string& old_text, const std::string& new_text) {
    std::string text = good;
    const auto at = text.find(old_text);
    EXPECT_NE(at, std::string::npos) << old_text;
    return text.replace(at, old_text.size(), new_text);
  };
  for (const char* table : {"camera", "laser_plane", "stage", "plate_form", "depth", "height_scale", "light",
                            "smallest", "priors", "pads", "carrier"}) {
    const std::string head = std::string("[") + table + "]";
    EXPECT_THAT([&] { read(with(head, head + "\nsparkle = 1")); },
                ::testing::ThrowsMessage<InputError>(::testing::HasSubstr("sparkle")))
        << table;
  }
  EXPECT_THAT([&] { read(with("fx = 2400.5", "")); }, ::testing::ThrowsMessage<InputError>(::testing::HasSubstr("fx")));
  EXPECT_THAT([&] { read(with("fx = 2400.5", "fx = -3")); },
              ::testing::ThrowsMessage<InputError>(::testing::HasSubstr("fx")));
  EXPECT_THROW(read(with("motion = [ 0.5, 1.0, -0.25 ]", "motion = [ 0.0, 0.0, 0.0 ]")), InputError);
  EXPECT_THROW(read(with("columns = 7", "columns = 5")), InputError) << "28 heights are no rows of five";
  EXPECT_THROW(read(with("depths_mm = [ 50.0, 60.0 ]", "depths_mm = [ 60.0, 50.0 ]")), InputError);
  EXPECT_THAT([&] { read(with("1.0, 0.0, 0.0, 0.0, 1.0", "-1.0, 0.0, 0.0, 0.0, 1.0")); },
              ::testing::ThrowsMessage<InputError>(::testing::HasSubstr("no covariance")));
}

TEST(Rig, SavingKeepsTheFileThatWasThere) {
  const test::TempFolder folder;
  const auto path = folder.path() / "my rig.toml";
  Rig rig;
  rig.name = "first";
  EXPECT_EQ(save_rig(path, rig), "");
  rig.name = "second";
  const std::string kept = save_rig(path, rig);
  EXPECT_THAT(kept, ::testing::MatchesRegex("my rig-before-[0-9]{8}T[0-9]{6}Z.toml"));
  EXPECT_EQ(read_rig(path).name, "second");
  EXPECT_EQ(read_rig(folder.path() / kept).name, "first");
  rig.name = "third";
  const std::string again = save_rig(path, rig);
  EXPECT_NE(again, kept) << "two steps within a second keep both";
  EXPECT_EQ(read_rig(folder.path() / kept).name, "first");
}

}  // namespace
}  // namespace canewise
