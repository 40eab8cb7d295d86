// What trying out the rules finds. The rule set is small enough to be worked
// through by hand; no outside source but the comments of rule.proto, and for
// coverage the definition of masking MC/DC (DO-178C supporting information;
// Chilenski, DOT/FAA/AR-01/18).
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/check/load.h"
#include "tests/check/good_files.h"

namespace turnstone {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

// Two rules asked about Mood-3, whose totals are 0, 2, ... 12, and a practice
// rule; every kind of example each.
constexpr char kHead[] = R"(id: "tried" version: 1 title: "To be tried"
)";

std::string Header(const std::string& id) {
  return "id: \"" + id +
         "\" version: 1 title: \"t\" owner: \"o\" rationale: \"r\" source: "
         "\"invented\"";
}

constexpr char kAlert[] =
    "kind: ALERT_KIND_REFERRAL priority: PRIORITY_URGENT protocol: \"look\"";

// A rule on line 2 of the file, its condition on line 3, whatever follows it
// from line 5 on.
std::string Rule(const std::string& id, const std::string& when,
                 const std::string& condition, const std::string& examples) {
  return "rule { " + Header(id) + " when { " + when + " }\ncondition { " +
         condition + " }\n" + kAlert + "\n" + examples + "\n}\n";
}

std::string Form(const std::string& points, const std::string& more = "") {
  return "fact { day: 0 form { instrument: \"mood-3\" points: \"" + points +
         "\" " + more + " } }";
}

// One example a line.
std::string Example(const std::string& shows, const std::string& facts) {
  return "example { shows: " + shows + " " + facts + " }\n";
}

constexpr char kMood[] = "screening { instrument: \"mood-3\" }";
constexpr char kHigh[] =
    "score { instrument: \"mood-3\" at_least { value: 8 } }";

// 8 is the lowest total of the rule "high": two points are one step.
std::string HighExamples() {
  return Example("FIRES", Form("2 2 1")) + Example("SILENT", Form("0 0 0")) +
         Example("BOUNDARY answer: RAISES", Form("2 2 0")) +
         Example("MISSING_DATA answer: RAISES_FOR_REVIEW", Form("2 1 -"));
}

LoadResult Try(const std::string& rules) {
  Files files = GoodFiles();
  files.erase("packs/small.textproto");
  files.erase("sites/harbour-row.textproto");
  files["packs/tried.textproto"] = kHead + rules;
  return LoadConfiguration(files, {.review = true});
}

std::vector<std::string> Found(const LoadResult& result) {
  std::vector<std::string> lines;
  for (const Finding& finding : result.findings) {
    lines.push_back(std::to_string(finding.line) + ":" +
                    std::to_string(finding.column) + " " + finding.id + ": " +
                    finding.message + "; " + finding.advice);
  }
  return lines;
}

std::vector<std::string> FoundIn(const std::string& rules) {
  return Found(Try(rules));
}

TEST(Review, TheSmallRuleSetDoesWhatItsExamplesSay) {
  const LoadResult result =
      LoadConfiguration(GoodFiles(), {.complete = true, .review = true});
  EXPECT_THAT(Found(result), IsEmpty());
  ASSERT_EQ(result.coverage.size(), 1U);
  EXPECT_EQ(result.coverage[0].rule_set, "small");
  // Five, six and one single conditions, each both ways.
  EXPECT_EQ(result.coverage[0].total, 24);
  EXPECT_EQ(result.coverage[0].shown, 24);
}

TEST(Review, OnlyWhereItIsAskedFor) {
  Files files = GoodFiles();
  files["packs/tried.textproto"] = kHead + Rule("high", kMood, kHigh, "");
  EXPECT_THAT(LoadConfiguration(files, {}).findings, IsEmpty());
}

TEST(Review, NotWithoutTheInstruments) {
  const LoadResult result = LoadConfiguration(
      {{"packs/tried.textproto", kHead + Rule("high", kMood, kHigh, "")}},
      {.review = true});
  EXPECT_THAT(Found(result), IsEmpty());
  EXPECT_THAT(result.coverage, IsEmpty());
}

