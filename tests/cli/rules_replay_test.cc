// rules replay as a program. Expectations are worked by hand from the shipped
// rules and the numbers of pebble-bay (practice confidence below 80); the
// golden page is written by hand.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_replace.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "clients/cli/render/replay_page.h"
#include "clients/cli/render/time.h"
#include "platform/files.h"
#include "rules/measure/proto_time.h"
#include "tests/cli/golden.h"
#include "tests/cli/program.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"
#include "turnstone/v1/service.grpc.pb.h"

namespace turnstone::cli {
namespace {

using testing::HasSubstr;
using testing::Not;

constexpr char kPractice[] =
    R"({"source":"urn:t","eventId":"%","site":"pebble-bay",)"
    R"("participant":"%","effectiveTime":"2027-01-05T10:00:00Z",)"
    R"("practiceReport":{"confidence":$}})";

std::string PracticeLine(const std::string& participant, int confidence) {
  return absl::StrReplaceAll(kPractice, {{"%", participant},
                                         {"$", std::to_string(confidence)}}) +
         "\n";
}

class RulesReplay : public testing::Test {
 protected:
  void SetUp() override {
    std::filesystem::create_directories(root_);
    for (const char* folder : {"instruments", "packs"}) {
      std::filesystem::copy(source_ / "rules" / folder, root_ / folder);
    }
    std::filesystem::copy(source_ / "deploy/config/sites", root_ / "sites");
  }
  void TearDown() override { std::filesystem::remove_all(root_); }

  // In the candidate.
  void Change(const std::string& file, const std::string& from,
              const std::string& to) {
    std::string path = (root_ / file).string();
    const std::string text = ReadFile(path).value();
    ASSERT_NE(text.find(from), std::string::npos) << from;
    std::ofstream(path) << absl::StrReplaceAll(text, {{from, to}});
  }
  void AskForLessConfidence() {
    Change("sites/pebble-bay.textproto", "value: 80", "value: 70");
  }
  std::string Events(const std::string& lines) {
    std::string path = (root_ / "events.jsonl").string();
    std::ofstream(path) << lines;
    return path;
  }
  // With the shipped files as they were before.
  Outcome Replayed(const std::string& lines,
                   std::vector<std::string> options = {}) {
    options.insert(options.begin(),
                   {"rules", "replay", "--events", Events(lines), "--rules",
                    root_.string(), "--before", (source_ / "rules").string(),
                    (source_ / "deploy/config").string()});
    return program_.RunAsWritten(options);
  }

