// Source: service.proto; the words are our own.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <string>
#include <vector>

#include "tests/cli/fake_service.h"
#include "tests/cli/program.h"
#include "tests/cli/samples.h"

namespace turnstone::cli {
namespace {

using testing::HasSubstr;

class Commands : public testing::Test {
 protected:
  Commands() {
    program_.server = service_.address();
    *service_.now.mutable_now() = Stamp("2027-03-03T14:05:00Z");
    service_.now.set_simulated(true);
  }

  Program program_;
  FakeService service_;
};

TEST_F(Commands, ShowAnAlertWithItsAgeByTheServicesClock) {
  service_.get = [](const v1::GetAlertRequest& request, v1::Alert& alert) {
    alert = ToldAlert();
    alert.set_alert_id(request.alert_id());
    return grpc::Status::OK;
  };
  const Outcome outcome = program_.Run({"alert", "A-17"});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_THAT(outcome.out, HasSubstr("A-17   stat"));
  EXPECT_THAT(outcome.out, HasSubstr("2 h 10 min ago"));
  EXPECT_THAT(program_.Run({"alert", "A-17", "--json"}).out,
              HasSubstr(R"("priority":"PRIORITY_STAT")"));
}

TEST_F(Commands, AreNamedWhereTheyAreMistyped) {
  const std::string after =
      "\nturnstone --help, or turnstone COMMAND --help, says what to write\n";
  const auto error = [this](const std::vector<std::string>& words) {
    const Outcome outcome = program_.Run(words);
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.out, "");
    return outcome.err;
  };
  EXPECT_EQ(error({}), "turnstone: a command is missing" + after);
  EXPECT_EQ(error({"recieve", "A-17"}),
            "turnstone: there is no command recieve" + after);
  EXPECT_EQ(error({"receive", "A-17", "-n", "x"}),
            "turnstone: not expected: -n x" + after);
  EXPECT_EQ(error({"receive"}), "turnstone: ID is required" + after);
  EXPECT_EQ(error({"follow", "--count", "0"}),
            "turnstone: --count: write a whole number, at least 1" + after);
  EXPECT_EQ(error({"follow", "--after", "-1"}),
            "turnstone: --after: write a whole number, at least 0" + after);
}

TEST_F(Commands, ShowAParticipant) {
  service_.participant = [](const v1::GetParticipantRequest& request,
                            v1::ParticipantView& view) {
    if (request.site() != "harbour-row") {
      return grpc::Status(grpc::StatusCode::NOT_FOUND, "no such site");
    }
    view = Course();
    return grpc::Status::OK;
  };
  const Outcome outcome =
      program_.Run({"participant", "P-0042", "--site", "harbour-row"});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_THAT(outcome.out, HasSubstr("visits 3 of 8"));
  EXPECT_EQ(program_.Run({"participant", "P-0042"}).err,
            "turnstone: refused: no such site\n");
}

TEST_F(Commands, ShowTheClock) {
  for (const auto& words : {std::vector<std::string>{"clock"},
                            std::vector<std::string>{"clock", "show"}}) {
    EXPECT_EQ(program_.Run(words).out,
              "Wed 3 Mar 2027 14:05 UTC, a simulated clock\n");
  }
}

TEST_F(Commands, AdvanceTheClock) {
  int64_t seconds = 0;
  service_.advance = [&](const v1::AdvanceClockRequest& request,
                         v1::Clock& clock) {
    seconds = request.by().seconds();
    *clock.mutable_now() = Stamp("2027-03-04T16:05:00Z");
    return grpc::Status::OK;
  };
  EXPECT_EQ(program_.Run({"clock", "advance", "26h"}).out,
            "Thu 4 Mar 2027 16:05 UTC\n");
  EXPECT_EQ(seconds, 26 * 3600);
  const Outcome wrong = program_.Run({"clock", "advance", "soon"});
  EXPECT_EQ(wrong.code, 2);
  EXPECT_THAT(wrong.err, HasSubstr("26h, 3d, 90m or 1d6h"));
}

TEST_F(Commands, NeverCallAdvancingTwiceSafe) {
  service_.advance = [](const v1::AdvanceClockRequest&, v1::Clock&) {
    return grpc::Status(grpc::StatusCode::INTERNAL, "lost");
  };
  const Outcome outcome = program_.Run({"clock", "advance", "1h"});
  EXPECT_EQ(outcome.code, 3);
  EXPECT_THAT(outcome.err, HasSubstr("Look before you repeat it"));
  EXPECT_THAT(outcome.err, testing::Not(HasSubstr("safe")));
}

TEST_F(Commands, CleanWhatTheServiceSays) {
  service_.get = [](const v1::GetAlertRequest&, v1::Alert&) {
    return grpc::Status(grpc::StatusCode::NOT_FOUND, "\x1b[2Jno alert");
  };
  EXPECT_EQ(program_.Run({"alert", "A-1"}).err,
            "turnstone: refused: \\u001b[2Jno alert\n");
}

TEST(Usage, NeedsACallerAndSaysWhatToWrite) {
  Program program;
  for (const std::string as :
       {"", "r.sorrel", "r.sorrel,", "r.sorrel,Nurse", "r.sorrel,a nurse",
        ",clinician", "a,clinician,b", "r\n,clinician", " r,clinician",
        "r,c\xc3\xa9", "r,-\x1b"}) {
    const Outcome outcome = program.RunAsWritten({"alerts", "--as", as});
    EXPECT_EQ(outcome.code, 2) << as;
    EXPECT_THAT(outcome.err, HasSubstr("--as \"r.sorrel,clinician\"")) << as;
    EXPECT_THAT(outcome.err, HasSubstr("one of your site's")) << as;
  }
  const std::string longest(100, 'a');
  EXPECT_EQ(program.RunAsWritten({"alerts", "--as", "r," + longest + "a"}).code,
            2);
}

// Which roles there are is for the service to say (duty.proto, Role).
TEST(Usage, TakesAnyRoleOfTheRightShape) {
  FakeService service;
  Program program;
  for (const std::string& role :
       {std::string("nurse-2"), std::string("z"), std::string(100, 'a')}) {
    EXPECT_EQ(program
                  .RunAsWritten({"clock", "--as", "r.sorrel," + role,
                                 "--server", service.address()})
                  .code,
              0);
    EXPECT_EQ(service.caller, "r.sorrel," + role);
  }
}

TEST(Usage, TalksToThisMachineOnly) {
  Program program;
  program.server = "192.0.2.1:7411";  // RFC 5737
  const Outcome outcome = program.Run({"alerts"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_THAT(outcome.err, HasSubstr("write --server 127.0.0.1:PORT"));
}

TEST(Usage, TakesDefaultsFromTheEnvironment) {
  FakeService service;
  *service.now.mutable_now() = Stamp("2027-03-03T14:05:00Z");
  setenv("TURNSTONE_AS", "a.linnet,auditor", 1);
  setenv("TURNSTONE_SERVER", service.address().c_str(), 1);
  Program program;
  EXPECT_EQ(program.RunAsWritten({"clock"}).code, 0);
  EXPECT_EQ(service.caller, "a.linnet,auditor");
  unsetenv("TURNSTONE_AS");
  unsetenv("TURNSTONE_SERVER");
}

TEST(Usage, ExplainsItself) {
  Program program;
  const Outcome help = program.RunAsWritten({"--help"});
  EXPECT_EQ(help.code, 0);
  EXPECT_THAT(help.out, HasSubstr("not a diagnosis and not an emergency"));
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{}, std::vector<std::string>{"dance"},
        std::vector<std::string>{"alert"},
        std::vector<std::string>{"alerts", "--colour"}}) {
    const Outcome outcome = program.RunAsWritten(words);
    EXPECT_EQ(outcome.code, 2);
    EXPECT_THAT(outcome.err, HasSubstr("turnstone --help"));
  }
}

}  // namespace
}  // namespace turnstone::cli
