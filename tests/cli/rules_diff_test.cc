// Source of the sentences: written out by hand from the rules below.
#include <gmock/gmock.h>
#include <grpcpp/grpcpp.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/cli/golden.h"
#include "tests/cli/program.h"
#include "turnstone/v1/service.grpc.pb.h"

namespace turnstone::cli {
namespace {

using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

constexpr char kDiffPack[] = R"(
id: "pack" version: 3 title: "Pack"
setting {
  name: "low" value: 80 low: 1 high: 100 unit: "percent" source: "-"
}
rule {
  id: "confidence" version: 2 title: "Out of reach" owner: "lead"
  rationale: "-" source: "invented"
  when { practice_report {} }
  condition { confidence_below { percent { setting: "low" } } }
  kind: ALERT_KIND_COACHING priority: PRIORITY_ROUTINE protocol: "p"
}
rule {
  id: "missed" version: 1 title: "Missed" owner: "lead"
  rationale: "-" source: "invented"
  when { visit_outcome {} }
  condition { missed_in_a_row { at_least { value: 2 } } }
  kind: ALERT_KIND_SAFETY priority: PRIORITY_STAT latched: true protocol: "p"
}
)";

// Answers with one configuration, whatever digest is asked for.
class VersionServer final : public v1::RuleService::Service {
 public:
  explicit VersionServer(v1::VersionContent content)
      : content_(std::move(content)) {
    grpc::ServerBuilder builder;
    builder.AddListeningPort("127.0.0.1:0", grpc::InsecureServerCredentials(),
                             &port_);
    builder.RegisterService(this);
    server_ = builder.BuildAndStart();
  }
  [[nodiscard]] std::string address() const {
    return "127.0.0.1:" + std::to_string(port_);
  }
  std::string asked;

 private:
  grpc::Status GetVersion(grpc::ServerContext* /*context*/,
                          const v1::GetVersionRequest* request,
                          v1::VersionContent* response) override {
    asked = request->digest();
    if (content_.configuration().rule_set().empty()) {
      return {grpc::StatusCode::NOT_FOUND, "digest: there is no such version"};
    }
    *response = content_;
    return grpc::Status::OK;
  }

  v1::VersionContent content_;
  int port_ = 0;
  std::unique_ptr<grpc::Server> server_;
};

class RulesDiff : public testing::Test {
 protected:
  void SetUp() override {
    Write("before", kDiffPack);
    Write("after", kDiffPack);
  }
  void TearDown() override { std::filesystem::remove_all(root_); }

  void Write(const std::string& side, const std::string& text) {
    std::filesystem::create_directories(root_ / side / "packs");
    std::ofstream(root_ / side / "packs" / "pack.textproto") << text;
  }
  // In `after`.
  void Replace(const std::string& what, const std::string& with) {
    after_.replace(after_.find(what), what.size(), with);
    Write("after", after_);
  }
  [[nodiscard]] std::string Folder(const std::string& side) const {
    return (root_ / side).string();
  }
  Outcome Diff(const std::vector<std::string>& options = {}) {
    std::vector<std::string> words = {"rules", "diff", Folder("before"),
                                      Folder("after")};
    words.insert(words.end(), options.begin(), options.end());
    Program program;
    return program.RunAsWritten(words);
  }

  std::string after_ = kDiffPack;
  const std::filesystem::path root_ =
      std::filesystem::path(testing::TempDir()) /
      ("rules_diff_" + std::to_string(::getpid()));
};

// The first line names the folders, which are other ones each time.
TEST_F(RulesDiff, ForAPerson) {
  Replace("value: 80", "value: 70");
  Replace("missed_in_a_row { at_least { value: 2 } }",
          "missed_in_a_row { at_least { value: 3 } }");
  const Outcome outcome = Diff();
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_THAT(outcome.out, StartsWith("from "));
  EXPECT_EQ(outcome.out.substr(outcome.out.find("\n\n") + 1), Golden("diff"));
}

TEST_F(RulesDiff, NothingDiffers) {
  const Outcome outcome = Diff();
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("\nNothing differs in rules, numbers, "
                                     "instruments and properties.\n"));
}

