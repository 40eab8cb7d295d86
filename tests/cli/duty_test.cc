// Who is on duty, what passes on, what falls due, what is owed. Source:
// service.proto (DutyService), delivery.proto; weekdays from a calendar of
// 2027 (ISO 8601); the layout and the words are our own.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tests/cli/duty_samples.h"
#include "tests/cli/fake_service.h"
#include "tests/cli/golden.h"
#include "tests/cli/program.h"
#include "tests/cli/samples.h"

namespace turnstone::cli {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::EndsWith;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

const grpc::Status kRefused(grpc::StatusCode::FAILED_PRECONDITION, "not so");

class DutyCommands : public testing::Test {
 protected:
  DutyCommands() {
    program_.server = service_.address();
    *service_.now.mutable_now() = Stamp("2027-03-03T14:05:00Z");
    Answer(service_.on_call, on_call_asked_, on_call_);
    Answer(service_.handover, handover_asked_, handover_);
    Answer(service_.offer, offered_, handover_);
    Answer(service_.answer, answered_, handover_);
    Answer(service_.due, due_asked_, due_);
    Answer(service_.outbox, outbox_asked_, outbox_);
  }

  // The service writes down what it was asked and answers as the test says.
  template <typename Call, typename Request, typename Response>
  void Answer(Call& call, Request& asked, const Response& response) {
    call = [this, &asked, &response](const Request& request, Response& answer) {
      asked = request;
      answer = response;
      return status_;
    };
  }

  std::string Good(const std::vector<std::string>& words) {
    const Outcome outcome = program_.Run(words);
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(outcome.err, "");
    return outcome.out;
  }

