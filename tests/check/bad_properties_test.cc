// Slips in property sets. Expectations: the comments of property.proto and, for
// what they do not say, plain reading; no outside source.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/check/load.h"
#include "tests/check/bad_file.h"
#include "tests/check/good_files.h"

namespace turnstone {
namespace {

using ::testing::Contains;
using ::testing::ElementsAreArray;
using ::testing::IsEmpty;

constexpr char kPath[] = "properties/own.textproto";
constexpr char kGood[] = R"(id: "own"
version: 1
title: "Own"
property {
  id: "speaks"
  title: "The item speaks"
  source: "invented"
  every_form { instrument: "mood-3" }
  given { item { self_harm: true at_least { value: 1 } } }
  raise { kind: ALERT_KIND_SAFETY at_least: PRIORITY_ASAP }
}
property {
  id: "alike"
  title: "On the item alone"
  source: "invented"
  every_form { instrument: "mood-3" }
  same_whatever_else { kind: ALERT_KIND_SAFETY kind: ALERT_KIND_REFERRAL }
}
property {
  id: "visits"
  title: "Visits"
  source: "invented"
  every_visit_history { visits_at_most: 12 }
  given { missed_in_a_row { at_least { value: 3 } } }
  raise { kind: ALERT_KIND_OUTREACH at_least: PRIORITY_ROUTINE }
}
property {
  id: "path"
  title: "Worse"
  source: "invented"
  every_score_path { instrument: "mood-3" forms_at_most: 2 }
  given { score { instrument: "mood-3" at_least { setting: "lower" } } }
  raise { kind: ALERT_KIND_REFERRAL at_least: PRIORITY_STAT }
}
property {
  id: "open"
  title: "Open"
  source: "invented"
  every_open_alert {}
  have_deadline {}
}
)";

LoadResult LoadWith(const std::string& text) {
  Files files = GoodFiles();
  files[kPath] = text;
  return LoadConfiguration(files, {.complete = true});
}

std::string With(const std::string& from, const std::string& to) {
  std::string text = kGood;
  const size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  EXPECT_EQ(text.find(from, at + 1), std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

TEST(PropertyTest, AGoodSet) {
  const LoadResult result = LoadWith(kGood);
  EXPECT_THAT(result.findings, IsEmpty());
  ASSERT_TRUE(result.configuration.has_value());
  ASSERT_EQ(result.configuration->property_set_size(), 1);
  EXPECT_EQ(result.configuration->property_set(0).property_size(), 5);
}

class BadPropertyTest : public ::testing::TestWithParam<BadFile> {};

TEST_P(BadPropertyTest, IsReported) {
  const LoadResult result = LoadWith(With(GetParam().from, GetParam().to));
  std::vector<std::string> found;
  for (const Finding& finding : result.findings) {
    EXPECT_EQ(finding.path, kPath);
    found.push_back(finding.ToString().substr(std::string(kPath).size()));
  }
  EXPECT_THAT(found, ElementsAreArray(GetParam().findings));
}

const std::vector<BadFile> kPropertySlips = {
    {"NoVersion",
     "version: 1\n",
     "\n",
     {": version is missing; write version: with a whole number of 1 or more"}},
    {"IdTwice",
     "id: \"alike\"",
     "id: \"speaks\"",
     {":13:3: property id \"speaks\" is used a second time; choose another; "
      "the first is on line 5"}},
    {"NoSource",
     "title: \"Visits\"\n  source: \"invented\"",
     "title: \"Visits\"",
     {":19:1: source is missing or empty; write source: \"...\" with a "
      "publication, \"common practice, no source\" or \"safety inference\""}},
    {"NoCases",
     "every_visit_history { visits_at_most: 12 }\n",
     "\n",
     {":19:1: the property does not say which cases to go through; write one "
      "of every_form, every_visit_history, every_score_path or "
      "every_open_alert"}},
    {"NothingMust",
     "  have_deadline {}\n",
     "",
     {":35:1: the property does not say what must be so; write one of raise, "
      "never_lower, same_whatever_else or have_deadline"}},
    {"UnknownInstrument",
     "every_form { instrument: \"mood-3\" }\n  given",
     "every_form { instrument: \"mood-4\" }\n  given",
     {":8:16: there is no instrument \"mood-4\"; did you mean \"mood-3\"? "
      "There is calm-2 or mood-3"}},
    {"TooManyVisits",
     "visits_at_most: 12",
     "visits_at_most: 13",
     {":23:25: visits_at_most is 13; write a whole number from 1 to 12"}},
    {"OneForm",
     "forms_at_most: 2",
     "forms_at_most: 1",
     {":31:43: forms_at_most is 1; write a whole number from 2 to 12"}},
    {"NoKind",
     "kind: ALERT_KIND_OUTREACH ",
     "",
     {":25:3: kind is missing; write kind: with one of ALERT_KIND_SAFETY, "
      "ALERT_KIND_REFERRAL, ALERT_KIND_STEPPED_CARE, ALERT_KIND_OUTREACH or "
      "ALERT_KIND_COACHING, once or more"}},
    {"NoPriority",
     " at_least: PRIORITY_STAT",
     "",
     {":33:3: at_least is missing; write at_least: with one of "
      "PRIORITY_ROUTINE, PRIORITY_URGENT, PRIORITY_ASAP or PRIORITY_STAT"}},
    {"DoesNotFit",
     "have_deadline {}",
     "never_lower { kind: ALERT_KIND_SAFETY }",
     {":40:3: never_lower cannot be asked over every_open_alert; write raise "
      "over forms, visit histories and score paths; never_lower and "
      "same_whatever_else over every_form; have_deadline over "
      "every_open_alert"}},
    {"GivenWithoutEvent",
     "have_deadline {}",
     "given { enrolled {} } have_deadline {}",
     {":40:3: every_open_alert has no event that given could be asked about; "
      "remove given { ... }"}},
    {"GivenOfAnotherEvent",
     "given { missed_in_a_row { at_least { value: 3 } } }",
     "given { willing {} }",
     {":24:11: willing looks at a screening, but the rule is asked about a "
      "visit_outcome; write when { screening { ... } }, or use another "
      "condition"}},
    {"UnknownSetting",
     "setting: \"lower\"",
     "setting: \"lowest\"",
     {":32:3: rule set \"small\" has no setting \"lowest\"; name a setting "
      "that every rule set has, or write the number out"}},
    {"SettingOfAnotherUnit",
     "setting: \"lower\"",
     "setting: \"patience\"",
     {":32:51: setting \"patience\" is in days, not in points; name a setting "
      "in points"}},
    {"NoSelfHarmItem",
     "every_form { instrument: \"mood-3\" }\n  same",
     "every_form { instrument: \"calm-2\" }\n  same",
     {":16:16: \"calm-2\" has no self-harm item for alerts to depend on; name "
      "an instrument that has one"}},
};

INSTANTIATE_TEST_SUITE_P(Slips, BadPropertyTest,
                         ::testing::ValuesIn(kPropertySlips),
                         [](const auto& slip) { return slip.param.name; });

// What is looked up in rule sets that were not given may be there.
TEST(PropertyTest, ASettingElsewhere) {
  EXPECT_THAT(LoadConfiguration({{kPath, kGood}}, {}).findings, IsEmpty());
}

// Each rule set may be the one it is proved of.
TEST(PropertyTest, ASettingOfOneRuleSetOnly) {
  Files files = GoodFiles();
  files[kPath] = kGood;
  std::string& other = files["packs/other.textproto"];
  other = files["packs/small.textproto"];
  for (const auto& [from, to] : std::map<std::string, std::string>{
           {"id: \"small\"", "id: \"other\""},
           {"name: \"lower\"", "name: \"low\""},
           {"setting: \"lower\"", "setting: \"low\""}}) {
    other.replace(other.find(from), from.size(), to);
  }
  std::vector<std::string> found;
  for (const Finding& finding :
       LoadConfiguration(files, {.complete = true}).findings) {
    found.push_back(finding.message);
    EXPECT_EQ(finding.id, "property-setting-unknown");
  }
  EXPECT_THAT(found, Contains("rule set \"other\" has no setting \"lower\""));
}

}  // namespace
}  // namespace turnstone
