#include "scanproc/report/numbers.h"

#include <cmath>

#include "scanproc/words/decimals.h"

namespace canewise {

Message small_number(double micrometres, int decimals) {
  if (std::isnan(micrometres)) return Message{"report.not_seen"};
  return Message{"value.um", {{"v", um(micrometres, decimals)}}};
}

Message signed_small_number(double micrometres, int decimals) {
  if (std::isnan(micrometres)) return Message{"report.not_seen"};
  return Message{"value.um", {{"v", signed_um(micrometres, decimals)}}};
}

Message small_interval(double micrometres, double u95_um) {
  if (std::isnan(micrometres)) return Message{"report.not_seen"};
  return Message{"value.um_interval", {{"v", um(micrometres)}, {"u", um(u95_um)}}};
}

Message signed_small_interval(double micrometres, double u95_um) {
  if (std::isnan(micrometres)) return Message{"report.not_seen"};
  return Message{"value.um_interval", {{"v", signed_um(micrometres)}, {"u", um(u95_um)}}};
}

Message plain_number(double value, int decimals) {
  if (std::isnan(value)) return Message{"report.not_seen"};
  return Message{"value", {{"v", number(value, decimals)}}};
}

Message in_small_unit(Message what) { return {"report.small", {{"what", part(std::move(what))}, {"unit", um(0.0)}}}; }

std::string short_number(double value, const Speech& speech) {
  constexpr int most = 2;
  return number_text(value, decimals_of(value, most), false, speech);
}

}  // namespace canewise
