#include "scanproc/report/table_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/words/speech.h"

namespace canewise {
namespace {

using testing::HasSubstr;
using testing::Not;

TableForm form(Verdict verdict) {
  TableForm table;
  table.bow_um = {-24.6, 1.0};
  table.cup_um = {2.6, 2.0};
  table.twist_um = {0.4, 0.5};
  table.flat = verdict;
  return table;
}

TEST(TableWords, TheVerdictIsOneOfThree) {
  EXPECT_EQ(phrase(table_verdict(form(Verdict::within))), "The table is flat");
  EXPECT_EQ(phrase(table_verdict(form(Verdict::outside))), "The table is warped");
  EXPECT_EQ(phrase(table_verdict(form(Verdict::cannot_tell))), "This scan cannot tell whether the table is flat");
}

TEST(TableWords, EachFormIsTheNearestMicrometreWithItsIntervalRoundedUp) {
  // U95 is 1.96 standard uncertainties: 1.96, 3.92 and 0.98.
  const std::string words = phrase(table_sentence(form(Verdict::within)));
  EXPECT_THAT(words, HasSubstr("Bow -25 ±2 µm"));
  EXPECT_THAT(words, HasSubstr("cup +3 ±4 µm"));
  EXPECT_THAT(words, HasSubstr("twist 0 ±1 µm"));
  EXPECT_THAT(words, HasSubstr("tolerance 20 µm"));
}

TEST(TableWords, WhatToDoIsSaidOfAWarpedTableAlone) {
  EXPECT_THAT(phrase(table_sentence(form(Verdict::outside))), HasSubstr("dry flat on slats"));
  for (const Verdict verdict : {Verdict::within, Verdict::cannot_tell})
    EXPECT_THAT(phrase(table_sentence(form(verdict))), Not(HasSubstr("slats")));
}

TEST(TableWords, ThousandthsOfAnInchAreThoseOfTheRoundedMicrometres) {
  const std::string words = phrase(table_sentence(form(Verdict::within)), {Language::english, SmallUnit::thou});
  EXPECT_THAT(words, HasSubstr("Bow -0.98 ±0.08 thou")) << "25 and 2 um";
}

}  // namespace
}  // namespace canewise
