// Source of the sentences: README.md's own promises, written out by hand.
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/cli/program.h"

namespace turnstone::cli {
namespace {

constexpr char kPack[] = R"(
id: "pack" version: 3 title: "Pack"
setting {
  name: "low" value: 80 low: 1 high: 100 unit: "percent" source: "-"
}
rule {
  id: "confidence" version: 2 title: "Out of reach" owner: "lead"
  rationale: "-" source: "somebody | someone, a publication whose name is long"
  when { practice_report {} }
  condition { confidence_below { percent { setting: "low" } } }
  kind: ALERT_KIND_COACHING priority: PRIORITY_ROUTINE protocol: "p"
}
)";

constexpr char kSite[] = R"(
id: "bay" name: "Bay" time_zone: "Europe/Dublin" rule_set: "pack"
planned_visits: 8
calendar { working_day: MONDAY day_start: "09:00" day_end: "17:00" }
override { name: "low" value: 70 reason: "-" }
protocol { id: "p" title: "P" text: "-" version: 1 review_by: "2027-12-31" }
closing_outcome { id: "done" title: "Done" }
immediate_danger: "-"
version: 1
longest_hold_days: 30
role { id: "lead" title: "Lead" may: WORK may: CLOSE_LATCHED }
person { id: "r.sorrel" role: "lead" }
rota {
  role: "lead"
  rotation {
    person: "r.sorrel" starts_on: "2026-01-05" hand_over_at: "09:00" days_each: 7
  }
}
ladder {
  id: "all"
  priority: PRIORITY_ROUTINE priority: PRIORITY_URGENT priority: PRIORITY_ASAP
  priority: PRIORITY_STAT
  until_received {
    rung { tell { everybody: "lead" } }
    repeat_every { hours: 1 }
  }
  until_closed {
    rung { after { hours: 4 } tell { everybody: "lead" } }
    repeat_every { hours: 4 }
  }
}
)";

class RulesDescribe : public testing::Test {
 protected:
  void SetUp() override {
    for (const char* folder : {"packs", "sites"}) {
      std::filesystem::create_directories(root_ / folder);
    }
    Write("packs/pack.textproto", kPack);
  }
  void TearDown() override { std::filesystem::remove_all(root_); }

  void Write(const std::string& name, const std::string& text) {
    std::ofstream(root_ / name) << text;
  }
  Outcome Describe(std::vector<std::string> options = {},
                   const std::string& below = "packs") {
    options.insert(options.begin(),
                   {"rules", "describe", (root_ / below).string()});
    Program program;
    return program.RunAsWritten(options);
  }

  const std::filesystem::path root_ =
      std::filesystem::path(testing::TempDir()) /
      ("rules_describe_" + std::to_string(::getpid()));
};

TEST_F(RulesDescribe, ForAPerson) {
  const Outcome outcome = Describe();
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(
      outcome.out,
      "pack, confidence, version 2: Out of reach\n"
      "  asked        when a practice report comes in\n"
      "  raises when  the confidence in doing the practice is below 80 % "
      "(low); "
      "if\n"
      "               that cannot be told, raised for review at priority "
      "routine\n"
      "  alert        coaching, routine\n"
      "  source       somebody | someone, a publication whose name is long\n");
}

TEST_F(RulesDescribe, AsATable) {
  EXPECT_EQ(Describe({"--markdown"}).out,
            "| rule | asked | raises when | alert | source |\n"
            "|---|---|---|---|---|\n"
            "| `confidence` | when a practice report comes in | the "
            "confidence in doing the practice is below 80 % (low); if that "
            "cannot be told, raised for review at priority routine | coaching, "
            "routine | somebody \\| someone, a publication whose name is long "
            "|\n");
}

TEST_F(RulesDescribe, AsJson) {
  const auto json = nlohmann::json::parse(Describe({"--json"}).out);
  EXPECT_EQ(json["ruleSet"], "pack");
  EXPECT_EQ(json["rule"], "confidence");
  EXPECT_EQ(json["version"], 2);
  EXPECT_EQ(json["title"], "Out of reach");
  EXPECT_EQ(json["asked"], "when a practice report comes in");
  EXPECT_EQ(json["raisesWhen"],
            "the confidence in doing the practice is below 80 % (low); if that "
            "cannot be told, raised for review at priority routine");
  EXPECT_EQ(json["alert"], "coaching, routine");
  EXPECT_EQ(json["source"],
            "somebody | someone, a publication whose name is long");
}

