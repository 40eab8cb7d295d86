// Source: service.proto (SubmitStream, the table of status codes); the words
// are our own.
#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <string>
#include <vector>

#include "clients/cli/submit_batch.h"
#include "clients/cli/submit_report.h"
#include "tests/cli/fake_service.h"
#include "tests/cli/program.h"

namespace turnstone::cli {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

std::string Line(const std::string& id) {
  return absl::StrCat(R"({"source":"urn:example:intake","eventId":")", id,
                      "\",\"enrolment\":{}}\n");
}

// Answers every event as `Answer` says, and writes down what it saw.
class Submit : public testing::Test {
 protected:
  Submit() {
    program_.server = service_.address();
    service_.submit = [this](FakeService::SubmitCall& call) {
      return Serve(call);
    };
  }

  grpc::Status Serve(FakeService::SubmitCall& call) {
    streams_.emplace_back();
    v1::SubmitRequest request;
    while (call.Read(&request)) {
      if (seen_.size() == dies_after_) {
        return {grpc::StatusCode::UNAVAILABLE, "going down"};
      }
      streams_.back().push_back(request.event().event_id());
      seen_.push_back(request.event().event_id());
      v1::SubmitStreamResponse reply;
      reply.set_source(request.event().source());
      reply.set_event_id(request.event().event_id());
      Answer(reply);
      call.Write(reply);
    }
    return grpc::Status::OK;
  }

  // By the beginning of the id: "bad" is refused, "busy" is turned away
  // `busy_` times, "known" was accepted before, "alert" raises A-1 and A-2.
  void Answer(v1::SubmitStreamResponse& reply) {
    const std::string id = reply.event_id();
    if (id.starts_with("bad")) {
      reply.mutable_refused()->set_code(grpc::INVALID_ARGUMENT);
      reply.mutable_refused()->set_message("site: missing\x1b");
    } else if (id.starts_with("busy") && busy_ > 0) {
      --busy_;
      reply.mutable_refused()->set_code(grpc::RESOURCE_EXHAUSTED);
      reply.mutable_refused()->set_message("not accepted: the queue is full");
    } else if (id.starts_with("lost")) {
      reply.mutable_refused()->set_code(grpc::INTERNAL);
      reply.mutable_refused()->set_message("the disk does not answer");
    } else if (id.starts_with("other")) {
      reply.set_event_id("another");
      reply.mutable_accepted();
    } else {
      reply.mutable_accepted()->set_sequence(
          static_cast<int64_t>(seen_.size()));
      reply.mutable_accepted()->set_repeated_submission(
          id.starts_with("known"));
      if (id.starts_with("alert")) {
        reply.mutable_accepted()->add_alert_id("A-1");
        reply.mutable_accepted()->add_alert_id("A-2");
      }
    }
  }