  Program program_;
  const std::filesystem::path source_ = TURNSTONE_SOURCE_DIR;
  const std::filesystem::path root_ =
      std::filesystem::path(testing::TempDir()) /
      ("rules_replay_" + std::to_string(::getpid()));
};

TEST_F(RulesReplay, WhatChangesAndNothingElse) {
  AskForLessConfidence();
  const Outcome outcome =
      Replayed(PracticeLine("p-1", 75) + PracticeLine("p-2", 60) +
               PracticeLine("p-3", 90));
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(outcome.out, Golden("replay"));
}

TEST_F(RulesReplay, SameRulesChangeNothing) {
  const Outcome outcome =
      Replayed(PracticeLine("p-1", 75) + PracticeLine("p-2", 60));
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(
      outcome.out,
      "Over 2 events of 2 participants at pebble-bay, nothing changes.\n");
}

TEST_F(RulesReplay, LostSafetyStandsFirstAndTheExitCodeStaysDone) {
  Difference difference;
  difference.events = 2;
  difference.participants = 1;
  difference.rules["self-harm-positive"] = {1, 0};
  Verdict& lost = difference.lost.emplace_back();
  lost.participant = "p-1";
  lost.rule = "self-harm-positive";
  lost.kind = v1::ALERT_KIND_SAFETY;
  lost.priority = v1::PRIORITY_STAT;
  lost.asked = At("2027-01-05T10:00:00Z");
  lost.why = "It was positive.";
  const std::string page =
      ReplayPage(difference, {"bay", Zone("Europe/Dublin"), {}, false});
  EXPECT_EQ(page.rfind("WARNING: 1 reason of kind safety would no longer be "
                       "raised.\n",
                       0),
            0U)
      << page;
  EXPECT_THAT(page, HasSubstr("self-harm-positive (safety, stat): It was"));
}

TEST_F(RulesReplay, LongListsAreCutUnlessAllIsAskedFor) {
  AskForLessConfidence();
  std::string lines;
  for (int i = 0; i < 33; ++i) {
    lines += PracticeLine(absl::StrCat("p-", 100 + i), 75);
  }
  const Outcome cut = Replayed(lines);
  EXPECT_THAT(cut.out, HasSubstr("and 3 more; --all lists every one"));
  EXPECT_THAT(cut.out, HasSubstr("p-129 "));
  EXPECT_THAT(cut.out, Not(HasSubstr("p-130 ")));
  const Outcome all = Replayed(lines, {"--all"});
  EXPECT_THAT(all.out, HasSubstr("p-132 "));
  EXPECT_THAT(all.out, Not(HasSubstr("more; --all")));
}

TEST_F(RulesReplay, AsJson) {
  AskForLessConfidence();
  const Outcome outcome = Replayed(PracticeLine("p-1", 75), {"--json"});
  std::istringstream lines(outcome.out);
  std::string line;
  std::getline(lines, line);
  const auto figures = nlohmann::json::parse(line);
  EXPECT_EQ(figures["lost"], 1);
  EXPECT_EQ(figures["added"], 0);
  EXPECT_EQ(figures["lostSafety"], 0);
  EXPECT_EQ(figures["weeks"][0]["from"], "2027-01-04");
  EXPECT_EQ(figures["weeks"][0]["kind"], "coaching");
  EXPECT_EQ(figures["weeks"][0]["before"], 1);
  EXPECT_EQ(figures["weeks"][0]["after"], 0);
  std::getline(lines, line);
  const auto change = nlohmann::json::parse(line);
  EXPECT_EQ(change["change"], "lost");
  EXPECT_EQ(change["participant"], "p-1");
  EXPECT_EQ(change["rule"], "low-practice-confidence");
  EXPECT_EQ(change["before"]["due"], "2027-01-05T10:00:00Z");
  EXPECT_FALSE(change.contains("after"));
}

TEST_F(RulesReplay, DaysOutsideTheTimeAreNotCompared) {
  AskForLessConfidence();
  const std::string line = PracticeLine("p-1", 75);
  EXPECT_THAT(Replayed(line, {"--from", "2027-01-06"}).out,
              HasSubstr("nothing changes"));
  EXPECT_THAT(Replayed(line, {"--to", "2027-01-05"}).out,
              HasSubstr("nothing changes"));
  EXPECT_THAT(
      Replayed(line, {"--from", "2027-01-05", "--to", "2027-01-06"}).out,
      HasSubstr("1 no longer"));
}

TEST_F(RulesReplay, LinesTheServiceWouldRefuseAreLeftOutAndTold) {
  AskForLessConfidence();
  const std::string good = PracticeLine("p-1", 75);
  const Outcome outcome = Replayed("{\n" + good + good);
  EXPECT_EQ(outcome.code, 1);
  EXPECT_THAT(outcome.err, HasSubstr("line 1 left out: "));
  // Sent twice, it counts once.
  EXPECT_THAT(outcome.out, HasSubstr("Over 1 event of 1 participant"));
}

TEST_F(RulesReplay, AsksForWhatIsMissing) {
  const std::string events = Events(PracticeLine("p-1", 75));
  const Outcome alone = program_.RunAsWritten(
      {"rules", "replay", "--events", events, "--rules", root_.string()});
  EXPECT_EQ(alone.code, 2);
  EXPECT_THAT(alone.err, HasSubstr("--events needs --before as well"));
  EXPECT_EQ(Replayed("", {"--site", "nowhere"}).code, 2);
  const Outcome no_day = Replayed("", {"--from", "yesterday"});
  EXPECT_EQ(no_day.code, 2);
  EXPECT_THAT(no_day.err, HasSubstr("--from is not a day"));
  std::filesystem::remove_all(root_ / "sites");
  EXPECT_THAT(Replayed("").err, HasSubstr("there is no site among the files"));
}

TEST_F(RulesReplay, ShowsOnATerminalHowFarItIs) {
  program_.terminal = true;
  const Outcome outcome = Replayed(PracticeLine("p-1", 75));
  EXPECT_THAT(outcome.err, HasSubstr("\rreplaying [####"));
  EXPECT_EQ(outcome.err.back(), '\r');
  program_.terminal = false;
  EXPECT_EQ(Replayed(PracticeLine("p-1", 75)).err, "");
}

// The service with the shipped rules in force and two events on record.
class FakeRuleService final : public v1::RuleService::Service {
 public:
  FakeRuleService() {
    grpc::ServerBuilder builder;
    builder.AddListeningPort("127.0.0.1:0", grpc::InsecureServerCredentials(),
                             &port_);
    builder.RegisterService(this);
    server_ = builder.BuildAndStart();
  }
  ~FakeRuleService() override {
    server_->Shutdown(std::chrono::system_clock::now());
    server_->Wait();
  }
  FakeRuleService(const FakeRuleService&) = delete;
  FakeRuleService& operator=(const FakeRuleService&) = delete;

