#include "scanproc/report/cautions_box.h"

#include "scanproc/report/said.h"
#include "scanproc/scrape/scrape_plan.h"

namespace canewise {

std::string cautions_box(const Speech& speech) {
  std::string box =
      "<div class=\"cautions\"><p><strong>" + said(Message{"report.before_you_scrape"}, speech) + "</strong></p><ul>";
  for (const MessageId caution : kCautions) box += "<li>" + said(Message(caution), speech) + "</li>";
  return box + "</ul></div>";
}

bool tells_to_cut(const Result& result) {
  // Clipping is among the other ways out wherever there are any.
  return !result.plan.steps.empty() || !result.plan.alternatives.empty() ||
         result.mechanics.strength.advice.id == "strength.too_soft";
}

std::string rolling_test_words(const Speech& speech) {
  return "<p><strong>" + said(Message{"report.rolling_first"}, speech) + "</strong> " +
         said(Messages{Message{"report.rolling_how"}, Message{"report.rolling_else"}}, speech) + "</p>";
}

bool handedness_is_checked(const Result& result) { return result.handedness != HandednessSource::assumed; }

std::string unchecked_handedness_words(const Speech& speech) { return said(Message{"report.unchecked"}, speech); }

}  // namespace canewise
