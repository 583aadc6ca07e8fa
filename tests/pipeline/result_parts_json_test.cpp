// Parts of result.json that files of before wrote otherwise; that each part reads back as it was, result_json_test
// holds member by member.
#include "scanproc/pipeline/result_parts_json.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace canewise {
namespace {

using nlohmann::json;

json verbatim(const char* words) { return {{"id", "verbatim"}, {"text", {{"text", words}}}}; }

/// As version 1 wrote it, shortened to what is looked at.
json of_version_1() {
  return json::parse(R"({
    "headline": "Both sides agree.", "certainty": ["Sure.", "Very sure."], "notes": [],
    "handedness": "assumed: nobody checked",
    "plan": {"sentence": "Scrape.", "remarks": ["Slowly."], "steps": [{"where": "right rail", "stop": "Play.", "depth_um": 12}]},
    "mechanics": {"why_not": "", "strength": {"sentence": ["Soft."], "advice": "A half up."}},
    "registration": {"method": "three spheres"},
    "budgets": [{"quantity": "heart", "lines": [{"source": "noise", "u_um": 1.5}]}]
  })");
}

TEST(TakeProseAsMessages, SentencesOfVersion1AreKeptAsTheyAre) {
  json document = of_version_1();
  take_prose_as_messages(document);
  EXPECT_EQ(document["headline"], json::array({verbatim("Both sides agree.")}));
  EXPECT_EQ(document["certainty"], json::array({verbatim("Sure."), verbatim("Very sure.")}));
  EXPECT_EQ(document["notes"], json::array());
  EXPECT_EQ(document["plan"]["sentence"], json::array({verbatim("Scrape.")}));
  EXPECT_EQ(document["plan"]["remarks"], json::array({verbatim("Slowly.")}));
  EXPECT_EQ(document["plan"]["steps"][0]["where"], verbatim("right rail"));
  EXPECT_EQ(document["plan"]["steps"][0]["stop"], verbatim("Play."));
  EXPECT_EQ(document["mechanics"]["strength"]["sentence"], json::array({verbatim("Soft.")}));
  EXPECT_EQ(document["mechanics"]["strength"]["advice"], verbatim("A half up."));
  EXPECT_EQ(document["registration"]["method"], verbatim("three spheres"));
  EXPECT_EQ(document["budgets"][0]["quantity"], verbatim("heart"));
  EXPECT_EQ(document["budgets"][0]["lines"][0]["source"], verbatim("noise"));
}

TEST(TakeProseAsMessages, NumbersStayNumbers) {
  json document = of_version_1();
  take_prose_as_messages(document);
  EXPECT_EQ(document["plan"]["steps"][0]["depth_um"], 12);
  EXPECT_EQ(document["budgets"][0]["lines"][0]["u_um"], 1.5);
}

TEST(TakeProseAsMessages, HowLeftAndRightAreKnownWasASentenceToo) {
  for (const auto& [said, meant] : {std::pair{"assumed: nobody checked", HandednessSource::assumed},
                                    std::pair{"corrected by the rig file", HandednessSource::rig_file},
                                    std::pair{"seen by the mark", HandednessSource::mark}}) {
    json document = of_version_1();
    document["handedness"] = said;
    take_prose_as_messages(document);
    EXPECT_EQ(document["handedness"], name_of(meant)) << said;
  }
}

TEST(TakeProseAsMessages, WhatIsAMessageAlreadyStaysOne) {
  json document = of_version_1();
  take_prose_as_messages(document);
  json again = document;
  again["handedness"] = "assumed";
  take_prose_as_messages(again);
  EXPECT_EQ(again["headline"], document["headline"]);
  EXPECT_EQ(again["plan"], document["plan"]);
}

}  // namespace
}  // namespace canewise