  Outcome Send(const std::string& input,
               const std::vector<std::string>& more = {}) {
    program_.input = input;
    std::vector<std::string> arguments = {"submit", "-"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return program_.Run(arguments);
  }

  size_t dies_after_ = 100000;
  int busy_ = 0;
  std::vector<std::string> seen_;
  std::vector<std::vector<std::string>> streams_;
  Program program_;
  // Last: its threads use the members above.
  FakeService service_;
};

TEST_F(Submit, SendsGoodLinesAndRefusesBadOnes) {
  const Outcome outcome =
      Send(Line("a") + "\n  \r\n" + "{\"site\":null}\n" + Line("bad") +
           Line("alert") + Line("alert-too") + Line("known") +
           R"({"source":"urn:example:intake","eventId":"last"})");
  EXPECT_EQ(outcome.code, 1);
  EXPECT_EQ(outcome.out,
            "accepted 5 (of which 1 were known already), refused 2; alerts: "
            "A-1 A-2\n");
  EXPECT_EQ(outcome.err,
            "line 4: refused: site: null says nothing; leave the key out "
            "instead\n"
            "line 5: refused: site: missing\\u001b\n");
  EXPECT_THAT(seen_,
              ElementsAre("a", "bad", "alert", "alert-too", "known", "last"));
  EXPECT_EQ(service_.caller, "r.sorrel,clinician");
  EXPECT_TRUE(service_.had_deadline);
}

TEST_F(Submit, WarnsOfAReasonThatSaysWhoSomebodyIs) {
  const Outcome outcome =
      Send(Line("a") +
           R"({"source":"urn:example:intake","eventId":"b","correction":)"
           R"({"reason":"was for ann@example.org"}})");
  EXPECT_EQ(outcome.code, 0);
  EXPECT_THAT(outcome.err,
              HasSubstr("line 2: warning: correction.reason: holds what looks "
                        "like an e-mail address; "));
  EXPECT_THAT(outcome.err, Not(HasSubstr("ann@")));
}

TEST_F(Submit, EndsWellWhenNothingIsRefused) {
  const Outcome outcome = Send(Line("known-1") + Line("known-2"));
  EXPECT_EQ(outcome.code, 0);
  EXPECT_EQ(outcome.out,
            "accepted 2 (of which 2 were known already), refused 0\n");
  EXPECT_EQ(outcome.err, "");
}

TEST_F(Submit, KeepsAtMost64WithoutAReply) {
  std::string input;
  for (int i = 0; i < 130; ++i) input += Line(absl::StrCat("e-", i));
  EXPECT_EQ(Send(input).code, 0);
  ASSERT_EQ(streams_.size(), 3U);
  EXPECT_EQ(streams_[0].size(), 64U);
  EXPECT_EQ(streams_[1].size(), 64U);
  EXPECT_EQ(seen_.size(), 130U);
  EXPECT_EQ(seen_.back(), "e-129");
}

TEST_F(Submit, SaysWhichLinesHaveNoKnownResult) {
  dies_after_ = 2;
  const Outcome outcome = Send(Line("a") + "nonsense\n" + Line("b") +
                               Line("c") + "\n" + Line("d") + Line("e"));
  EXPECT_EQ(outcome.code, 3);
  EXPECT_THAT(outcome.out, HasSubstr("accepted 2 "));
  EXPECT_THAT(outcome.err, HasSubstr("line 2: refused: "));
  EXPECT_THAT(outcome.err,
              HasSubstr("no known result: lines 4, 6 to 7; nothing after line "
                        "7 was sent\n"));
  EXPECT_THAT(outcome.err,
              HasSubstr("The result is not known. Repeating the same command "
                        "is safe.\n"));
}

TEST_F(Submit, StopsAtTheFirstBatchWithoutAResult) {
  std::string input;
  for (int i = 0; i < 200; ++i) input += Line(absl::StrCat("e-", i));
  dies_after_ = 70;
  const Outcome outcome = Send(input);
  EXPECT_EQ(outcome.code, 3);
  EXPECT_THAT(outcome.err, HasSubstr("no known result: lines 71 to 128; "
                                     "nothing after line 128 was sent"));
  EXPECT_EQ(streams_.size(), 2U);
}

TEST_F(Submit, TakesAnAnswerThatSaysNothingAsUnknown) {
  EXPECT_EQ(Send(Line("lost")).code, 3);
  EXPECT_EQ(Send(Line("other")).code, 3);
}

TEST_F(Submit, CannotReachWhatIsNotThere) {
  {
    const FakeService gone;
    program_.server = gone.address();
  }
  const Outcome outcome = Send(Line("a"));
  EXPECT_EQ(outcome.code, 3);
  EXPECT_THAT(outcome.err, HasSubstr("no known result: line 1;"));
}

TEST_F(Submit, TriesAgainWhatWasNotAccepted) {
  busy_ = 2;
  const Outcome outcome =
      Send(Line("a") + Line("busy") + Line("b") + Line("bad"));
  EXPECT_EQ(outcome.code, 1);
  EXPECT_THAT(outcome.out, HasSubstr("accepted 3 "));
  // What was refused after it may have been refused for lack of it.
  EXPECT_THAT(streams_, ElementsAre(ElementsAre("a", "busy", "b", "bad"),
                                    ElementsAre("busy", "bad"),
                                    ElementsAre("busy", "bad")));
  EXPECT_THAT(program_.sleeper.pauses,
              ElementsAre(absl::Seconds(1), absl::Seconds(2)));
}

TEST_F(Submit, GivesUpAfterFiveAttempts) {
  busy_ = 1000;
  const Outcome outcome = Send(Line("busy") + Line("a"));
  EXPECT_EQ(outcome.code, 1);
  EXPECT_EQ(streams_.size(), 5U);
  EXPECT_EQ(program_.sleeper.pauses.size(), 4U);
  EXPECT_EQ(outcome.err, "line 1: refused: not accepted: the queue is full\n");
  EXPECT_THAT(outcome.out, HasSubstr("accepted 1 "));
}

TEST_F(Submit, TriesAgainWhenTheWholeStreamIsTurnedAway) {
  service_.submit = [this](FakeService::SubmitCall& call) {
    if (busy_++ == 0) {
      return grpc::Status(grpc::StatusCode::RESOURCE_EXHAUSTED,
                          "not accepted: too many calls");
    }
    return Serve(call);
  };
  EXPECT_EQ(Send(Line("a")).code, 0);
  EXPECT_EQ(program_.sleeper.pauses.size(), 1U);
}

TEST_F(Submit, ARefusedCallIsNotAnUnknownResult) {
  service_.submit = [](FakeService::SubmitCall&) {
    return grpc::Status(grpc::StatusCode::UNAUTHENTICATED, "role missing");
  };
  const Outcome outcome = Send(Line("a"));
  EXPECT_EQ(outcome.code, 1);
  EXPECT_THAT(outcome.err, HasSubstr("not accepted: line 1"));
  EXPECT_THAT(outcome.err, HasSubstr("turnstone: refused: role missing"));
}

TEST_F(Submit, WritesAnObjectForEveryLine) {
  dies_after_ = 2;
  const Outcome outcome =
      Send(Line("alert") + "\n{}x\n" + Line("known") + Line("c"), {"--json"});
  EXPECT_EQ(outcome.code, 3);
  EXPECT_EQ(
      outcome.out,
      R"({"line":1,"result":"accepted","sequence":1,"knownAlready":false,)"
      R"("alertId":["A-1","A-2"]})"
      "\n"
      R"({"line":3,"result":"refused","reason":"not valid JSON at character 3)"
      R"(; write one complete JSON object on the line"})"
      "\n"
      R"({"line":4,"result":"accepted","sequence":2,"knownAlready":true,)"
      R"("alertId":[]})"
      "\n"
      R"({"line":5,"result":"unknown"})"
      "\n");
  EXPECT_THAT(outcome.err, HasSubstr("accepted 2 "));
}

