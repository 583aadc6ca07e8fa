#pragma once

#include <array>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "scanproc/rig/rig_calibration.h"

namespace canewise {

/// Standard uncertainties of what a scan on a plate cannot tell by itself. Each is the standard deviation of a normal
/// law about zero; a rig file replaces the defaults by measured values. The defaults are this project's own assumptions
/// for a wiped plate and a dry, rested reed.
struct Priors {
  double seating_offset_um = 1.5;  ///< Height of the whole reed above the plate.
  double seating_roll_um = 0.8;    ///< Rise of one side edge, fall of the other.
  double seating_pitch_um = 3.0;   ///< Rise of the tip about the middle of the stock.
  double table_bow_um = 8.0;       ///< Mid-length gap under the table, parabola to 0 at both ends.
  double table_cup_um = 2.0;       ///< Gap along the middle, parabola to 0 at both sides.
  double table_twist_um = 0.8;     ///< Rise at one butt corner and the opposite tip corner, fall at the others.
  double tip_lift_um = 30.0;       ///< Curl of the tip edge, falling to 0 where the reed is 0.5 mm thick.
  double tip_curl_side_um = 0.6;   ///< One-sided part of that curl: rise at one tip corner, fall at the other.
  double scale_rel = 5e-4;         ///< Relative length error of the rig, alike in x, y and z.
  double plate_form_um = 2.0;      ///< Bow of the plate over 60 mm in each direction, and its twist.
  double penetration_um = 3.0;     ///< How deep light enters cane more than the plate.
  double pose_bending_um = 2.0;    ///< Two-sided: bow of the reed on its carrier from one pose to the other.
  double smooth_um = 0.4;          ///< Error of the scanner that changes slowly over its view...
  double smooth_length_mm = 4.0;   ///< ...and is alike over about this length. A known length, not a law's deviation.
};

struct PriorKey {
  const char* name;
  double Priors::*member;
};
inline constexpr std::array kPriorKeys{
    PriorKey{"seating_offset_um", &Priors::seating_offset_um},
    PriorKey{"seating_roll_um", &Priors::seating_roll_um},
    PriorKey{"seating_pitch_um", &Priors::seating_pitch_um},
    PriorKey{"table_bow_um", &Priors::table_bow_um},
    PriorKey{"table_cup_um", &Priors::table_cup_um},
    PriorKey{"table_twist_um", &Priors::table_twist_um},
    PriorKey{"tip_lift_um", &Priors::tip_lift_um},
    PriorKey{"tip_curl_side_um", &Priors::tip_curl_side_um},
    PriorKey{"scale_rel", &Priors::scale_rel},
    PriorKey{"plate_form_um", &Priors::plate_form_um},
    PriorKey{"penetration_um", &Priors::penetration_um},
    PriorKey{"pose_bending_um", &Priors::pose_bending_um},
    PriorKey{"smooth_um", &Priors::smooth_um},
    PriorKey{"smooth_length_mm", &Priors::smooth_length_mm},
};

/// A jig whose pads the scan sees: flat, in one plane, parallel to the reed's table.
struct Pads {
  double above_table_mm = 0.0;  ///< Of the pads' plane over the table's; negative if the pads lie lower.
  double u_above_table_um = 2.0;
};

/// What is fixed to the carrier of a reed that is scanned from both sides.
struct Carrier {
  std::optional<double> sphere_diameter_mm;             ///< Known: also spheres of another size are left out.
  std::optional<std::array<double, 3>> block_edges_mm;  ///< Of a rectangular block that shows a corner to each side.
  double u_size_um = 1.0;                               ///< Standard uncertainty of these sizes.
};

/// What is known of the scanner. Without a file, only the priors above.
struct Rig {
  std::string name = "unknown rig";
  Priors priors;
  bool mirrored = false;         ///< The rig swaps left and right, as a calibration found; undone on reading.
  std::string handedness_found;  ///< When a mark on the plate proved it; empty: never.
  std::optional<Pads> pads;
  Carrier carrier;

  std::string calibrated_at;  ///< ISO 8601, UTC, of the last step; empty: never.
  /// How a value of `priors` was obtained, by its name. What is not here is an assumption.
  std::map<std::string, std::string> obtained;
  /// Independent parts of priors.scale_rel by name: camera, laser plane, stage, step gauge, temperature.
  std::map<std::string, double> scale_parts;
  std::optional<CalibratedCamera> camera;
  std::optional<LaserPlane> laser_plane;
  std::optional<Stage> stage;
  std::optional<PlateForm> plate_form;
  std::optional<DepthCorrection> depth;
  std::optional<HeightScale> height_scale;
  std::optional<LightDepth> light;
  std::optional<SmallestDifference> smallest;
  std::vector<CheckRecord> checks;  ///< Of the piece that does not change, in their order.

  [[nodiscard]] bool is_laser_line() const { return camera && laser_plane && stage; }
};

/// Name and last calibration in one; empty for a rig that nobody calibrated.
[[nodiscard]] std::string identity_of(const Rig& rig);

/// Name of the part of a laser rig's scale that camera, plane of light and stage leave unsure.
inline constexpr const char* kGeometryPart = "camera, plane and stage";
/// Sets that part from the rig's covariances and combines the parts; `how` they are known. Laser line only.
void add_geometry(Rig& rig, const std::string& how);
/// Puts the scale's parts together: root of their sum of squares becomes priors.scale_rel.
void combine_scale(Rig& rig);

/// Reads a rig file (TOML), as rig_text writes it or as a person does (docs/rig.md names every key); every table and
/// value may be left out. Priors that differ from their defaults count as stated; of a laser rig that states no scale
/// the scale follows from the uncertainties of its parts. Throws InputError for an unknown key, a value out of its
/// bounds, what is said twice, or a matrix that is no covariance.
[[nodiscard]] Rig read_rig(const std::filesystem::path& path);

/// The rig as TOML; read_rig of it gives the same rig to the last bit.
[[nodiscard]] std::string rig_text(const Rig& rig);

/// Writes the rig and, if a file of that name is there, keeps that beside it as NAME-before-DATE.toml; both or neither.
/// Returns the copy's name, or nothing. Throws OutputError.
std::string save_rig(const std::filesystem::path& path, const Rig& rig);

}  // namespace canewise
