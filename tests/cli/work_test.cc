// What a person does about an alert. Source: service.proto (WorkAlert); the
// words are our own.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tests/cli/fake_service.h"
#include "tests/cli/program.h"
#include "tests/cli/samples.h"

namespace turnstone::cli {
namespace {

using testing::AllOf;
using testing::EndsWith;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::SizeIs;

class Work : public testing::Test {
 protected:
  Work() {
    program_.server = service_.address();
    *service_.now.mutable_now() = Stamp("2027-03-03T14:05:00Z");
    service_.get = [](const v1::GetAlertRequest& request, v1::Alert& alert) {
      alert = SelfHarmAlert(request.alert_id(), "2027-03-03T11:55:00Z");
      return grpc::Status::OK;
    };
    service_.work = [this](const v1::WorkAlertRequest& request,
                           v1::Alert& alert) {
      requests_.push_back(request);
      alert = answer_;
      return status_;
    };
  }

  // What is said after the alert became `answer`.
  std::string After(const v1::Alert& answer,
                    const std::vector<std::string>& words) {
    answer_ = answer;
    const Outcome outcome = program_.Run(words);
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(outcome.err, "");
    return outcome.out;
  }

  std::vector<v1::WorkAlertRequest> requests_;
  v1::Alert answer_;
  grpc::Status status_;
  Program program_;
  FakeService service_;
};

TEST_F(Work, ReceiveSaysWhoHasItAndByWhenItIsToBeClosed) {
  EXPECT_EQ(After(ToldAlert(), {"receive", "A-17", "--note", "on my way"}),
            "A-17 is received, with r.sorrel. To be closed by Wed 3 Mar 2027 "
            "16:20 GMT, or\nwhoever is on duty (supervisor) is told.\n");
  ASSERT_THAT(requests_, SizeIs(1));
  EXPECT_EQ(requests_[0].alert_id(), "A-17");
  EXPECT_EQ(requests_[0].receive().note(), "on my way");
  After(ToldAlert(), {"receive", "A-17"});
  EXPECT_TRUE(requests_[1].has_receive());
}

TEST_F(Work, SaysThatSomebodyComesNextWhereTheServiceDoesNotSayWho) {
  v1::Alert alert = ToldAlert();
  alert.mutable_escalation()->clear_next();
  EXPECT_THAT(After(alert, {"receive", "A-17"}),
              EndsWith("16:20 GMT, or\nwhoever comes next is told.\n"));
}

TEST_F(Work, StartSaysThatItIsInProgress) {
  v1::Alert alert = ToldAlert();
  alert.set_status(v1::ALERT_STATUS_IN_PROGRESS);
  EXPECT_THAT(After(alert, {"start", "A-17"}),
              HasSubstr("A-17 is in-progress, with r.sorrel. To be closed by"));
  EXPECT_TRUE(requests_[0].has_start());
}

TEST_F(Work, HoldSaysWhenItComesBack) {
  v1::Alert alert = ToldAlert();
  PutOnHold(alert, "2027-03-06T09:00:00Z", "the daughter rings on Friday");
  EXPECT_EQ(After(alert, {"hold", "A-17", "--until", "2027-03-06 09:00",
                          "--reason", "the daughter rings on Friday"}),
            "A-17 is on-hold, with r.sorrel. Comes back by itself at Sat 6 Mar "
            "2027 09:00\nGMT; then somebody has to receive it again.\n");
  ASSERT_THAT(requests_, SizeIs(1));
  EXPECT_EQ(requests_[0].hold().until().seconds(),
            Stamp("2027-03-06T09:00:00Z").seconds());
  EXPECT_EQ(requests_[0].hold().reason(), "the daughter rings on Friday");
}

// By the service's clock, and by the clocks of the alert's site.
TEST_F(Work, HoldTakesSpansAndLocalTimes) {
  for (const auto& [text, utc] :
       {std::pair<std::string, std::string>{"26h", "2027-03-04T16:05:00Z"},
        {"2027-07-06 09:00", "2027-07-06T08:00:00Z"},
        {"2027-07-06T09:00:00Z", "2027-07-06T09:00:00Z"}}) {
    After(ToldAlert(), {"hold", "A-17", "--until", text, "--reason", "-"});
    EXPECT_EQ(requests_.back().hold().until().seconds(), Stamp(utc).seconds())
        << text;
  }
}

TEST_F(Work, HoldRefusesOtherTimesAndUnknownAlerts) {
  const Outcome wrong =
      program_.Run({"hold", "A-17", "--until", "soon", "--reason", "-"});
  EXPECT_EQ(wrong.code, 2);
  EXPECT_THAT(wrong.err, HasSubstr("turnstone: --until is not a time;\nwrite"));
  service_.get = [](const v1::GetAlertRequest&, v1::Alert&) {
    return grpc::Status(grpc::StatusCode::NOT_FOUND, "there is no alert A-99");
  };
  const Outcome none =
      program_.Run({"hold", "A-99", "--until", "1h", "--reason", "-"});
  EXPECT_EQ(none.code, 1);
  EXPECT_EQ(none.err, "turnstone: refused: there is no alert A-99\n");
  EXPECT_THAT(requests_, IsEmpty());
}

TEST_F(Work, NoteTakesItsTextEitherWay) {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"note", "A-17", "rang twice"},
        std::vector<std::string>{"note", "A-17", "--note", "rang twice"}}) {
    EXPECT_THAT(After(ToldAlert(), words), HasSubstr("A-17 is received"));
    EXPECT_EQ(requests_.back().note().note(), "rang twice");
  }
}

