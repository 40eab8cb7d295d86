// Source: service.proto (ListAlerts).
#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "clients/cli/render/alert_list.h"
#include "tests/cli/fake_service.h"
#include "tests/cli/program.h"
#include "tests/cli/samples.h"

namespace turnstone::cli {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

class Alerts : public testing::Test {
 protected:
  Alerts() {
    program_.server = service_.address();
    service_.list = [this](const v1::ListAlertsRequest& request,
                           v1::ListAlertsResponse& response) {
      requests_.push_back(request);
      *response.mutable_now() = Stamp("2027-03-03T14:05:00Z");
      response.set_total(total_);
      if (requests_.size() <= pages_.size()) {
        for (const v1::Alert& alert : pages_[requests_.size() - 1]) {
          *response.add_alert() = alert;
        }
      }
      if (requests_.size() < pages_.size()) {
        response.set_next_page_token(absl::StrCat("p", requests_.size()));
      }
      return grpc::Status::OK;
    };
  }

  std::vector<std::vector<v1::Alert>> pages_;
  int64_t total_ = 0;
  std::vector<v1::ListAlertsRequest> requests_;
  Program program_;
  // Last: its threads use the members above.
  FakeService service_;
};

TEST_F(Alerts, AsksForOpenOnes) {
  const Outcome outcome = program_.Run({"alerts"});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_THAT(outcome.out, HasSubstr("No open alerts.\n"));
  ASSERT_EQ(requests_.size(), 1U);
  EXPECT_THAT(
      requests_[0].status(),
      ElementsAre(v1::ALERT_STATUS_REQUESTED, v1::ALERT_STATUS_RECEIVED,
                  v1::ALERT_STATUS_IN_PROGRESS, v1::ALERT_STATUS_ON_HOLD));
  EXPECT_TRUE(service_.had_deadline);
}

TEST_F(Alerts, DoNotPassAMistypedParticipantForOneWithoutAlerts) {
  EXPECT_THAT(program_.Run({"alerts", "--participant", "P-0402"}).out,
              testing::EndsWith("\nWhether P-0402 is known at all: turnstone "
                                "participant P-0402\n"));
}

TEST_F(Alerts, AsksForAll) {
  EXPECT_EQ(program_.Run({"alerts", "--all"}).code, 0);
  EXPECT_THAT(requests_[0].status(), IsEmpty());
}

TEST_F(Alerts, AsksForWhatTheFilterSays) {
  EXPECT_EQ(program_
                .Run({"alerts", "--site", "harbour-row", "--participant",
                      "P-0042", "--priority", "stat,asap", "--status",
                      "received", "--kind", "stepped-care", "--kind", "safety"})
                .code,
            0);
  ASSERT_EQ(requests_.size(), 1U);
  EXPECT_EQ(requests_[0].site(), "harbour-row");
  EXPECT_EQ(requests_[0].participant(), "P-0042");
  EXPECT_THAT(requests_[0].priority(),
              ElementsAre(v1::PRIORITY_STAT, v1::PRIORITY_ASAP));
  EXPECT_THAT(requests_[0].status(), ElementsAre(v1::ALERT_STATUS_RECEIVED));
  EXPECT_THAT(requests_[0].kind(),
              ElementsAre(v1::ALERT_KIND_STEPPED_CARE, v1::ALERT_KIND_SAFETY));
}

TEST_F(Alerts, ReadsEveryPage) {
  pages_ = {{SelfHarmAlert("A-1", "2027-03-03T11:55:00Z")},
            {SelfHarmAlert("A-2", "2027-03-03T11:56:00Z")},
            {SelfHarmAlert("A-3", "2027-03-03T11:57:00Z")}};
  total_ = 3;
  const Outcome outcome = program_.Run({"alerts"});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_EQ(outcome.err, "");
  EXPECT_THAT(outcome.out,
              HasSubstr("3 open alerts, as of Wed 3 Mar 2027 14:05 GMT"));
  EXPECT_THAT(outcome.out, HasSubstr("A-3 "));
  EXPECT_THAT(outcome.out, HasSubstr("Next: turnstone alert A-1 "));
  EXPECT_THAT(outcome.out, testing::EndsWith(kShortCaution + "\n"));
  ASSERT_EQ(requests_.size(), 3U);
  EXPECT_EQ(requests_[2].page_token(), "p2");
}

TEST_F(Alerts, PointsToWhatIsStillOpen) {
  v1::Alert ended = SelfHarmAlert("A-1", "2027-03-03T11:55:00Z");
  ended.set_status(v1::ALERT_STATUS_COMPLETED);
  pages_ = {{ended, SelfHarmAlert("A-2", "2027-03-03T11:56:00Z")}};
  total_ = 2;
  EXPECT_THAT(program_.Run({"alerts", "--all"}).out,
              HasSubstr("\nNext: turnstone alert A-2 tells the whole story; "
                        "turnstone receive A-2\ntakes it on.\n"));
  requests_.clear();
  pages_ = {{ended}};
  total_ = 1;
  EXPECT_THAT(program_.Run({"alerts", "--all"}).out,
              HasSubstr("\nNext: turnstone alert ID tells the whole story of "
                        "one.\n"));
}

TEST_F(Alerts, SaysWhenTheListChangedMeanwhile) {
  pages_ = {{SelfHarmAlert("A-1", "2027-03-03T11:55:00Z")},
            {SelfHarmAlert("A-1", "2027-03-03T11:55:00Z")}};
  total_ = 2;
  const Outcome outcome = program_.Run({"alerts", "--json"});
  EXPECT_EQ(std::count(outcome.out.begin(), outcome.out.end(), '\n'), 1);
  EXPECT_THAT(outcome.out, HasSubstr(R"("alertId":"A-1")"));
  EXPECT_THAT(outcome.err, HasSubstr("the list changed while it was read"));
}

TEST_F(Alerts, RefusesOtherWordsAndListsThose) {
  const std::pair<std::vector<std::string>, std::string> cases[] = {
      {{"--priority", "high"}, "write routine, urgent, asap, stat"},
      {{"--priority", "stat,high"}, "write routine, urgent, asap, stat"},
      {{"--kind", "Safety"},
       "write safety, referral, stepped-care, outreach, coaching"},
      {{"--status", "unspecified"},
       "write requested, received, in-progress, on-hold, completed, "
       "cancelled, entered-in-error"},
      {{"--all", "--status", "received"}, "--status excludes --all"}};
  for (const auto& [options, message] : cases) {
    std::vector<std::string> arguments = {"alerts"};
    arguments.insert(arguments.end(), options.begin(), options.end());
    const Outcome outcome = program_.Run(arguments);
    EXPECT_EQ(outcome.code, 2);
    EXPECT_THAT(outcome.err, HasSubstr(message));
  }
  EXPECT_THAT(requests_, IsEmpty());
}

}  // namespace
}  // namespace turnstone::cli