  v1::OnCall on_call_ = SampleOnCall();
  v1::Handover handover_ = SampleHandover();
  v1::DueList due_ = SampleDue();
  v1::Outbox outbox_ = SampleOutbox();
  v1::GetOnCallRequest on_call_asked_;
  v1::GetHandoverRequest handover_asked_;
  v1::OfferHandoverRequest offered_;
  v1::AnswerHandoverRequest answered_;
  v1::ListDueRequest due_asked_;
  v1::ListOutboxRequest outbox_asked_;
  grpc::Status status_;
  Program program_;
  FakeService service_;
};

TEST_F(DutyCommands, OnCallNamesWhoAndUntilWhen) {
  EXPECT_EQ(Good({"oncall"}), Golden("oncall"));
  EXPECT_FALSE(on_call_asked_.has_at());
  EXPECT_EQ(on_call_asked_.site(), "");
}

TEST_F(DutyCommands, OnCallLooksAhead) {
  Good({"oncall", "--site", "harbour-row", "--at", "26h"});
  EXPECT_EQ(on_call_asked_.site(), "harbour-row");
  EXPECT_EQ(on_call_asked_.at().seconds(),
            Stamp("2027-03-04T16:05:00Z").seconds());
  const Outcome wrong = program_.Run({"oncall", "--at", "2027-03-04 16:05"});
  EXPECT_EQ(wrong.code, 2);
  EXPECT_THAT(wrong.err, StartsWith("turnstone: --at is not a time;\nwrite a "
                                    "moment such as 2027-02-06T09:00:00Z, or"));
}

TEST_F(DutyCommands, OnCallSaysThatThereIsNoRota) {
  on_call_.clear_duty();
  on_call_.clear_concern();
  EXPECT_THAT(Good({"oncall"}),
              AllOf(HasSubstr("The site has no rota: everybody of a role is "
                              "told at once.\n"),
                    HasSubstr("nothing within the next 90 days")));
}

TEST_F(DutyCommands, HandoverIsOneScreen) {
  EXPECT_EQ(Good({"handover"}), Golden("handover"));
  EXPECT_EQ(handover_asked_.role(), "");
}

TEST_F(DutyCommands, HandoverRepeatsSiteAndRoleInWhatToType) {
  const std::string page =
      Good({"handover", "--site", "harbour-row", "--role", "on-call-lead"});
  EXPECT_EQ(handover_asked_.site(), "harbour-row");
  EXPECT_EQ(handover_asked_.role(), "on-call-lead");
  EXPECT_THAT(page, HasSubstr("turnstone handover take --site harbour-row "
                              "--role on-call-lead\n"));
}

TEST_F(DutyCommands, HandoverSaysThatNothingIsOfferedAndNothingOpen) {
  handover_.clear_offer();
  handover_.clear_alert();
  EXPECT_THAT(Good({"handover"}), AllOf(HasSubstr("Offered\n  nothing\n"),
                                        HasSubstr("Open alerts\n  none\n"),
                                        Not(HasSubstr("handover take"))));
}

TEST_F(DutyCommands, HandoverSaysThatNobodyIsOnDuty) {
  handover_.mutable_duty()->clear_person();
  handover_.clear_offer();
  EXPECT_THAT(Good({"handover"}),
              AllOf(HasSubstr("NOBODY: everybody of this role is told instead"),
                    Not(HasSubstr("handover give"))));
}

TEST_F(DutyCommands, HandoverGiveSaysWhoMustSayYes) {
  EXPECT_EQ(Good({"handover", "give", "--to", "t.linnet", "--note",
                  "A-17 rings back at six"}),
            "Offered to t.linnet, who has to say yes: turnstone handover take\n"
            "Before that nothing changes: r.sorrel is on duty as on-call-lead, "
            "until Thu 4\nMar 2027 09:00 GMT.\n");
  EXPECT_EQ(offered_.to(), "t.linnet");
  EXPECT_EQ(offered_.note(), "A-17 rings back at six");
  const Outcome outcome = program_.Run({"handover", "give"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_THAT(outcome.err, HasSubstr("--to is required"));
}

TEST_F(DutyCommands, HandoverTakeSaysWhatIsNowWithWhom) {
  handover_.clear_offer();
  handover_.mutable_duty()->set_person(0, "t.linnet");
  EXPECT_EQ(Good({"handover", "take", "--role", "on-call-lead"}),
            "t.linnet is on duty as on-call-lead, until Thu 4 Mar 2027 09:00 "
            "GMT.\nWith t.linnet now: 1 open alert. To see it all: turnstone "
            "handover --role\non-call-lead\n");
  EXPECT_TRUE(answered_.yes());
  EXPECT_EQ(answered_.role(), "on-call-lead");
}

TEST_F(DutyCommands, HandoverDeclineSaysWhoStays) {
  EXPECT_EQ(Good({"handover", "decline"}),
            "Declined. r.sorrel is on duty as on-call-lead, until Thu 4 Mar "
            "2027 09:00 GMT.\n");
  EXPECT_FALSE(answered_.yes());
}

TEST_F(DutyCommands, DueIsGroupedByDay) {
  EXPECT_EQ(Good({"due"}), Golden("due"));
  EXPECT_EQ(due_asked_.until().seconds(),
            Stamp("2027-03-04T14:05:00Z").seconds());
}

TEST_F(DutyCommands, DueLooksAsFarAsItIsTold) {
  due_.set_more(true);
  due_.mutable_item(0)->set_site("mill-lane");
  EXPECT_THAT(
      Good({"due", "--site", "harbour-row", "--by", "3d"}),
      AllOf(HasSubstr("There is more than is shown"), HasSubstr("mill-lane")));
  EXPECT_EQ(due_asked_.site(), "harbour-row");
  EXPECT_EQ(due_asked_.until().seconds(),
            Stamp("2027-03-06T14:05:00Z").seconds());
  const Outcome wrong = program_.Run({"due", "--by", "Friday"});
  EXPECT_EQ(wrong.code, 2);
  EXPECT_THAT(wrong.err, StartsWith("turnstone: --by is not a time;\nwrite"));
  due_.clear_item();
  due_.set_more(false);
  EXPECT_EQ(Good({"due"}), "Nothing falls due by Thu 4 Mar 2027 14:05 UTC.\n");
}

TEST_F(DutyCommands, OutboxShowsChannelsThenMessages) {
  EXPECT_EQ(Good({"outbox"}), Golden("outbox"));
  EXPECT_THAT(outbox_asked_.status(), testing::IsEmpty());
  EXPECT_EQ(outbox_asked_.page_size(), 50);
  Good({"outbox", "--most", "500"});
  EXPECT_EQ(outbox_asked_.page_size(), 500);
}

// Two sites may call a channel alike. In March Dublin keeps GMT, Berlin CET.
TEST_F(DutyCommands, OutboxTellsTheTimeOfTheSite) {
  v1::ChannelState& other = *outbox_.add_channel();
  other = outbox_.channel(0);
  other.set_site("mill-lane");
  other.set_time_zone("Europe/Berlin");
  outbox_.mutable_message(0)->set_site("mill-lane");
  outbox_.mutable_message(1)->set_channel("fax");
  EXPECT_THAT(Good({"outbox"}),
              AllOf(HasSubstr("as of Wed 3 Mar 2027 14:05 GMT"),
                    HasSubstr("tried next at Wed 3 Mar 2027 15:10 CET"),
                    HasSubstr("5 attempts, next Wed 3 Mar 2027 15:10 CET"),
                    HasSubstr("told at Wed 3 Mar 2027 15:00 CET"),
                    HasSubstr("12 attempts, ended Wed 3 Mar 2027 02:05 UTC")));
}

TEST_F(DutyCommands, OutboxSaysThatNothingIsSent) {
  EXPECT_THAT(Good({"outbox"}), Not(HasSubstr("SENDS NOTHING")));
  outbox_.set_sending(false);
  EXPECT_THAT(Good({"outbox"}),
              HasSubstr("\nTHIS SERVICE SENDS NOTHING: it was started so ("));
}

TEST_F(DutyCommands, OutboxSaysWhenThereIsNothing) {
  outbox_.clear_message();
  outbox_.clear_channel();
  outbox_.set_total(0);
  EXPECT_THAT(Good({"outbox"}),
              AllOf(HasSubstr("Channels\n  none: people follow"),
                    HasSubstr("Messages\n  none\n")));
}

TEST_F(DutyCommands, OutboxSaysSinceWhenTheNextAttemptIsDue) {
  *outbox_.mutable_message(0)->mutable_next_attempt_at() =
      Stamp("2027-03-03T14:05:00Z");
  EXPECT_THAT(Good({"outbox"}),
              HasSubstr("5 attempts, the next due since Wed 3 Mar 2027 14:05"));
}

// Late: whoever comes next was told already, or the attempt is overdue.
TEST_F(DutyCommands, OutboxMarksWhatIsLateAndNothingElse) {
  const auto late = [this](const std::string& deadline, const std::string& next,
                           v1::MessageStatus status) {
    outbox_.clear_message();
    v1::OwedMessage& message = *outbox_.add_message();
    message.set_status(status);
    *message.mutable_deadline() = Stamp(deadline);
    *message.mutable_next_attempt_at() = Stamp(next);
    return Good({"outbox"}).find("LATE") != std::string::npos;
  };
  const std::string past = "2027-03-03T14:00:00Z";
  const std::string future = "2027-03-03T14:05:01Z";
  EXPECT_TRUE(late(past, future, v1::MESSAGE_STATUS_OWED));
  EXPECT_TRUE(late(future, past, v1::MESSAGE_STATUS_OWED));
  EXPECT_FALSE(late(future, "2027-03-03T14:00:01Z", v1::MESSAGE_STATUS_OWED));
  EXPECT_FALSE(late(past, past, v1::MESSAGE_STATUS_SENT));
}

TEST_F(DutyCommands, OutboxAsksForWhatTheFilterSays) {
  Good({"outbox", "--site", "harbour-row", "--status", "sent,given-up",
        "--alert", "A-17"});
  EXPECT_THAT(outbox_asked_.status(), ElementsAre(v1::MESSAGE_STATUS_SENT,
                                                  v1::MESSAGE_STATUS_GIVEN_UP));
  EXPECT_EQ(outbox_asked_.site(), "harbour-row");
  EXPECT_EQ(outbox_asked_.alert_id(), "A-17");
  const Outcome wrong = program_.Run({"outbox", "--status", "lost"});
  EXPECT_EQ(wrong.code, 2);
  EXPECT_THAT(wrong.err, HasSubstr("write owed, sent, withdrawn, given-up"));
}

TEST_F(DutyCommands, WriteJsonForPrograms) {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"oncall"},
        {"handover"},
        {"handover", "give", "--to", "t.linnet"},
        {"handover", "take"},
        {"due"},
        {"outbox"}}) {
    std::vector<std::string> with_json = words;
    with_json.emplace_back("--json");
    EXPECT_THAT(Good(with_json), AllOf(StartsWith("{\""), EndsWith("}\n")));
  }
}

TEST_F(DutyCommands, SayWhyTheyAreRefused) {
  status_ = kRefused;
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"oncall"},
        {"handover"},
        {"handover", "give", "--to", "t.linnet"},
        {"handover", "take"},
        {"handover", "decline"},
        {"due"},
        {"outbox"}}) {
    const Outcome outcome = program_.Run(words);
    EXPECT_EQ(outcome.code, 1);
    EXPECT_EQ(outcome.err, "turnstone: refused: not so\n");
    EXPECT_EQ(outcome.out, "");
  }
}

}  // namespace
}  // namespace turnstone::cli
