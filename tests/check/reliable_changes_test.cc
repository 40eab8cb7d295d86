// Numbers taken from a reliability. Expected points: clinical sources, cases 35
// and 36 (PHQ-9 6.7633, GAD-7 3.6848, both rounded up).
#include "rules/check/reliable_changes.h"

#include <gtest/gtest.h>

#include "rules/check/load.h"
#include "rules/engine/setup.h"
#include "tests/check/good_files.h"

namespace turnstone {
namespace {

// The setting "upper", with `change` in place of its value.
SettingInForce Upper(const std::string& change) {
  const LoadResult result = LoadConfiguration(
      GoodFilesBut("packs/small.textproto", "value: 8", change),
      {.complete = true});
  EXPECT_TRUE(result.configuration.has_value());
  if (!result.configuration) return {};
  v1::Configuration configuration = *result.configuration;
  configuration.mutable_site(0)->clear_override();
  const Setup setup(configuration, "");
  return setup.FindSite("harbour-row")->settings.at("upper");
}

TEST(ReliableChanges, FollowFromSpreadAndReliability) {
  const SettingInForce phq = Upper(
      "reliable_change { instrument: \"mood-3\" standard_deviation: 6.1 "
      "reliability: 0.84 }");
  EXPECT_EQ(phq.value, 7);
  EXPECT_EQ(phq.whose,
            "rule set, mood-3 with standard deviation 6.1 and reliability "
            "0.84");
  EXPECT_EQ(Upper("reliable_change { instrument: \"mood-3\" "
                  "standard_deviation: 4.7 reliability: 0.92 }")
                .value,
            4);
}

TEST(ReliableChanges, SiteTakesItsOwn) {
  const LoadResult result = LoadConfiguration(
      GoodFilesBut("sites/harbour-row.textproto", "value: 10",
                   "reliable_change { instrument: \"mood-3\" "
                   "standard_deviation: 6.1 reliability: 0.84 }"),
      {.complete = true});
  ASSERT_TRUE(result.configuration.has_value());
  const turnstone::Setup setup(*result.configuration, "");
  const SettingInForce upper =
      setup.FindSite("harbour-row")->settings.at("upper");
  EXPECT_EQ(upper.value, 7);
  EXPECT_EQ(upper.whose,
            "site, mood-3 with standard deviation 6.1 and reliability 0.84");
}

// Points of one scale say nothing of another.
TEST(ReliableChanges, AreOfTheInstrumentTheyAreUsedFor) {
  Files files = GoodFilesBut("packs/small.textproto", "value: 8",
                             "reliable_change { instrument: \"mood-3\" "
                             "standard_deviation: 3 reliability: 0.8 }");
  std::string& pack = files.at("packs/small.textproto");
  const std::string from = "at_least { value: 2 }\n        }";
  ASSERT_NE(pack.find(from), std::string::npos);
  pack.replace(pack.find(from), from.size(),
               "at_least { setting: \"upper\" }\n        }");
  const LoadResult result = LoadConfiguration(files, {.complete = true});
  ASSERT_FALSE(result.findings.empty());
  EXPECT_EQ(result.findings[0].message,
            "setting \"upper\" is a reliable change of mood-3, not of calm-2");
}

TEST(ReliableChanges, FromAPresetOfAnotherFileAreMissedOnlyWhenUsed) {
  Files files = GoodFilesBut("packs/small.textproto", "value: 8",
                             "reliable_change { instrument: \"mood-3\" preset: "
                             "\"elsewhere\" }");
  for (auto file = files.begin(); file != files.end();) {
    file =
        file->first.starts_with("packs/") ? std::next(file) : files.erase(file);
  }
  const LoadResult result = LoadConfiguration(files, {});
  ASSERT_TRUE(result.configuration.has_value());
  EXPECT_EQ(NumbersAreKnown(*result.configuration).message(),
            "the number upper of small comes from mood-3, which is not among "
            "the files; add the folder with instruments/");
}

}  // namespace
}  // namespace turnstone