TEST_F(RulesDescribe, WithASitesNumbers) {
  Write("sites/bay.textproto", kSite);
  const Outcome own = Describe({}, "");
  EXPECT_NE(own.out.find("is below 80 % (low);"), std::string::npos) << own.err;
  const Outcome site = Describe({"--site", "bay"}, "");
  EXPECT_EQ(site.code, 0) << site.err;
  EXPECT_NE(site.out.find("is below 70 % (low, site);"), std::string::npos)
      << site.out;
}

TEST_F(RulesDescribe, SaysWhoseNumbersAPersonReads) {
  const std::string note =
      "Numbers of the rule set; for those of a site add --site ID (bay)\n\n";
  EXPECT_EQ(Describe({}, "").out.find("Numbers of"), std::string::npos);
  Write("sites/bay.textproto", kSite);
  EXPECT_EQ(Describe({}, "").out.rfind(note + "pack, confidence", 0), 0U);
  for (const std::vector<std::string>& options :
       {std::vector<std::string>{"--markdown"},
        {"--json"},
        {"--site", "bay"}}) {
    const Outcome outcome = Describe(options, "");
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(outcome.out.find("Numbers of"), std::string::npos) << options[0];
  }
}

TEST_F(RulesDescribe, ASiteThatIsNotThere) {
  const Outcome none = Describe({"--site", "bay"});
  EXPECT_EQ(none.code, 2);
  EXPECT_NE(none.err.find("there is no site among the files"),
            std::string::npos)
      << none.err;
  Write("sites/bay.textproto", kSite);
  const Outcome other = Describe({"--site", "bey"}, "");
  EXPECT_EQ(other.code, 2);
  EXPECT_NE(other.err.find("there is no site bey; write one of bay"),
            std::string::npos)
      << other.err;
  const Outcome alone = Describe({"--site", "bay"}, "sites/bay.textproto");
  EXPECT_EQ(alone.code, 2);
  EXPECT_NE(alone.err.find("the rule set of bay, pack, is not among the files"),
            std::string::npos)
      << alone.err;
}

TEST_F(RulesDescribe, NothingToDescribe) {
  Write("sites/bay.textproto", kSite);
  const Outcome outcome = Describe({}, "sites/bay.textproto");
  EXPECT_EQ(outcome.code, 2);
  EXPECT_NE(outcome.err.find("there is no rule set among the files"),
            std::string::npos)
      << outcome.err;
  EXPECT_EQ(Describe({}, "nowhere").code, 2);
}

TEST_F(RulesDescribe, WhatIsRefused) {
  Write("packs/pack.textproto", "id: \"pack\" version: 0 title: \"Pack\"");
  const Outcome outcome = Describe();
  EXPECT_EQ(outcome.code, 1);
  EXPECT_EQ(outcome.out, "");
  EXPECT_NE(outcome.err.find("pack.textproto:1:"), std::string::npos);
  EXPECT_NE(outcome.err.find("refused"), std::string::npos) << outcome.err;
}

// A published figure whose instrument was not given.
TEST_F(RulesDescribe, ANumberThatIsElsewhere) {
  std::string pack = kPack;
  const std::string number = "value: 80";
  pack.replace(pack.find(number), number.size(),
               "reliable_change { instrument: \"phq-9\" preset: \"own\" }");
  pack.replace(pack.find("percent\" source"), 7, "points");
  const std::string use = "confidence_below { percent { setting: \"low\" } }";
  pack.replace(pack.find(use), use.size(),
               "worse_by { instrument: \"phq-9\" than: COMPARED_WITH_BEST "
               "at_least { setting: \"low\" } }");
  Write("packs/pack.textproto", pack);
  const Outcome outcome = Describe();
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_NE(outcome.err.find("low of pack comes from phq-9"), std::string::npos)
      << outcome.err;
}

TEST_F(RulesDescribe, HoldsNoEscapes) {
  std::string pack = kPack;
  pack.replace(pack.find("Out of reach"), 12, "\\033[2J");
  pack.replace(pack.find("somebody"), 8, "\\033[3J");
  Write("packs/pack.textproto", pack);
  for (const std::string option : {"--markdown", "--json", ""}) {
    const Outcome outcome = option.empty() ? Describe() : Describe({option});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(outcome.out.find('\x1b'), std::string::npos) << option;
    EXPECT_NE(outcome.out.find("\\u001b[3J"), std::string::npos) << outcome.out;
  }
}

}  // namespace
}  // namespace turnstone::cli
