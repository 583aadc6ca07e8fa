#include <algorithm>
#include <charconv>
#include <string_view>

#include "scanproc/assess/target_file.h"
#include "scanproc/words/speech.h"

namespace canewise {
namespace {

/// The built-in that a target is; null for a player's own.
const Target* builtin_of(const Target& target) {
  const auto& all = builtin_targets();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Target& builtin) {
    return builtin.name == target.name && builtin.title == target.title;
  });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace

Message title_of(const Target& target) {
  const Target* builtin = builtin_of(target);
  if (builtin == nullptr) return {"verbatim", {{"text", text(target.title)}}};
  // Heart and tip stand in the title alone; and it names the blank only where an instrument has several.
  const auto says = [&](std::string_view what) { return builtin->title.find(what) != std::string::npos; };
  return {"target.title",
          {{"instrument", part(Message{"instrument.title", {{"instrument", word(builtin->instrument)}}})},
           {"blank", word(says(" blank") ? name_of(builtin->blank) : "unsaid")},
           {"filed", word(builtin->filed ? "yes" : "no")},
           {"heart", word(says("strong heart") ? "strong" : "usual")},
           {"tip", word(says("squarer tip") ? "squarer" : "rounded")}}};
}

Message origin_of(const Target& target) {
  if (builtin_of(target) != nullptr) return {"target.built_in"};
  const std::string& origin = target.origin;
  std::size_t reeds = 1;
  if (const auto digits = origin.find_first_of("0123456789"); digits != std::string::npos)
    std::from_chars(origin.data() + digits, origin.data() + origin.size(), reeds);
  const Message mean = origin_of_mean(reeds);
  return phrase(mean) == origin ? mean : Message{"verbatim", {{"text", text(origin)}}};
}

Message origin_of_mean(std::size_t reeds) { return {"target.mean", {{"reeds", count(reeds)}}}; }

}  // namespace canewise
