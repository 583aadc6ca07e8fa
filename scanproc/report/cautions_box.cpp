#include "scanproc/report/cautions_box.h"

#include <fmt/format.h>

#include "scanproc/report/page_frame.h"
#include "scanproc/scrape/scrape_plan.h"

namespace canewise {

std::string cautions_box() {
  std::string box =
      "<div class=\"cautions\"><p><strong>" + worded("beforeYouScrape", "Before you scrape") + "</strong></p><ul>";
  for (std::size_t k = 0; k < kCautions.size(); ++k)
    box += "<li>" + worded(fmt::format("caution_{}", k + 1), kCautions.at(k)) + "</li>";
  return box + "</ul></div>";
}

std::string rolling_test_words() {
  return "<p><strong>" + worded("rollingTitle", "First the rolling test") + ".</strong> " +
         worded("rollingText",
                "Wet the reed, play, and roll the mouthpiece so that your lip damps one side at a time. Does the "
                "side to be scraped speak less freely?") +
         " " +
         worded("rollingElse",
                "Then go on. If not, take nothing off: cane need not be as stiff as it is thick. Repeat the scan "
                "and the test.") +
         "</p>";
}

bool handedness_is_checked(const Result& result) { return !result.handedness.starts_with("assumed"); }

std::string unchecked_handedness_words() {
  return worded("unchecked",
                "Left and right are as the scanner gives them; nobody has checked that it does not mirror. Once, stick "
                "a scrap of tape on the right rail, scan, and see it on the right.");
}

}  // namespace canewise
