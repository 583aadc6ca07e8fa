#include "scanproc/scan/rig.h"

#include <toml++/toml.h>

#include <array>
#include <cmath>

#include "scanproc/core/error.h"
#include "scanproc/scan/scan_file.h"

namespace canewise {
namespace {

struct PriorKey {
  std::string_view name;
  double Priors::*member;
};
constexpr std::array kPriorKeys{
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
};

[[noreturn]] void fail_at(const ScanFile& file, const toml::node& node, const std::string& what) {
  file.fail("line " + std::to_string(node.source().begin.line) + ": " + what);
}

std::string known_priors() {
  std::string names;
  for (const auto& key : kPriorKeys) names += (names.empty() ? "" : ", ") + std::string(key.name);
  return names;
}

void read_priors(const ScanFile& file, const toml::table& table, Priors& priors) {
  for (const auto& [key, value] : table) {
    const PriorKey* known = nullptr;
    for (const auto& candidate : kPriorKeys) {
      if (candidate.name == key.str()) known = &candidate;
    }
    if (known == nullptr) {
      fail_at(file, value,
              "[priors] has the unknown key '" + std::string(key.str()) + "'. Known are: " + known_priors() + ".");
    }
    const auto number = value.value<double>();
    if (!number || !std::isfinite(*number) || *number < 0) {
      fail_at(file, value, "[priors] " + std::string(key.str()) + " must be a number of at least 0.");
    }
    priors.*(known->member) = *number;
  }
}

}  // namespace

Rig read_rig(const std::filesystem::path& path) {
  const ScanFile file(path);
  constexpr std::uint64_t largest_rig_file = 1U << 20U;
  if (file.size() > largest_rig_file) file.fail("is too large for a rig file. Name the rig.toml of your scanner.");
  toml::table table;
  try {
    table = toml::parse(file.all());
  } catch (const toml::parse_error& error) {
    file.fail("line " + std::to_string(error.source().begin.line) + ": " + std::string(error.description()) +
              ". Mend the file or calibrate again.");
  }
  Rig rig;
  for (const auto& [key, value] : table) {
    if (key.str() == "name" && value.is_string()) {
      rig.name = *value.value<std::string>();
    } else if (key.str() == "mirrored" && value.is_boolean()) {
      rig.mirrored = *value.value<bool>();
    } else if (key.str() == "priors" && value.is_table()) {
      read_priors(file, *value.as_table(), rig.priors);
    } else {
      fail_at(file, value,
              "'" + std::string(key.str()) +
                  "' is unknown or not of its kind. Known are: name = '...', mirrored = true or false, and the table "
                  "[priors].");
    }
  }
  return rig;
}

}  // namespace canewise
