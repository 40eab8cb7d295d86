// The instruments we ship, against their papers.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/measure/forms.h"

namespace turnstone::testing {
namespace {

using ::testing::ElementsAre;

// Either end of every band, and where the band comes from.
struct Boundary {
  std::string source;
  std::string id;
  Interval band;
  std::string label;
};

const std::vector<Boundary>& Boundaries() {
  static const auto* const kBoundaries = new std::vector<Boundary>{
      {"Kroenke 2001", "phq-9", {0, 4}, "minimal"},
      {"Kroenke 2001", "phq-9", {5, 9}, "mild"},
      {"Kroenke 2001", "phq-9", {10, 14}, "moderate"},
      {"Kroenke 2001", "phq-9", {15, 19}, "moderately severe"},
      {"Kroenke 2001", "phq-9", {20, 27}, "severe"},
      {"Kroenke 2003, 3", "phq-2", {0, 2}, "below cut-off"},
      {"Kroenke 2003, 3", "phq-2", {3, 6}, "at or above cut-off"},
      {"Kroenke 2009, 10", "phq-8", {0, 9}, "below cut-off"},
      {"Kroenke 2009, 10", "phq-8", {10, 24}, "at or above cut-off"},
      {"Spitzer 2006", "gad-7", {0, 4}, "minimal"},
      {"Spitzer 2006", "gad-7", {5, 9}, "mild"},
      {"Spitzer 2006", "gad-7", {10, 14}, "moderate"},
      {"Spitzer 2006", "gad-7", {15, 21}, "severe"},
      {"Kroenke 2007, 3", "gad-2", {0, 2}, "below cut-off"},
      {"Kroenke 2007, 3", "gad-2", {3, 6}, "at or above cut-off"},
      {"rdocumentation.org gds15", "gds-15", {0, 4}, "normal"},
      {"rdocumentation.org gds15", "gds-15", {5, 8}, "mild"},
      {"rdocumentation.org gds15", "gds-15", {9, 11}, "moderate"},
      {"rdocumentation.org gds15", "gds-15", {12, 15}, "severe"},
      {"Yesavage 1982", "gds-30", {0, 9}, "normal"},
      {"Yesavage 1982", "gds-30", {10, 19}, "mild"},
      {"Yesavage 1982", "gds-30", {20, 30}, "severe"},
      {"Topp 2015", "who-5", {0, 28}, "at or below the cut-off of 28"},
      {"Topp 2015", "who-5", {29, 50}, "at or below the cut-off of 50"},
      {"Topp 2015", "who-5", {51, 100}, "above both cut-offs"},
      {"Cox 1987", "epds", {0, 9}, "below both cut-offs"},
      {"Cox 1987", "epds", {10, 12}, "at or above the cut-off of 10"},
      {"Cox 1987", "epds", {13, 30}, "at or above the cut-off of 13"},
      {"Steptoe 2013", "ucla-3", {3, 5}, "below cut-off"},
      {"Steptoe 2013", "ucla-3", {6, 9}, "at or above cut-off"},
      {"PMC3930057", "sis", {0, 4}, "two errors or more"},
      {"PMC3930057", "sis", {5, 6}, "fewer than two errors"}};
  return *kBoundaries;
}

// Those with items, and so a total.
std::vector<std::string> ScoredIds() {
  std::vector<std::string> ids;
  for (const std::string& id : InstrumentIds()) {
    if (LoadScale(id).HasItems()) ids.push_back(id);
  }
  return ids;
}

TEST(InstrumentFiles, BandsBeginAndEndWhereThePapersSay) {
  for (const Boundary& expected : Boundaries()) {
    const Scale scale = LoadScale(expected.id);
    const auto [low, high] = expected.band;
    EXPECT_EQ(scale.BandFor({low, low}), expected.label) << expected.source;
    EXPECT_EQ(scale.BandFor({high, high}), expected.label) << expected.source;
    EXPECT_EQ(scale.BandFor({low - 1, low}), "") << expected.source;
    EXPECT_EQ(scale.BandFor({high, high + 1}), "") << expected.source;
  }
}

TEST(InstrumentFiles, BandsTileTheWholeRange) {
  for (const std::string& id : ScoredIds()) {
    const Scale scale = LoadScale(id);
    if (scale.definition().band().empty()) continue;
    int next = scale.Range().low;
    for (const v1::Band& band : scale.definition().band()) {
      EXPECT_EQ(band.low(), next) << id << " " << band.label();
      next = band.high() + 1;
    }
    EXPECT_EQ(next, scale.Range().high + 1) << id;
    EXPECT_FALSE(scale.definition().band_source().empty()) << id;
  }
}

TEST(InstrumentFiles, AreTheOnesExpectedWithTheirPublishedRanges) {
  struct Expected {
    std::string id;
    Interval range;
  };
  const std::vector<Expected> expected = {
      {"audit-c", {0, 12}}, {"epds", {0, 30}},   {"gad-2", {0, 6}},
      {"gad-7", {0, 21}},   {"gds-15", {0, 15}}, {"gds-30", {0, 30}},
      {"phq-2", {0, 6}},    {"phq-8", {0, 24}},  {"phq-9", {0, 27}},
      {"sis", {0, 6}},      {"ucla-3", {3, 9}},  {"who-5", {0, 100}}};
  std::vector<std::string> ids;
  for (const Expected& each : expected) {
    ids.push_back(each.id);
    EXPECT_EQ(LoadScale(each.id).Range(), each.range) << each.id;
  }
  EXPECT_EQ(ScoredIds(), ids);
}

// The items of such interviews may not be reproduced (clinical sources:
// Mini-Cog and C-SSRS licences), so these two hold none.
TEST(InstrumentFiles, TwoKeepOnlyAResult) {
  std::vector<std::string> ids;
  for (const std::string& id : InstrumentIds()) {
    if (!LoadScale(id).HasItems()) ids.push_back(id);
  }
  EXPECT_THAT(ids, ElementsAre("cognitive-screen", "self-harm-follow-up"));
}

TEST(InstrumentFiles, OnlyPhq9AndEpdsAskAboutSelfHarm) {
  std::vector<std::string> asking;
  for (const std::string& id : InstrumentIds()) {
    if (LoadScale(id).SelfHarmItem()) asking.push_back(id);
  }
  EXPECT_THAT(asking, ElementsAre("epds", "phq-9"));
}

TEST(InstrumentFiles, OnlyWellBeingAndCognitionAreBetterWhenHigher) {
  for (const std::string& id : ScoredIds()) {
    EXPECT_EQ(LoadScale(id).definition().direction(),
              id == "who-5" || id == "sis" ? v1::DIRECTION_HIGHER_IS_BETTER
                                           : v1::DIRECTION_HIGHER_IS_WORSE)
        << id;
  }
}

TEST(InstrumentFiles, QuestionsAreInPrintedOrder) {
  for (const Questionnaire& form :
       {Phq9(), Phq8(), Phq2(), Gad7(), Gad2(), Gds15(), Gds30(), Who5(),
        Epds(), Ucla3(), Sis()}) {
    const Scale scale = LoadScale(form.id);
    for (size_t i = 0; i < form.questions.size(); ++i) {
      EXPECT_EQ(scale.FindItem(form.questions[i]), i) << form.id;
    }
  }
}

TEST(InstrumentFiles, EverythingHasALabelAndASource) {
  for (const std::string& id : InstrumentIds()) {
    const Scale scale = LoadScale(id);
    EXPECT_EQ(scale.definition().id(), id);
    EXPECT_FALSE(scale.definition().name().empty()) << id;
    EXPECT_FALSE(scale.definition().source().empty()) << id;
    EXPECT_FALSE(scale.definition().rights().empty()) << id;
    size_t index = 0;
    for (const v1::Item& item : scale.definition().item()) {
      EXPECT_FALSE(item.label().empty()) << id << " " << item.code();
      EXPECT_FALSE(scale.AnswersTo(index).empty()) << id << " " << item.code();
      for (const v1::Answer& answer : scale.AnswersTo(index)) {
        EXPECT_FALSE(answer.label().empty()) << id << " " << answer.code();
      }
      ++index;
    }
  }
}

TEST(InstrumentFiles, AreFoundByIdOrPanelCode) {
  std::vector<v1::Instrument> instruments;
  for (const std::string id : {"phq-9", "gds-15", "ucla-3"}) {
    instruments.push_back(LoadScale(id).definition());
  }
  const Catalogue catalogue(instruments);
  ASSERT_NE(catalogue.Find("phq-9"), nullptr);
  // LOINC: PHQ-9 panel.
  EXPECT_EQ(catalogue.Find("44249-1"), catalogue.Find("phq-9"));
  EXPECT_EQ(catalogue.Find("phq-7"), nullptr);
  EXPECT_EQ(catalogue.Find(""), nullptr);
  EXPECT_EQ(catalogue.Ids(), "gds-15, phq-9, ucla-3");
  ASSERT_EQ(catalogue.All().size(), 3U);
  EXPECT_EQ(catalogue.All()[0], catalogue.Find("gds-15"));
  EXPECT_EQ(catalogue.All()[2], catalogue.Find("ucla-3"));
}

}  // namespace
}  // namespace turnstone::testing