// A slip in the name must not leave the rules untried.
TEST(Review, AnExampleThatNamesAnUnknownInstrumentIsUnreadable) {
  EXPECT_THAT(
      FoundIn(Rule(
          "high", kMood, kHigh,
          HighExamples() + Example("SILENT",
                                   "fact { day: 0 form { instrument: \"mod-3\" "
                                   "total: 4 } }"))),
      ElementsAre("9:25 example-unreadable: there is no instrument \"mod-3\"; "
                  "write one of calm-2, mood-3"));
}

TEST(Review, EveryKindOfExampleMustBeThere) {
  EXPECT_THAT(FoundIn(Rule("high", kMood, kHigh, HighExamples())), IsEmpty());
  EXPECT_THAT(
      FoundIn(
          Rule("high", kMood, kHigh,
               Example("FIRES", Form("2 2 1")) +
                   Example("BOUNDARY answer: DOES_NOT_RAISE", Form("2 1 0")))),
      ElementsAre("2:1 example-missing: rule \"high\" has no example for "
                  "SILENT, MISSING_DATA; add example { shows: ... fact { day: "
                  "0 ... } } for each"));
}

TEST(Review, AnExampleMustSayWhatTheRuleAnswers) {
  EXPECT_THAT(
      FoundIn(Rule("high", kMood, kHigh,
                   HighExamples() + Example("FIRES", Form("1 1 0")))),
      ElementsAre("9:1 example-wrong: the example says that rule \"high\" "
                  "raises, but it does not raise: The Mood-3 total is 4 (lower "
                  "half) on 4 Jan 2027, which is not 8 or more.; mend the "
                  "example, or the rule"));
  EXPECT_THAT(
      FoundIn(Rule("high", kMood, kHigh,
                   HighExamples() + Example("SILENT", Form("2 1 -")))),
      ElementsAre(HasSubstr("does not raise, but it raises for review: To be "
                            "checked by a person, information is missing: ")));
}

TEST(Review, AnExampleMustSayAllThereIsToSay) {
  const auto found = [](const std::string& example) {
    return FoundIn(Rule("high", kMood, kHigh, HighExamples() + example));
  };
  EXPECT_THAT(found("example { " + Form("0") + " }"),
              ElementsAre(HasSubstr(
                  "9:1 example-unreadable: the example does not say what it "
                  "shows; write shows: with one of FIRES, SILENT, BOUNDARY or "
                  "MISSING_DATA")));
  EXPECT_THAT(found(Example("BOUNDARY", Form("2 2 0"))),
              ElementsAre(HasSubstr(
                  "9:1 example-unreadable: the example does not say what the "
                  "rule answers; write answer: with one of RAISES, "
                  "RAISES_FOR_REVIEW or DOES_NOT_RAISE")));
  EXPECT_THAT(
      found(Example("SILENT answer: RAISES", Form("2 2 0"))),
      ElementsAre(HasSubstr("SILENT cannot go with the answer RAISES")));
  // The fact stands in the 26th column.
  EXPECT_THAT(
      found(Example("SILENT", Form("0 3 0"))),
      ElementsAre("9:25 example-unreadable: \"3\" is no answer to item 2 of "
                  "mood-3, \"no pleasure\"; write one of 0, 1, 2, or - for "
                  "unanswered"));
}

// 12 points are out of reach of one step below 8; 8 and 6 are at the edge.
TEST(Review, ABoundaryExampleMustStandAtABoundary) {
  EXPECT_THAT(
      FoundIn(Rule("high", kMood, kHigh,
                   HighExamples() + Example("BOUNDARY answer: DOES_NOT_RAISE",
                                            Form("0 0 0")))),
      ElementsAre(HasSubstr("9:1 example-not-at-a-boundary: ")));
  EXPECT_THAT(
      FoundIn(Rule("high", kMood, kHigh,
                   HighExamples() + Example("BOUNDARY answer: DOES_NOT_RAISE",
                                            Form("2 1 0")))),
      IsEmpty());
}