TEST_F(Work, CloseShowsTheOutcomesWhenItIsRefused) {
  status_ = grpc::Status(grpc::StatusCode::INVALID_ARGUMENT,
                         "outcome: write one of spoken-with, not-needed");
  const Outcome refused = program_.Run({"close", "A-17"});
  EXPECT_EQ(refused.code, 1);
  EXPECT_EQ(refused.err,
            "turnstone: refused: outcome: write one of spoken-with, "
            "not-needed\n");
  status_ = grpc::Status::OK;
  v1::Alert closed = ToldAlert();
  closed.set_status(v1::ALERT_STATUS_COMPLETED);
  closed.mutable_closing()->set_outcome("spoken-with");
  EXPECT_EQ(After(closed, {"close", "A-17", "--outcome", "spoken-with",
                           "--note", "done"}),
            "A-17 is completed: spoken-with. Nobody is told of it any more.\n");
  EXPECT_EQ(requests_.back().close().outcome(), "spoken-with");
  EXPECT_EQ(requests_.back().close().note(), "done");
}

TEST_F(Work, CloseSaysThatASecondPersonIsNeeded) {
  v1::Alert alert = ToldAlert();
  *alert.mutable_proposed_closing()->mutable_by() = Sorrel();
  EXPECT_EQ(After(alert, {"close", "A-17", "--outcome", "o", "--note", "n"}),
            "A-17 is received, with r.sorrel. Closed by r.sorrel; a second "
            "person still has\nto confirm it. To be confirmed by Wed 3 Mar "
            "2027 16:20 GMT, or whoever is on\nduty (supervisor) is told.\n");
}

TEST_F(Work, ConfirmNamesTheSecondPerson) {
  v1::Alert alert = ToldAlert();
  alert.set_status(v1::ALERT_STATUS_COMPLETED);
  alert.mutable_closing()->set_outcome("spoken-with");
  alert.mutable_closing()->mutable_confirmed_by()->set_name("t.linnet");
  EXPECT_EQ(After(alert, {"confirm", "A-17", "--note", "read it"}),
            "A-17 is completed: spoken-with, confirmed by t.linnet. Nobody is "
            "told of it\nany more.\n");
  EXPECT_EQ(requests_[0].confirm().note(), "read it");
}

TEST_F(Work, CancelEndsIt) {
  v1::Alert alert = ToldAlert();
  alert.set_status(v1::ALERT_STATUS_CANCELLED);
  EXPECT_EQ(After(alert, {"cancel", "A-17", "--reason", "moved away"}),
            "A-17 is cancelled. Nobody is told of it any more.\n");
  EXPECT_EQ(requests_[0].cancel().reason(), "moved away");
}