  [[nodiscard]] std::string address() const {
    return absl::StrCat("127.0.0.1:", port_);
  }
  std::string asked_site;

 private:
  grpc::Status ListVersions(grpc::ServerContext* /*context*/,
                            const v1::ListVersionsRequest* /*request*/,
                            v1::VersionList* response) override {
    *response->mutable_now() = ToProto(At("2027-02-01T00:00:00Z"));
    response->add_version()->set_digest("past");
    v1::RuleVersion& version = *response->add_version();
    version.set_digest("abcdef");
    version.set_status(v1::VERSION_STATUS_IN_FORCE);
    return grpc::Status::OK;
  }
  grpc::Status GetVersion(grpc::ServerContext* /*context*/,
                          const v1::GetVersionRequest* request,
                          v1::VersionContent* response) override {
    if (request->digest() != "abcdef") return {grpc::NOT_FOUND, "which?"};
    *response->mutable_configuration() = ShippedConfiguration();
    return grpc::Status::OK;
  }
  grpc::Status ReadEvents(
      grpc::ServerContext* /*context*/, const v1::ReadEventsRequest* request,
      grpc::ServerWriter<v1::RecordedEvent>* writer) override {
    asked_site = request->site();
    v1::RecordedEvent recorded;
    recorded.set_total(2);
    for (const int confidence : {75, 60}) {
      const absl::Time when = At("2027-01-05T10:00:00Z");
      *recorded.mutable_event() =
          Confidence(absl::StrCat("c-", confidence), when, confidence);
      *recorded.mutable_recorded_time() = ToProto(when);
      writer->Write(recorded);
      recorded.clear_total();
    }
    return grpc::Status::OK;
  }

  int port_ = 0;
  std::unique_ptr<grpc::Server> server_;
};

TEST_F(RulesReplay, AgainstWhatIsInForceAndOnRecordInTheService) {
  AskForLessConfidence();
  FakeRuleService service;
  program_.server = service.address();
  const Outcome outcome =
      program_.Run({"rules", "replay", "--rules", root_.string()});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(service.asked_site, "pebble-bay");
  EXPECT_THAT(outcome.out, HasSubstr("Over 2 events of 1 participant"));
  EXPECT_THAT(outcome.out, HasSubstr("0 new, 1 no longer, 0 otherwise"));
}

}  // namespace
}  // namespace turnstone::cli
