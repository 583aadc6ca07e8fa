#include "scanproc/scrape/place_words.h"

#include <string_view>

namespace canewise {
namespace {

Message place(Side side, std::string_view across, std::string_view along) {
  return {"plan.the_place", {{"side", word(name_of(side))}, {"across", word(across)}, {"along", word(along)}}};
}

constexpr std::string_view kHeart = "heart", kAnywhere = "anywhere";

}  // namespace

Message the_place(const Zone& zone) {
  if (zone.along == AlongBand::middle && zone.across == AcrossBand::centre) return place(zone.side, kHeart, kAnywhere);
  return place(zone.side, name_of(zone.across), name_of(zone.along));
}

Message the_place(const Fault& fault, Side side) {
  return place(side, fault.in_heart ? kHeart : name_of(fault.across), kAnywhere);
}

Message the_place(const ScrapeStep& step) { return place(step.side, name_of(step.across), kAnywhere); }

}  // namespace canewise