TEST_F(Submit, ShowsProgressOnATerminalOnly) {
  EXPECT_THAT(Send(Line("a")).err, Not(HasSubstr("\r")));
  program_.terminal = true;
  EXPECT_THAT(Send(Line("a")).err, HasSubstr("\raccepted 1, refused 0"));
}

TEST_F(Submit, ReadsAFile) {
  const std::string path = testing::TempDir() + "/turnstone_submit_test.jsonl";
  std::ofstream(path) << Line("a") << Line("b");
  EXPECT_EQ(program_.Run({"submit", path}).code, 0);
  EXPECT_THAT(seen_, ElementsAre("a", "b"));
  std::ofstream(path, std::ios::trunc).flush();
  EXPECT_EQ(program_.Run({"submit", path}).code, 0);
}

TEST_F(Submit, CannotReadAFileThatIsNotOne) {
  for (const std::string& path :
       {std::string("/nowhere/at/all"), testing::TempDir()}) {
    const Outcome outcome = program_.Run({"submit", path});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_THAT(outcome.err, HasSubstr("cannot read " + path));
  }
}

TEST(LineNumbers, AreShownAsRuns) {
  EXPECT_EQ(LineNumbers({3}), "3");
  EXPECT_EQ(LineNumbers({3, 5, 6, 7, 9}), "3, 5 to 7, 9");
}

}  // namespace
}  // namespace turnstone::cli
