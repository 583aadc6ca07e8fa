#include "scanproc/mechanics/player.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <sstream>
#include <utility>

#include "scanproc/bytes/settings.h"
#include "scanproc/words/speech.h"

namespace canewise {
namespace {

constexpr double kMostHalves = 8.0;

struct StrengthWord {
  const char* word;
  double halves;
};
/// Parts of a strength; 'half' is half a strength, the trade's usual step.
constexpr std::array<StrengthWord, 7> kParts{
    {{"quarter", 0.5}, {"half", 1.0}, {"one", 2.0}, {"whole", 2.0}, {"two", 4.0}, {"three", 6.0}, {"four", 8.0}}};

std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    if (static_cast<unsigned char>(c) >= 0x20) out += c;
  }
  return out + "\"";
}

}  // namespace

std::optional<double> halves_from(const std::string& words) {
  std::istringstream stream(words);
  std::string word;
  double size = 0.0, last = 0.0, sign = 0.0;
  bool reference = false;
  while (stream >> word) {
    std::transform(word.begin(), word.end(), word.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    const auto part = std::find_if(kParts.begin(), kParts.end(), [&](const StrengthWord& w) { return word == w.word; });
    if (part != kParts.end()) {
      last = part->halves;
      size += last;
    } else if (word == "quarters") {
      // 'Three quarters': the number before counts quarters, not strengths.
      size += last / 2.0 * 0.5 - last;
    } else if (word == "halves") {
      size += last / 2.0 - last;
    } else if (word == "softer" || word == "harder") {
      if (sign != 0.0) return std::nullopt;
      sign = word == "softer" ? -1.0 : 1.0;
    } else if (word == "reference") {
      reference = true;
    } else if (word != "a" && word != "and" && word != "strength" && word != "strengths" && word != "the" &&
               word != "than" && word != "like") {
      return std::nullopt;
    }
  }
  if (reference && sign == 0.0 && size == 0.0) return 0.0;
  if (sign == 0.0 || !(size > 0.0) || size > kMostHalves) return std::nullopt;
  return sign * size;
}

Message halves_words(double halves) {
  const auto quarters = static_cast<std::size_t>(std::lround(std::abs(halves) * 2.0));
  constexpr std::array<std::string_view, 5> wholes{"none", "one", "two", "three", "four"};
  constexpr std::array<std::string_view, 4> rests{"none", "quarter", "half", "three_quarters"};
  const std::size_t whole = quarters / 4;
  const bool too_many = whole >= wholes.size();
  return {"strength.halves",
          {{"direction", word(quarters == 0  ? "like"
                              : halves < 0.0 ? "softer"
                                             : "harder")},
           {"whole", word(too_many ? "more" : wholes.at(whole))},
           {"rest", word(too_many ? "none" : rests.at(quarters % 4))}}};
}

namespace {

Player with_hand(Player player, Settings hand) {
  if (const auto depth = hand.number("depth_per_stroke_um", Player::kLeastStroke_um, Player::kMostStroke_um)) {
    player.depth_per_stroke_um = *depth;
    player.u_depth_per_stroke_rel = 0.2;
    player.hand_is_known = true;
  }
  hand.number_into(player.u_depth_per_stroke_rel, "u_depth_per_stroke_rel", 0.0, 2.0);
  hand.number_into(player.tool_width_mm, "tool_width_mm", 0.5, 20);
  player.hand_learned_from = hand.texts("learned_from");
  hand.refuse_unknown();
  return player;
}

FeelerReading feeler_reading(Settings entry) {
  const auto needed = [&](const char* key, double low, double high) {
    const auto value = entry.number(key, low, high);
    if (!value) entry.fail(key, {"player.feeler_missing"});
    return *value;
  };
  const FeelerReading reading{needed("gauge_mm", 0.01, 5), needed("left_mm", 0.1, 60), needed("right_mm", 0.1, 60)};
  entry.refuse_unknown();
  return reading;
}

/// Thickest first. Throws InputError where a feeler would have gone through thinner air than itself.
std::vector<FeelerReading> feelers_in_order(std::vector<FeelerReading> feelers, const Player& player,
                                            const Settings& mouthpiece) {
  if (feelers.empty()) return feelers;
  if (!player.tip_opening_mm) mouthpiece.fail("tip_opening_mm", {"player.feelers_without_opening"});
  if (player.facing_power) mouthpiece.fail("facing_power", {"player.feelers_and_power"});
  std::sort(feelers.begin(), feelers.end(),
            [](const FeelerReading& a, const FeelerReading& b) { return a.gauge_mm > b.gauge_mm; });
  const auto check = [&](double FeelerReading::*at_mm, const char* side, double opening_mm,
                         const std::optional<double>& length_mm) {
    const auto refuse = [&](MessageId id, double gauge_mm) {
      mouthpiece.fail("feeler", {id, {{"side", word(side)}, {"gauge", mm(gauge_mm, 3)}}});
    };
    double gauge_mm = opening_mm, farthest_mm = 0.0;
    for (const FeelerReading& reading : feelers) {
      if (!(reading.gauge_mm < gauge_mm)) refuse("player.feeler_too_thick", reading.gauge_mm);
      if (!(reading.*at_mm > farthest_mm)) refuse("player.feelers_disagree", reading.gauge_mm);
      gauge_mm = reading.gauge_mm;
      farthest_mm = reading.*at_mm;
    }
    if (length_mm && !(*length_mm > farthest_mm)) refuse("player.feeler_past_facing", gauge_mm);
  };
  const auto or_both = [](const std::optional<double>& one, const std::optional<double>& both) {
    return one ? one : both;
  };
  check(&FeelerReading::left_mm, "left", *or_both(player.left_tip_opening_mm, player.tip_opening_mm),
        or_both(player.left_facing_length_mm, player.facing_length_mm));
  check(&FeelerReading::right_mm, "right", *or_both(player.right_tip_opening_mm, player.tip_opening_mm),
        or_both(player.right_facing_length_mm, player.facing_length_mm));
  return feelers;
}

Player with_mouthpiece(Player player, Settings mouthpiece) {
  const auto optional = [&](std::optional<double>& value, const char* key, double low, double high) {
    if (const auto given = mouthpiece.number(key, low, high)) value = *given;
  };
  optional(player.tip_opening_mm, "tip_opening_mm", 0.2, 5);
  optional(player.facing_length_mm, "facing_length_mm", 5, 50);
  optional(player.facing_power, "facing_power", 1.0, 4.0);
  optional(player.left_tip_opening_mm, "left_tip_opening_mm", 0.2, 5);
  optional(player.left_facing_length_mm, "left_facing_length_mm", 5, 50);
  optional(player.right_tip_opening_mm, "right_tip_opening_mm", 0.2, 5);
  optional(player.right_facing_length_mm, "right_facing_length_mm", 5, 50);
  optional(player.window_end_mm, "window_end_mm", 15, 70);
  optional(player.ligature_mm, "ligature_mm", 15, 80);
  std::vector<FeelerReading> feelers;
  for (Settings& entry : mouthpiece.tables("feeler")) feelers.push_back(feeler_reading(std::move(entry)));
  player.feelers = feelers_in_order(std::move(feelers), player, mouthpiece);
  mouthpiece.refuse_unknown();
  return player;
}

Player with_lip(Player player, Settings lip) {
  player.lip_at_mm = lip.number("at_mm", 3, 25);
  player.lip_length_mm = lip.number("length_mm", 0.5, 12);
  player.lip_force_n = lip.number("force_n", 0.0, 20);
  player.tip_patch_at_mm = lip.number("tip_patch_at_mm", 1.5, 20);
  lip.refuse_unknown();
  return player;
}

KnownReed known_reed(Settings entry) {
  KnownReed reed;
  reed.mark = entry.text("mark").value_or("");
  const auto halves = halves_from(reed.mark);
  if (!halves) {
    entry.fail("mark", {"player.mark"});
  }
  reed.halves = *halves;
  // Of a reed without its mouthpiece, as it was told before: it cannot be compared with.
  (void)entry.number("stiffness_n_per_mm", 1e-4, 1e4);
  reed.result = entry.text("result").value_or("");
  reed.measured_at = entry.text("measured_at").value_or("");
  if (const auto state = entry.text("state")) {
    if (*state != "dry" && *state != "wet") entry.fail("state", {"player.state"});
    reed.state = *state == "dry" ? MoistureState::dry : MoistureState::wet;
  }
  entry.refuse_unknown();
  return reed;
}

Player with_wish(Player player, Settings wish) {
  if (const auto words = wish.text("strength")) {
    player.wanted_halves = halves_from(*words);
    if (!player.wanted_halves) wish.fail("strength", {"player.wish"});
  }
  wish.refuse_unknown();
  return player;
}

}  // namespace

Player read_player(const std::filesystem::path& path) {
  Settings settings = Settings::read(path);
  Player player;
  player.folder = path.parent_path();
  if (const auto name = settings.text("name")) player.name = *name;
  player = with_hand(std::move(player), settings.table("hand"));
  player = with_mouthpiece(std::move(player), settings.table("mouthpiece"));
  player = with_lip(std::move(player), settings.table("lip"));
  for (Settings& entry : settings.tables("known_reed")) player.known.push_back(known_reed(std::move(entry)));
  player = with_wish(std::move(player), settings.table("wish"));
  settings.refuse_unknown();
  return player;
}

std::string player_text(const Player& player) {
  std::string text;
  const auto number = [&](const char* key, double value) {
    text += fmt::format("{} = {}\n", key,
                        value == std::floor(value) ? fmt::format("{:.1f}", value) : fmt::format("{}", value));
  };
  const auto optional = [&](const char* key, const std::optional<double>& value) {
    if (value) number(key, *value);
  };
  if (!player.name.empty()) text += fmt::format("name = {}\n", quoted(player.name));
  text += "\n[hand]\n";
  if (player.hand_is_known) number("depth_per_stroke_um", player.depth_per_stroke_um);
  if (player.hand_is_known) number("u_depth_per_stroke_rel", player.u_depth_per_stroke_rel);
  number("tool_width_mm", player.tool_width_mm);
  if (!player.hand_learned_from.empty()) {
    text += "learned_from = [";
    for (std::size_t k = 0; k < player.hand_learned_from.size(); ++k)
      text += (k == 0 ? "" : ", ") + quoted(player.hand_learned_from[k]);
    text += "]\n";
  }
  text += "\n[mouthpiece]\n";
  optional("tip_opening_mm", player.tip_opening_mm);
  optional("facing_length_mm", player.facing_length_mm);
  optional("facing_power", player.facing_power);
  optional("left_tip_opening_mm", player.left_tip_opening_mm);
  optional("left_facing_length_mm", player.left_facing_length_mm);
  optional("right_tip_opening_mm", player.right_tip_opening_mm);
  optional("right_facing_length_mm", player.right_facing_length_mm);
  optional("window_end_mm", player.window_end_mm);
  optional("ligature_mm", player.ligature_mm);
  for (const FeelerReading& reading : player.feelers) {
    text += "\n[[mouthpiece.feeler]]\n";
    number("gauge_mm", reading.gauge_mm);
    number("left_mm", reading.left_mm);
    number("right_mm", reading.right_mm);
  }
  text += "\n[lip]\n";
  optional("at_mm", player.lip_at_mm);
  optional("length_mm", player.lip_length_mm);
  optional("force_n", player.lip_force_n);
  optional("tip_patch_at_mm", player.tip_patch_at_mm);
  for (const KnownReed& reed : player.known) {
    text += fmt::format("\n[[known_reed]]\nmark = {}\n", quoted(reed.mark));
    if (!reed.result.empty())
      text += fmt::format("result = {}\nmeasured_at = {}\n", quoted(reed.result), quoted(reed.measured_at));
    if (reed.state != MoistureState::unknown)
      text += fmt::format("state = {}\n", quoted(std::string(name_of(reed.state))));
  }
  if (player.wanted_halves) {
    // English, whatever the player speaks: halves_from reads it.
    const std::string words = *player.wanted_halves == 0.0 ? "reference" : phrase(halves_words(*player.wanted_halves));
    text += fmt::format("\n[wish]\nstrength = {}\n", quoted(words));
  }
  return text;
}

std::vector<KnownReed> Player::known_in(MoistureState state) const {
  std::vector<KnownReed> same;
  std::copy_if(known.begin(), known.end(), std::back_inserter(same), [&](const KnownReed& reed) {
    return reed.stiffness_n_per_mm > 0.0 && (reed.state == MoistureState::wet) == (state == MoistureState::wet);
  });
  return same;
}

}  // namespace canewise
