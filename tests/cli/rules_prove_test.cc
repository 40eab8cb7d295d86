// Source of the sentences: written out by hand from the rules below.
#include <gmock/gmock.h>
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

using testing::HasSubstr;
using testing::Not;

constexpr char kInstrument[] = R"(
id: "two" name: "Two" direction: DIRECTION_HIGHER_IS_WORSE
item { code: "t-1" label: "first" answers: "often" }
item { code: "t-2" label: "self-harm" answers: "often" self_harm: true }
answer_list {
  id: "often"
  answer { code: "never" label: "never" score: 0 }
  answer { code: "always" label: "always" score: 1 }
}
band { low: 0 high: 2 label: "all" }
band_source: "invented"
rights: "invented" source: "invented"
)";

// AT_LEAST stands for a number.
constexpr char kRules[] = R"(
id: "pack" version: 3 title: "Pack"
rule {
  id: "item" version: 1 title: "Item" owner: "lead" rationale: "-"
  source: "invented"
  when { screening { instrument: "two" } }
  condition { any_of {
    condition { item_unanswered { self_harm: true } }
    condition { score { instrument: "two" at_least { value: AT_LEAST } } }
  } }
  kind: ALERT_KIND_SAFETY priority: PRIORITY_STAT latched: true protocol: "p"
}
)";

constexpr char kProperties[] = R"(
id: "own" version: 1 title: "Own"
property {
  id: "speaks" title: "The item speaks" source: "invented"
  every_form { instrument: "two" }
  given { item { self_harm: true at_least { value: 1 } } }
  raise { kind: ALERT_KIND_SAFETY at_least: PRIORITY_ASAP }
}
property {
  id: "told" title: "Somebody is told" source: "invented"
  every_open_alert {}
  have_deadline {}
}
)";

class RulesProve : public testing::Test {
 protected:
  void SetUp() override {
    Write("instruments/two.textproto", kInstrument);
    Write("properties/own.textproto", kProperties);
    WriteRules("1");
  }
  void TearDown() override { std::filesystem::remove_all(root_); }

  void Write(const std::string& name, const std::string& text) {
    std::filesystem::create_directories((root_ / name).parent_path());
    std::ofstream(root_ / name) << text;
  }
  void WriteRules(const std::string& at_least) {
    std::string rules = kRules;
    const std::string mark = "AT_LEAST";
    Write("packs/pack.textproto",
          rules.replace(rules.find(mark), mark.size(), at_least));
  }
  Outcome Prove(std::vector<std::string> options = {}, bool terminal = false) {
    options.insert(options.begin(), {"rules", "prove", root_.string()});
    Program program;
    program.terminal = terminal;
    return program.RunAsWritten(options);
  }

  const std::filesystem::path root_ =
      std::filesystem::path(testing::TempDir()) /
      ("rules_prove_" + std::to_string(::getpid()));
};

// Of nine forms three have the item positive; three wishes, enrolled or not.
// Two questions with three states each, and three totals: twelve, six times.
TEST_F(RulesProve, Holds) {
  const Outcome outcome = Prove();
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(
      outcome.out,
      "rule set pack version 3, numbers of its own (open alerts are left "
      "out: they need a site)\n"
      "\n"
      "holds        speaks\n"
      "             The item speaks\n"
      "             18 cases, 72 put to the rules, 72 states, "
      "0.0 s\n"
      "\n"
      "1 property: 1 hold, 0 fail, 0 are not decided; 18 cases, 72 put to "
      "the rules, 72 states, 0.0 s\n");
  EXPECT_EQ(outcome.err, "");
}