TEST_F(Work, ReopenNamesTheNewAlert) {
  v1::Alert alert = SelfHarmAlert("A-40", "2027-03-03T14:05:00Z");
  alert.set_reopens("A-17");
  EXPECT_EQ(
      After(alert, {"reopen", "A-17", "--reason", "closed too early"}),
      "A-40 takes up A-17 again: requested, with nobody. To be received "
      "by Wed 3 Mar\n2027 14:25 GMT, or everybody (on-call-lead) is told.\n");
  EXPECT_EQ(requests_[0].reopen().reason(), "closed too early");
}

TEST_F(Work, WritesJsonForPrograms) {
  EXPECT_THAT(After(ToldAlert(), {"receive", "A-17", "--json"}),
              AllOf(HasSubstr(R"("alertId":"A-17")"), EndsWith("}\n")));
}

TEST_F(Work, NamesWhatIsMissing) {
  const std::pair<std::vector<std::string>, std::string> cases[] = {
      {{"receive"}, "ID is required"},
      {{"hold", "A-17", "--reason", "-"}, "--until is required"},
      {{"hold", "A-17", "--until", "1h"}, "--reason is required"},
      {{"note", "A-17"}, "--note is required"},
      {{"cancel", "A-17"}, "--reason is required"},
      {{"reopen", "A-17"}, "--reason is required"}};
  for (const auto& [words, message] : cases) {
    const Outcome outcome = program_.Run(words);
    EXPECT_EQ(outcome.code, 2);
    EXPECT_THAT(outcome.err, HasSubstr(message));
  }
  EXPECT_THAT(requests_, IsEmpty());
}

// Repeating receive or start changes nothing (WorkAlert); a note would stand
// twice, a span would count from later on.
TEST_F(Work, SaysWhetherToRepeatWhenTheResultIsNotKnown) {
  status_ = grpc::Status(grpc::StatusCode::INTERNAL, "lost");
  for (const std::string verb : {"receive", "start", "confirm"}) {
    const Outcome outcome = program_.Run({verb, "A-17"});
    EXPECT_EQ(outcome.code, 3);
    EXPECT_THAT(outcome.err, HasSubstr("Repeating the same command is safe"));
  }
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"note", "A-17", "-"},
        std::vector<std::string>{"reopen", "A-17", "--reason", "-"},
        std::vector<std::string>{"hold", "A-17", "--until", "1h", "--reason",
                                 "-"}}) {
    const Outcome outcome = program_.Run(words);
    EXPECT_EQ(outcome.code, 3);
    EXPECT_THAT(outcome.err,
                AllOf(HasSubstr("Look before you repeat it: turnstone alert "
                                "A-17\n"),
                      Not(HasSubstr("safe"))));
  }
}

TEST_F(Work, SaysThatARoleMayNot) {
  status_ = grpc::Status(grpc::StatusCode::PERMISSION_DENIED,
                         "nurse may not close a latched alert");
  const Outcome outcome = program_.Run({"close", "A-17"});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_EQ(outcome.err,
            "turnstone: refused: nurse may not close a latched alert\n");
}

TEST_F(Work, WarnsOfANoteThatSaysWhoSomebodyIs) {
  const Outcome warned =
      program_.Run({"note", "A-17", "--note", "rang 555-0123"});
  EXPECT_EQ(warned.code, 0);
  EXPECT_THAT(warned.err, HasSubstr("warning: note.note: holds what looks "
                                    "like a telephone number; "));
  EXPECT_EQ(program_.Run({"note", "A-17", "--note", "rang twice"}).err, "");
}

TEST_F(Work, CleansWhatTheServiceSays) {
  v1::Alert alert = ToldAlert();
  alert.mutable_holder()->set_name("\x1b[2Jr.sorrel");
  EXPECT_THAT(
      After(alert, {"receive", "A-17"}),
      AllOf(HasSubstr("with \\u001b[2Jr.sorrel."), Not(HasSubstr("\x1b"))));
}

}  // namespace
}  // namespace turnstone::cli
