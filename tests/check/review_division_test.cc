// Divisions: what is wrong with one, and what it leaves out. Worked by hand
// from the comments of rule.proto; no outside source.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/check/load.h"
#include "tests/check/good_files.h"

namespace turnstone {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

// Without examples: these findings are left out below. Mood-3 has the totals 0,
// 2, ... 12.
std::string RangeRule(const std::string& id, int low, int high,
                      const std::string& and_also = "") {
  return "rule { id: \"" + id +
         "\" version: 1 title: \"t\" owner: \"o\" rationale: \"r\" source: "
         "\"s\" when { screening { instrument: \"mood-3\" } } condition { "
         "all_of { condition { score { instrument: \"mood-3\" at_least { "
         "value: " +
         std::to_string(low) + " } at_most { value: " + std::to_string(high) +
         " } } } " + and_also +
         " } } kind: ALERT_KIND_REFERRAL priority: PRIORITY_URGENT protocol: "
         "\"look\" }\n";
}

// The division is on line 2 of the file.
std::vector<std::string> FoundOf(const std::string& division,
                                 const std::string& rules) {
  Files files = GoodFiles();
  files.erase("packs/small.textproto");
  files.erase("sites/harbour-row.textproto");
  files["packs/shared.textproto"] =
      "id: \"shared\" version: 1 title: \"t\"\ndivision { id: \"d\" "
      "instrument: \"mood-3\" " +
      division + " }\n" + rules;
  std::vector<std::string> lines;
  for (const Finding& finding :
       LoadConfiguration(files, {.review = true}).findings) {
    if (finding.line != 2) continue;
    lines.push_back(std::to_string(finding.column) + " " + finding.id + ": " +
                    finding.message);
  }
  return lines;
}

constexpr char kTwo[] = "rule: \"low\" rule: \"high\"";

TEST(Divisions, ExactlyOneRuleSpeaksOfEachTotal) {
  EXPECT_THAT(FoundOf(kTwo, RangeRule("low", 0, 6) + RangeRule("high", 7, 12)),
              IsEmpty());
}

TEST(Divisions, ATotalOfWhichNoneSpeaksIsAGap) {
  EXPECT_THAT(
      FoundOf(kTwo, RangeRule("low", 0, 3) + RangeRule("high", 10, 11)),
      ElementsAre(
          "1 division-gap: no rule of the division speaks of Mood-3 totals of "
          "4 to 8, 12 (willing, not enrolled; not willing, not enrolled; the "
          "wish not known, not enrolled; willing, enrolled; not willing, "
          "enrolled; the wish not known, enrolled)"));
}

TEST(Divisions, ATotalOfWhichTwoSpeakIsAnOverlap) {
  EXPECT_THAT(
      FoundOf(kTwo, RangeRule("low", 0, 6) + RangeRule("high", 6, 12)),
      ElementsAre(HasSubstr("1 division-overlap: more than one rule speaks of "
                            "Mood-3 totals of 6 (")));
}

TEST(Divisions, LowTotalsMayNeedNone) {
  const std::string rules = RangeRule("low", 4, 6) + RangeRule("high", 7, 12);
  EXPECT_THAT(FoundOf(std::string(kTwo) + " none_at_most { value: 2 }", rules),
              IsEmpty());
  EXPECT_THAT(FoundOf(std::string(kTwo) + " none_at_most { value: 1 }", rules),
              ElementsAre(HasSubstr("totals of 2 (")));
}

// An unknown wish is raised for review: the rule speaks.
TEST(Divisions, WishAndEnrolmentAreGoneThrough) {
  const std::string rules =
      RangeRule("low", 0, 6, "condition { willing {} }") +
      RangeRule("high", 7, 12, "condition { not { enrolled {} } }");
  EXPECT_THAT(
      FoundOf(kTwo, rules),
      ElementsAre("1 division-gap: no rule of the division speaks of Mood-3 "
                  "totals of 0 to 12 (not willing, enrolled)",
                  "1 division-gap: no rule of the division speaks of Mood-3 "
                  "totals of 0 to 6 (not willing, not enrolled)",
                  "1 division-gap: no rule of the division speaks of Mood-3 "
                  "totals of 8 to 12 (willing, enrolled; the wish not known, "
                  "enrolled)"));
  EXPECT_THAT(
      FoundOf(std::string(kTwo) + " among { all_of { condition { willing {} } "
                                  "condition { not { enrolled {} } } } }",
              rules),
      IsEmpty());
}

// Total 6 without a point on the self-harm item; 6 with one.
TEST(Divisions, EveryAnswerToTheSelfHarmItemIsGoneThrough) {
  const std::string harm =
      "condition { not { item { self_harm: true at_least { value: 2 } } } }";
  EXPECT_THAT(
      FoundOf(kTwo, RangeRule("low", 0, 6, harm) + RangeRule("high", 7, 12)),
      ElementsAre(HasSubstr("totals of 4 to 6 (")));
}

TEST(Divisions, MustBeWrittenWell) {
  const std::string rules = RangeRule("low", 0, 6) + RangeRule("high", 7, 12);
  EXPECT_THAT(FoundOf("rule: \"low\"", rules),
              ElementsAre("1 division-too-small: a division is between two "
                          "rules or more"));
  EXPECT_THAT(FoundOf("rule: \"low\" rule: \"hihg\"", rules),
              ElementsAre(HasSubstr("there is no rule \"hihg\"")));
  EXPECT_THAT(FoundOf(std::string(kTwo) + " none_at_most { value: 13 }", rules),
              ElementsAre(HasSubstr("none_at_most is 13 points")));
  std::string later = rules;
  later.replace(later.find("\"mood-3\" } }"), 12,
                "\"mood-3\" } after_days { value: 1 } }");
  EXPECT_THAT(FoundOf(kTwo, later),
              ElementsAre("41 division-rule-not-asked: rule \"low\" is not "
                          "asked about mood-3 at once"));
}

}  // namespace
}  // namespace turnstone
