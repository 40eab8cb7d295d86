// Source: common practice, no source.
#include <absl/strings/str_split.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "rules/check/help.h"
#include "tests/cli/program.h"

namespace turnstone::cli {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::SizeIs;
using ::testing::StartsWith;

// The words of rules/check/help/coaching-alert-latched.md, wrapped by hand.
TEST(RulesHelp, IsAPlainPage) {
  Program program;
  const Outcome outcome =
      program.RunAsWritten({"rules", "help", "coaching-alert-latched"});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_EQ(outcome.err, "");
  EXPECT_EQ(
      outcome.out,
      "coaching-alert-latched\n"
      "\n"
      "A coaching alert is marked as latched.\n"
      "\n"
      "A latched alert stays until somebody with the right to do so closes "
      "it.\n"
      "Coaching is a hint to the visiting person; too many of those among the "
      "latched\n"
      "ones hide the ones that matter.\n"
      "\n"
      "For example:\n"
      "\n"
      "    kind: ALERT_KIND_COACHING\n"
      "    latched: true\n"
      "\n"
      "Put right:\n"
      "\n"
      "    kind: ALERT_KIND_COACHING\n");
}

TEST(RulesHelp, ListsEveryIdWithASentence) {
  Program program;
  const Outcome outcome = program.RunAsWritten({"rules", "help"});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_THAT(outcome.out, StartsWith("address-not-needed "));
  EXPECT_THAT(outcome.out,
              HasSubstr(" A coaching alert is marked as latched.\n"));
  for (const std::string& id : FindingIds()) {
    EXPECT_THAT("\n" + outcome.out, HasSubstr("\n" + id + "  "));
  }
  const std::vector<std::string> lines = absl::StrSplit(outcome.out, '\n');
  for (const std::string& line : lines) {
    EXPECT_THAT(line, SizeIs(::testing::Le(96)));
  }
}

TEST(RulesHelp, SuggestsTheIdThatWasMeant) {
  Program program;
  const Outcome outcome =
      program.RunAsWritten({"rules", "help", "rule-without-sauce"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_EQ(outcome.err,
            "turnstone: there is no finding \"rule-without-sauce\"; did you "
            "mean rule-without-source? \"turnstone rules help\" lists them "
            "all\n");
}

TEST(RulesHelp, SuggestsNothingUnlike) {
  Program program;
  const Outcome outcome = program.RunAsWritten({"rules", "help", "xyz"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_THAT(outcome.err,
              AllOf(Not(HasSubstr("did you mean")),
                    HasSubstr("\"turnstone rules help\" lists them all")));
}

TEST(RulesHelp, IsJsonToo) {
  Program program;
  const Outcome one =
      program.RunAsWritten({"rules", "help", "wrong-unit", "--json"});
  EXPECT_EQ(
      nlohmann::json::parse(one.out),
      nlohmann::json({{"id", "wrong-unit"}, {"help", *HelpFor("wrong-unit")}}));
  const Outcome all = program.RunAsWritten({"rules", "help", "--json"});
  EXPECT_EQ(
      static_cast<size_t>(std::count(all.out.begin(), all.out.end(), '\n')),
      FindingIds().size());
}

}  // namespace
}  // namespace turnstone::cli
