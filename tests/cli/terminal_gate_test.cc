// What may leave the program. Source: ECMA-48 (control functions).
#include "clients/cli/terminal_gate.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "clients/cli/render/terminal_codes.h"
#include "tests/cli/fake_service.h"
#include "tests/cli/program.h"

namespace turnstone::cli {
namespace {

std::string Through(const std::string& text) {
  std::ostringstream out;
  TerminalGate gate(out);
  std::ostream gated(&gate);
  gated << text << std::flush;
  return out.str();
}

TEST(TerminalGate, WritesOutControlBytes) {
  EXPECT_EQ(Through("a\x1b]0;title\x07"
                    "b"),
            "a\\u001b]0;title\ab");
  EXPECT_EQ(Through("a\x1b[31mb\x7f" + std::string(1, '\0')),
            "a\\u001b[31mb\\u007f\\u0000");
}

TEST(TerminalGate, PassesTextAndOurOwnCodes) {
  const std::string text = "Sé\tahora\r\n";
  EXPECT_EQ(Through(text), text);
  for (const char* code : kTerminalCodes) {
    EXPECT_EQ(Through(std::string("a") + code + "b"),
              std::string("a") + code + "b");
  }
}

TEST(TerminalGate, SaysThatTheOutputFailed) {
  std::ostringstream out;
  TerminalGate gate(out);
  std::ostream gated(&gate);
  out.setstate(std::ios::badbit);
  gated << "lost";
  EXPECT_FALSE(gated);
}

// What a program is given may be looked at by a person.
TEST(TerminalGate, LeavesJsonItsMeaning) {
  const std::string said =
      "no\x7f \xc2\x9b"
      "2J \xe2\x80\xae!";
  FakeService service;
  service.submit = [&said](FakeService::SubmitCall& call) {
    v1::SubmitRequest request;
    while (call.Read(&request)) {
      v1::SubmitStreamResponse reply;
      reply.set_source(request.event().source());
      reply.set_event_id(request.event().event_id());
      reply.mutable_refused()->set_code(grpc::INVALID_ARGUMENT);
      reply.mutable_refused()->set_message(said);
      call.Write(reply);
    }
    return grpc::Status::OK;
  };
  Program program;
  program.server = service.address();
  program.input = "{\"source\":\"urn:a\",\"eventId\":\"1\"}\n";
  const std::string out = program.Run({"submit", "-", "--json"}).out;
  EXPECT_EQ(nlohmann::json::parse(out)["reason"], said);
  for (const char* unsafe : {"\x7f", "\xc2\x9b", "\xe2\x80\xae"}) {
    EXPECT_EQ(out.find(unsafe), std::string::npos) << out;
  }
}

// CLI11 prints the words it was given.
TEST(TerminalGate, StandsBeforeEveryCommand) {
  Program program;
  for (const auto& words : std::vector<std::vector<std::string>>{
           {"\x1b[2J"},
           {"alert", "\x1b[2J", "\x1b[2J"},
           {"alerts", "--site=\x1b[2J", "--\x1b[2J"},
           {"submit", "/no\x1b[2J/file", "--as", "\x1b[2J"}}) {
    const Outcome outcome = program.RunAsWritten(words);
    EXPECT_NE(outcome.code, 0);
    EXPECT_EQ((outcome.out + outcome.err).find('\x1b'), std::string::npos);
  }
}

}  // namespace
}  // namespace turnstone::cli
