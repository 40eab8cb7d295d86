// Lines that somebody wrote to do harm, or a program at fault. Sources: RFC
// 8259 (JSON), RFC 3339 (times), RFC 3629 (UTF-8); the words are our own.
#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <gtest/gtest.h>

#include <sstream>
#include <string>
#include <vector>

#include "clients/cli/read_line.h"
#include "clients/cli/strict_json.h"
#include "tests/cli/fake_service.h"
#include "tests/cli/program.h"

namespace turnstone::cli {
namespace {

struct HostileLine {
  std::string name;
  std::string line;
  // What the sender is told to do about it.
  std::string advice;
};

std::string TimeIs(const std::string& time) {
  return absl::StrCat(R"({"effectiveTime":")", time, "\"}");
}

std::string Repeated(const std::string& text, int times) {
  std::string all;
  for (int i = 0; i < times; ++i) all += text;
  return all;
}

const std::string kTime = "write it as \"2027-03-03T14:05:00Z\"";
const std::string kComplete = "write one complete JSON object on the line";
const std::string kDigits = "write digits only";

std::vector<HostileLine> HostileLines() {
  return {
      {"YearZero", TimeIs("0000-01-01T00:00:00Z"), kTime},
      {"YearNegative", TimeIs("-0001-01-01T00:00:00Z"), kTime},
      {"YearTenThousand", TimeIs("10000-01-01T00:00:00Z"), kTime},
      {"ThirtiethOfFebruary", TimeIs("2027-02-30T00:00:00Z"), kTime},
      {"TwentyFifthHour", TimeIs("2027-02-03T25:00:00Z"), kTime},
      {"WithoutZone", TimeIs("2027-02-03T10:00:00"), kTime},
      {"SecondsSince1970", R"({"effectiveTime":1804500000})", kTime},
      {"NotANumber", R"({"practiceReport":{"confidence":NaN}})", kComplete},
      {"Infinite", R"({"practiceReport":{"confidence":-Infinity}})", kComplete},
      {"NotANumberInQuotes", R"({"practiceReport":{"confidence":"NaN"}})",
       kDigits},
      {"Huge", R"({"practiceReport":{"confidence":1e400}})", kComplete},
      {"ManyDigits",
       R"({"practiceReport":{"confidence":)" + std::string(4000, '9') + "}}",
       kComplete},
      {"KeyTwice", R"({"site":"a","participant":"b","site":"c"})",
       "write it once"},
      {"KeyTwiceByEscape", R"({"site":"a","s\u0069te":"c"})", "write it once"},
      {"DeepObjects", Repeated(R"({"correction":{"replacement":)", 5000),
       "write it flatter"},
      {"DeepLists",
       R"({"screeningResult":{"answers":)" + std::string(100000, '['),
       "not an object; write { ... }"},
      {"NotUtf8", "{\"participant\":\"\xff\"}", kComplete},
      {"OverlongUtf8", "{\"participant\":\"\xc0\xaf\"}", kComplete},
      {"HalfASurrogate", R"({"participant":"\ud800"})", kComplete},
      {"ControlCharacterBare", "{\"participant\":\"a\x1b[2J\"}", kComplete},
      {"NulByte", std::string("{\"participant\":\"a\0b\"}", 21), kComplete},
      {"ByteOrderMarkAlone", "\xef\xbb\xbf", kComplete},
      {"LongKey", "{\"" + std::string(100000, 'k') + "\":1}",
       "the keys here are"},
      {"LongLine", R"({"site":")" + std::string(300000, 'x') + "\"}",
       "write one event on a line"},
  };
}

class HostileLineTest : public testing::TestWithParam<HostileLine> {};

TEST_P(HostileLineTest, IsRefusedWithAdvice) {
  const auto event = ParseEventLine(GetParam().line);
  ASSERT_EQ(event.status().code(), absl::StatusCode::kInvalidArgument);
  const std::string message(event.status().message());
  EXPECT_TRUE(absl::StrContains(message, GetParam().advice)) << message;
  EXPECT_LT(message.size(), 500);
}

INSTANTIATE_TEST_SUITE_P(All, HostileLineTest,
                         testing::ValuesIn(HostileLines()),
                         [](const auto& line) { return line.param.name; });

// Good ones go through, whatever stands between them.
TEST(HostileLines, CostNoOtherLine) {
  FakeService service;
  std::vector<std::string> seen;
  service.submit = [&seen](FakeService::SubmitCall& call) {
    v1::SubmitRequest request;
    while (call.Read(&request)) {
      seen.push_back(request.event().event_id());
      v1::SubmitStreamResponse reply;
      reply.set_source(request.event().source());
      reply.set_event_id(request.event().event_id());
      reply.mutable_accepted();
      call.Write(reply);
    }
    return grpc::Status::OK;
  };
  Program program;
  program.server = service.address();
  std::vector<std::string> sent;
  for (const HostileLine& hostile : HostileLines()) {
    sent.push_back(hostile.name);
    absl::StrAppend(&program.input, hostile.line, "\n",
                    R"({"source":"urn:example:intake","eventId":")",
                    hostile.name, "\"}\n");
  }
  const Outcome outcome = program.Run({"submit", "-"});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_EQ(seen, sent);
  for (size_t i = 0; i < sent.size(); ++i) {
    EXPECT_TRUE(absl::StrContains(
        outcome.err, absl::StrCat("line ", 2 * i + 1, ": refused: ")))
        << sent[i];
  }
  EXPECT_EQ(outcome.err.find('\x1b'), std::string::npos);
}

// What a file without end would look like.
class Endless final : public std::streambuf {
 public:
  explicit Endless(size_t bytes) : left_(bytes) {}

 protected:
  int_type underflow() override { return left_ == 0 ? -1 : 'x'; }
  int_type uflow() override { return left_ == 0 ? -1 : (--left_, 'x'); }

 private:
  size_t left_;
};

TEST(ReadLine, KeepsLittleOfAnEndlessLine) {
  Endless bytes(size_t{64} << 20);
  std::istream in(&bytes);
  std::string line;
  EXPECT_TRUE(ReadLine(in, line));
  EXPECT_EQ(line.size(), kLongestLine + 1);
  EXPECT_LT(line.capacity(), size_t{1} << 20);
  EXPECT_FALSE(ReadLine(in, line));
}

TEST(ReadLine, ReadsAsGetlineDoes) {
  for (const std::string text : {"", "a", "a\n", "\n\nb", "a\r\nb\n\n"}) {
    std::istringstream ours(text);
    std::istringstream theirs(text);
    std::string line;
    std::string expected;
    while (std::getline(theirs, expected)) {
      ASSERT_TRUE(ReadLine(ours, line)) << text;
      EXPECT_EQ(line, expected) << text;
    }
    EXPECT_FALSE(ReadLine(ours, line)) << text;
  }
}

}  // namespace
}  // namespace turnstone::cli
