// Loading as a whole. Expectations: the comments of load.h; no outside source.
#include "rules/check/load.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "platform/files.h"
#include "tests/check/good_files.h"

namespace turnstone {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::vector<std::string> Lines(const LoadResult& result) {
  std::vector<std::string> lines;
  for (const Finding& finding : result.findings) {
    lines.push_back(finding.ToString());
  }
  return lines;
}

TEST(LoadTest, GoodFilesGiveAConfiguration) {
  const LoadResult result = LoadConfiguration(GoodFiles(), {.complete = true});
  EXPECT_THAT(Lines(result), IsEmpty());
  ASSERT_TRUE(result.configuration.has_value());
  EXPECT_EQ(result.configuration->instrument_size(), 2);
  EXPECT_EQ(result.configuration->rule_set_size(), 1);
  EXPECT_EQ(result.configuration->site_size(), 1);
  EXPECT_EQ(result.configuration->site(0).override(0).value(), 10);
}

TEST(LoadTest, EachFileIsGoodAlone) {
  for (const auto& [path, text] : GoodFiles()) {
    const LoadResult result = LoadConfiguration({{path, text}}, {});
    EXPECT_THAT(Lines(result), IsEmpty());
    EXPECT_TRUE(result.configuration.has_value()) << path;
  }
}

TEST(LoadTest, OneFindingRefusesTheWholeSet) {
  Files files = GoodFiles();
  files["packs/other.textproto"] = "id: \"other\"";
  const LoadResult result = LoadConfiguration(files, {.complete = true});
  EXPECT_FALSE(result.findings.empty());
  EXPECT_FALSE(result.configuration.has_value());
}

TEST(LoadTest, WithoutASiteNothingIsComplete) {
  Files files = GoodFiles();
  files.erase("sites/harbour-row.textproto");
  EXPECT_THAT(Lines(LoadConfiguration(files, {.complete = true})),
              ElementsAre("sites/: there is no site; add a file that describes "
                          "one"));
  EXPECT_THAT(Lines(LoadConfiguration(files, {})), IsEmpty());
}

TEST(LoadTest, TheFolderTellsTheKind) {
  Files files = GoodFiles();
  files["notes/x.textproto"] = "";
  EXPECT_THAT(
      Lines(LoadConfiguration(files, {.complete = true})),
      ElementsAre(
          "notes/x.textproto: the folder does not tell what the file "
          "is; move it to a folder named instruments, packs, properties "
          "or sites"));
}

TEST(LoadTest, AnIdIsUsedOnceOverAllFiles) {
  Files files = GoodFiles();
  files["sites/twin.textproto"] = files["sites/harbour-row.textproto"];
  EXPECT_THAT(
      Lines(LoadConfiguration(files, {.complete = true})),
      ElementsAre("sites/twin.textproto:2:1: site id \"harbour-row\" is used a "
                  "second time; choose another; the first is in "
                  "sites/harbour-row.textproto"));
}

TEST(LoadTest, APanelCodeIsUsedOnceOverAllFiles) {
  const Files files = GoodFilesBut("instruments/calm-2.textproto", "direction",
                                   "panel_code: \"mood-3-panel\" direction");
  EXPECT_THAT(
      Lines(LoadConfiguration(files, {.complete = true})),
      ElementsAre("instruments/mood-3.textproto:4:1: panel code "
                  "\"mood-3-panel\" is used a second time; choose another; the "
                  "first is in instruments/calm-2.textproto"));
}

// A slip in one file must not be reported in every file that refers to it.
TEST(LoadTest, AnUnreadableFileIsNotAMissingOne) {
  Files files =
      GoodFilesBut("packs/small.textproto", "version: 1\ntitle", "title");
  files["packs/small.textproto"] += "}";
  EXPECT_THAT(Lines(LoadConfiguration(files, {.complete = true})),
              ElementsAre("packs/small.textproto:202:1: \"}\" closes nothing; "
                          "remove it, or add the \"{\" it belongs to"));
}

TEST(LoadTest, FindingsAreInOrderOfPathLineAndColumn) {
  Files files = GoodFilesBut("packs/small.textproto", "version: 1\ntitle",
                             "version: 0\ntitle");
  files["instruments/a.textproto"] = "name: x nam: \"y\"\nid: 1";
  EXPECT_THAT(
      Lines(LoadConfiguration(files, {})),
      ElementsAre(::testing::StartsWith("instruments/a.textproto:1:7: "),
                  ::testing::StartsWith("instruments/a.textproto:1:9: "),
                  ::testing::StartsWith("instruments/a.textproto:2:5: "),
                  ::testing::StartsWith("packs/small.textproto:3:1: ")));
}

TEST(LoadTest, AProtocolIdIsOneThatASiteCanHave) {
  const std::string path = "packs/small.textproto";
  Files files = GoodFilesBut(path, "\"look\"", "\"Look!\"");
  EXPECT_THAT(
      Lines(LoadConfiguration({{path, files[path]}}, {})),
      ElementsAre(path +
                  ":40:3: protocol \"Look!\" holds other characters than "
                  "lower-case letters, digits and hyphens; write it with "
                  "lower-case letters, digits and hyphens only, such as "
                  "\"low-score-2\""));
}

// A rule set of `count` rules, each with its condition `depth` deep.
Files Rules(int count, int depth) {
  std::string condition;
  for (int i = 1; i < depth; ++i) condition += "not { ";
  condition += "enrolled {}" + std::string(static_cast<size_t>(depth - 1), '}');
  std::string text = "id: \"many\" version: 1 title: \"t\"\n";
  for (int i = 0; i < count; ++i) {
    text += "rule { id: \"r" + std::to_string(i) +
            "\" version: 1 title: \"t\" owner: \"o\" rationale: \"r\" source: "
            "\"s\" when { enrolment {} } condition { " +
            condition +
            " } kind: ALERT_KIND_REFERRAL priority: PRIORITY_URGENT protocol: "
            "\"p\" }\n";
  }
  return {{"packs/many.textproto", text}};
}

TEST(LoadTest, RuleSetsAndConditionsHaveLimits) {
  EXPECT_THAT(Lines(LoadConfiguration(Rules(500, 20), {})), IsEmpty());
  EXPECT_THAT(Lines(LoadConfiguration(Rules(501, 1), {})),
              ElementsAre("packs/many.textproto:502:1: the rule set has more "
                          "than 500 rules; split it, or remove rules"));
  EXPECT_THAT(Lines(LoadConfiguration(Rules(1, 21), {})),
              ElementsAre(::testing::HasSubstr(
                  "conditions are nested more than 20 deep")));
  // Far beyond: refused before it can exhaust the stack.
  EXPECT_THAT(Lines(LoadConfiguration(Rules(1, 10000), {})),
              ElementsAre(::testing::HasSubstr(
                  "messages are nested too deeply; nest them less deeply")));
}

// The files we ship; the one thing they lack is a site.
TEST(LoadTest, ShippedRulesAreSound) {
  const auto files =
      ReadTextprotos(std::string(TURNSTONE_SOURCE_DIR) + "/rules");
  ASSERT_TRUE(files.ok()) << files.status();
  ASSERT_FALSE(files->empty());
  EXPECT_THAT(Lines(LoadConfiguration(*files, {})), IsEmpty());
  EXPECT_THAT(Lines(LoadConfiguration(*files, {.complete = true})),
              ElementsAre("sites/: there is no site; add a file that describes "
                          "one"));
}

}  // namespace
}  // namespace turnstone