// One point on the item and none on the other question comes to 1.
TEST_F(RulesProve, Fails) {
  WriteRules("2");
  const std::string file = (root_ / "case.jsonl").string();
  const Outcome outcome = Prove({"--save", file});
  EXPECT_EQ(outcome.code, 1) << outcome.err;
  const size_t brace = outcome.out.find('{');
  ASSERT_NE(brace, std::string::npos) << outcome.out;
  const std::string line =
      outcome.out.substr(brace, outcome.out.find('\n', brace) + 1 - brace);
  EXPECT_THAT(
      outcome.out,
      HasSubstr("FAILS        speaks\n"
                "             The item speaks\n"
                "             18 cases, 72 put to the rules, 72 states, 0.0 s\n"

                "             in this case:\n"
                "               Two, total 1: \"self-harm\" 1; everything else "
                "at its lowest; the\n"
                "                 wish is not known\n"
                "  expected   an alert of kind safety at priority asap or "
                "higher\n"
                "  but        nothing is raised at once\n" +
                line));
  EXPECT_THAT(outcome.out, HasSubstr("1 property: 0 hold, 1 fail, 0 are not"));
  const auto event = nlohmann::json::parse(line);
  EXPECT_EQ(event["screeningResult"]["answers"][1]["answer"], "always");
  std::ifstream saved(file);
  EXPECT_EQ(std::string(std::istreambuf_iterator<char>(saved), {}), line);
}

TEST_F(RulesProve, AsJson) {
  WriteRules("2");
  const Outcome outcome = Prove({"--json"});
  EXPECT_EQ(outcome.code, 1);
  const auto json = nlohmann::json::parse(outcome.out);
  EXPECT_EQ(json["set"], "own");
  EXPECT_EQ(json["id"], "speaks");
  EXPECT_EQ(json["result"], "FAILS");
  EXPECT_EQ(json["cases"], 18);
  EXPECT_EQ(json["counterexample"]["events"].size(), 1U);
  EXPECT_EQ(json["counterexample"]["found"], "nothing is raised at once");
  EXPECT_THAT(outcome.err, HasSubstr("1 property: 0 hold, 1 fail"));
}

TEST_F(RulesProve, NotDecidedIsRefused) {
  std::string properties = kProperties;
  const std::string form = "every_form { instrument: \"two\" }";
  properties.replace(properties.find(form), form.size(),
                     "every_form { instrument: \"other\" }");
  Write("properties/own.textproto", properties);
  const Outcome outcome = Prove();
  EXPECT_EQ(outcome.code, 1) << outcome.err;
  EXPECT_THAT(outcome.out,
              HasSubstr("not decided  speaks\n"
                        "             The item speaks\n"
                        "  because    there is no instrument \"other\"\n"));
}

TEST_F(RulesProve, SaysWhereItIsOnATerminalOnly) {
  EXPECT_EQ(Prove({}, true).err, "going through speaks ...\n");
}

TEST_F(RulesProve, NothingToProve) {
  std::filesystem::remove_all(root_ / "properties");
  const Outcome outcome = Prove();
  EXPECT_EQ(outcome.code, 2);
  EXPECT_THAT(outcome.err, HasSubstr("add the folder with properties/"));
  std::filesystem::remove_all(root_ / "packs");
  EXPECT_THAT(Prove().err, HasSubstr("add the folder with packs/"));
}

TEST_F(RulesProve, WhatIsRefused) {
  Write("properties/own.textproto", "id: \"own\" version: 0 title: \"Own\"");
  const Outcome outcome = Prove();
  EXPECT_EQ(outcome.code, 1);
  EXPECT_EQ(outcome.out, "");
  EXPECT_THAT(outcome.err, HasSubstr("own.textproto:1:"));
}

TEST_F(RulesProve, AFileThatCannotBeWritten) {
  const Outcome outcome = Prove({"--save", (root_ / "no" / "where").string()});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_THAT(outcome.err, HasSubstr("cannot be written"));
}

TEST_F(RulesProve, HoldsNoEscapes) {
  std::string properties = kProperties;
  properties.replace(properties.find("The item speaks"), 15, "\\033[2J");
  Write("properties/own.textproto", properties);
  for (const std::string option : {"", "--json"}) {
    const Outcome outcome = option.empty() ? Prove() : Prove({option});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_THAT(outcome.out, Not(HasSubstr("\x1b")));
    EXPECT_THAT(outcome.out, HasSubstr("\\u001b[2J"));
  }
}

}  // namespace
}  // namespace turnstone::cli