TEST(Review, EachConditionMustBeShownToMatterBothWays) {
  // high and not enrolled: nobody enrolled is shown.
  const std::string condition = std::string("all_of { condition { ") + kHigh +
                                " }\ncondition { not { enrolled {} } } }";
  const LoadResult result = Try(Rule("new", kMood, condition, HighExamples()));
  EXPECT_THAT(
      Found(result),
      ElementsAre("4:19 condition-not-shown: no example shows that it matters "
                  "that the participant is enrolled; add an example in which "
                  "the Mood-3 total is 8 or more, and the participant is "
                  "enrolled"));
  ASSERT_EQ(result.coverage.size(), 1U);
  EXPECT_EQ(result.coverage[0].shown, 3);
  EXPECT_EQ(result.coverage[0].total, 4);
  EXPECT_THAT(FoundIn(Rule("new", kMood, condition,
                           HighExamples() +
                               Example("SILENT", "fact { day: 0 enrolled {} }" +
                                                     Form("2 2 2")))),
              IsEmpty());
}

// Total of 4 or less, and of 8 or more: never; of 8 or less, or 4 or more:
// always.
TEST(Review, ARuleMustBeAbleToGoEitherWay) {
  const auto low = [](int total) {
    return "condition { score { instrument: \"mood-3\" at_most { value: " +
           std::to_string(total) + " } } }";
  };
  const auto high = [](int total) {
    return "condition { score { instrument: \"mood-3\" at_least { value: " +
           std::to_string(total) + " } } }";
  };
  EXPECT_THAT(
      FoundIn(Rule("never", kMood, "all_of { " + low(4) + high(8) + " }", "")),
      ::testing::Contains(
          "3:1 rule-never-speaks: rule \"never\" can never apply: its "
          "conditions cannot hold together; mend the condition, or remove the "
          "rule"));
  EXPECT_THAT(
      FoundIn(Rule("always", kMood, "any_of { " + low(8) + high(4) + " }", "")),
      ::testing::Contains(HasSubstr("3:1 rule-always-speaks: ")));
  EXPECT_THAT(
      FoundIn(Rule("well", kMood, "any_of { " + low(4) + high(8) + " }", "")),
      Not(::testing::Contains(HasSubstr("-speaks"))));
}

TEST(Review, AConditionMustBeAbleToGoEitherWay) {
  // Every total is 0 or more.
  EXPECT_THAT(
      FoundIn(Rule("some", kMood,
                   "all_of { condition { willing {} }\ncondition { score { "
                   "instrument: \"mood-3\" at_least { value: 0 } } } }",
                   "")),
      ::testing::Contains(
          "4:13 condition-constant: this always holds, or cannot be told: the "
          "Mood-3 total is 0 or more; mend it, or remove it"));
  // "A, or A and B" is A.
  EXPECT_THAT(
      FoundIn(Rule("absorbed", kMood,
                   std::string("any_of { condition { enrolled {} } condition { "
                               "all_of { condition { enrolled {} }\ncondition "
                               "{ ") +
                       kHigh + " } } } }",
                   "")),
      ::testing::Contains(
          HasSubstr("4:13 condition-constant: whatever else is so, it makes no "
                    "difference whether the Mood-3 total is 8 or more")));
}

TEST(Review, NoTwoRulesSayTheSame) {
  const std::string twins = Rule("one", kMood, kHigh, HighExamples()) +
                            Rule("two", kMood, kHigh, HighExamples());
  EXPECT_THAT(FoundIn(twins),
              ElementsAre("12:1 same-condition-as: rule \"one\" has the same "
                          "condition for the same event, on line 3; remove one "
                          "of the rules, or tell them apart"));
  EXPECT_THAT(
      FoundIn(Rule("one", kMood, kHigh, HighExamples()) +
              Rule("two", std::string(kMood) + " after_days { value: 1 }",
                   kHigh, HighExamples())),
      IsEmpty());
}

}  // namespace
}  // namespace turnstone
