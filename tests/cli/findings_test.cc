// Source: common practice, no source (path:line:column as compilers print it).
#include "clients/cli/render/findings.h"

#include <gtest/gtest.h>

#include "tests/cli/program.h"

namespace turnstone::cli {
namespace {

Finding Sample(int line, int column) {
  return {"packs/a.textproto",
          line,
          column,
          "no such setting",
          "write one of programme-lower, programme-upper",
          "unknown-name"};
}

TEST(Findings, ShowTheLineAndThePlace) {
  const std::map<std::string, std::string> files = {
      {"packs/a.textproto", "id: \"a\"\n\tsetting: \"uper\"\n"}};
  EXPECT_EQ(FindingText(Sample(2, 11), files, /*with_help=*/false),
            "packs/a.textproto:2:11: no such setting\n"
            "    |  setting: \"uper\"\n"
            "    |           ^\n"
            "    do this: write one of programme-lower, programme-upper\n");
}

TEST(Findings, StandAloneWithoutALine) {
  EXPECT_EQ(FindingText(Sample(0, 0), {}, /*with_help=*/false),
            "packs/a.textproto: no such setting\n"
            "    do this: write one of programme-lower, programme-upper\n");
  EXPECT_EQ(FindingText(Sample(99, 1), {{"packs/a.textproto", "x"}},
                        /*with_help=*/false),
            "packs/a.textproto:99:1: no such setting\n"
            "    do this: write one of programme-lower, programme-upper\n");
}

TEST(Findings, SayWhereToReadMore) {
  EXPECT_EQ(FindingText(Sample(0, 0), {}, /*with_help=*/true),
            "packs/a.textproto: no such setting\n"
            "    do this: write one of programme-lower, programme-upper\n"
            "    more: turnstone rules help unknown-name\n");
}

TEST(Findings, SayItOnceForEachId) {
  std::vector<Finding> three = {Sample(0, 0), Sample(0, 0), Sample(0, 0)};
  three[2].id = "wrong-unit";
  EXPECT_EQ(FindingsText(three, {}, /*json=*/false),
            FindingText(three[0], {}, /*with_help=*/true) +
                FindingText(three[1], {}, /*with_help=*/false) +
                FindingText(three[2], {}, /*with_help=*/true));
}

TEST(Findings, AreOneJsonObjectEach) {
  EXPECT_EQ(FindingJson(Sample(2, 11)),
            R"({"path":"packs/a.textproto","line":2,"column":11,)"
            R"("message":"no such setting",)"
            R"("advice":"write one of programme-lower, programme-upper",)"
            R"("id":"unknown-name"})");
}

TEST(Findings, StandOneBelowAnother) {
  const std::vector<Finding> two = {Sample(0, 0), Sample(0, 0)};
  EXPECT_EQ(FindingsText(two, {}, /*json=*/false),
            FindingText(two[0], {}, /*with_help=*/true) +
                FindingText(two[1], {}, /*with_help=*/false));
  EXPECT_EQ(FindingsText(two, {}, /*json=*/true),
            FindingJson(two[0]) + "\n" + FindingJson(two[1]) + "\n");
  EXPECT_EQ(FindingsText({}, {}, /*json=*/true), "");
}

TEST(Findings, HoldNoEscapes) {
  Finding finding = Sample(1, 3);
  finding.message = "\x1b[2J";
  EXPECT_EQ(FindingText(finding, {{"packs/a.textproto", "\x1b[2J"}},
                        /*with_help=*/false),
            "packs/a.textproto:1:3: \\u001b[2J\n"
            "    | \\u001b[2J\n"
            "    |        ^\n"
            "    do this: write one of programme-lower, programme-upper\n");
}

TEST(RulesCheck, NeedsAPathThatIsThere) {
  Program program;
  const Outcome outcome =
      program.RunAsWritten({"rules", "check", "/nowhere/at/all"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_NE(outcome.err.find("cannot read /nowhere/at/all"), std::string::npos);
}

}  // namespace
}  // namespace turnstone::cli