TEST_F(RulesDiff, AsJson) {
  Replace("PRIORITY_STAT", "PRIORITY_ASAP");
  const Outcome outcome = Diff({"--json"});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  const auto json =
      nlohmann::json::parse(outcome.out.substr(0, outcome.out.find('\n')));
  EXPECT_EQ(json["of"], "rule set pack, numbers of its own");
  EXPECT_EQ(json["fewerSafety"][0],
            "the safety rule missed has a lower priority");
  EXPECT_EQ(json["rules"][0]["rule"], "missed");
  EXPECT_EQ(json["rules"][0]["what"], "changed");
  EXPECT_EQ(json["rules"][0]["lines"][0],
            "alert: was safety, stat, latched, is now safety, asap, latched");
}

// The site uses the shipped rule set; nobody uses the pack.
TEST_F(RulesDiff, SitesThenRuleSetsNobodyUses) {
  Replace("value: 80", "value: 70");
  const std::string root = TURNSTONE_SOURCE_DIR;
  const std::string shipped = root + "/rules/instruments," + root +
                              "/rules/packs," + root + "/deploy/config,";
  const auto diff = [&](const std::vector<std::string>& options) {
    std::vector<std::string> words = {
        "rules", "diff", shipped + Folder("before"), shipped + Folder("after")};
    words.insert(words.end(), options.begin(), options.end());
    Program program;
    return program.RunAsWritten(words);
  };
  const Outcome all = diff({});
  EXPECT_EQ(all.code, 0) << all.err;
  EXPECT_THAT(all.out, HasSubstr("\nsite pebble-bay\n  nothing differs\n"));
  EXPECT_THAT(all.out, HasSubstr("\nrule set pack, numbers of its own\n"));
  EXPECT_THAT(all.out, Not(HasSubstr("rule set home-visits")));
  const Outcome one = diff({"--site", "pebble-bay"});
  EXPECT_EQ(one.code, 0) << one.err;
  EXPECT_THAT(one.out, HasSubstr("Nothing differs"));
}

TEST_F(RulesDiff, ARuleSetOfWhichOneSideKnowsNothing) {
  Replace("id: \"pack\"", "id: \"other\"");
  const Outcome outcome = Diff();
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("the rule set pack is removed\n"));
  EXPECT_THAT(outcome.out, HasSubstr("the rule set other is added\n"));
  EXPECT_THAT(outcome.out, Not(HasSubstr("Nothing differs")));
}

TEST_F(RulesDiff, AVersionInTheService) {
  v1::VersionContent content;
  v1::RuleSet& rules = *content.mutable_configuration()->add_rule_set();
  rules.set_id("pack");
  rules.set_version(2);
  rules.set_title("Pack");
  VersionServer server(content);
  Program program;
  program.server = server.address();
  const Outcome outcome =
      program.Run({"rules", "diff", "0a1b2c", Folder("after")});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(server.asked, "0a1b2c");
  EXPECT_THAT(outcome.out, HasSubstr("the rule confidence is added\n"));
  EXPECT_THAT(outcome.out,
              HasSubstr("the rule set pack: version was 2, is now 3\n"));
}

TEST_F(RulesDiff, AVersionTheServiceDoesNotKnow) {
  VersionServer server({});
  Program program;
  program.server = server.address();
  const Outcome outcome =
      program.Run({"rules", "diff", Folder("before"), "0a1b2c"});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_THAT(outcome.err, HasSubstr("there is no such version"));
}

TEST_F(RulesDiff, WhatCannotBeCompared) {
  const Outcome site = Diff({"--site", "bay"});
  EXPECT_EQ(site.code, 2);
  EXPECT_THAT(site.err, HasSubstr("there is no site bay in both"));
  Replace("version: 3", "version: 0");
  const Outcome refused = Diff();
  EXPECT_EQ(refused.code, 2);
  EXPECT_EQ(refused.out, "");
  EXPECT_THAT(refused.err, HasSubstr("B: the configuration is refused"));
}

TEST_F(RulesDiff, HoldsNoEscapes) {
  Replace("Out of reach", "\\033[2J");
  for (const std::vector<std::string>& options :
       {std::vector<std::string>(), {"--json"}}) {
    const Outcome outcome = Diff(options);
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_THAT(outcome.out, Not(HasSubstr("\x1b")));
    EXPECT_THAT(outcome.out, HasSubstr("\\u001b[2J"));
  }
}

}  // namespace
}  // namespace turnstone::cli
