// Source of what is accepted: RFC 8259 (JSON), the JSON mapping of protobuf 3
// and event.proto; where the mapping is laxer, common practice, no source.
#include "clients/cli/strict_json.h"

#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <ostream>
#include <string>

namespace turnstone::cli {
namespace {

TEST(StrictJson, ReadsEveryKindOfValue) {
  const auto event = ParseEventLine(
      R"({"source":"urn:example:intake","eventId":"s-1","site":"harbour-row",)"
      R"("participant":"P-0042","effectiveTime":"2027-03-03T14:05:00+01:00",)"
      R"("screeningResult":{"instrument":"phq-9","answers":[)"
      R"({"question":"44260-8","answer":"LA6568-5"},{"question":"44255-8",)"
      R"("absent":"DATA_ABSENT_REASON_NOT_ASKED"}],)"
      R"("reportedTotal":12,"willing":false}})");
  ASSERT_TRUE(event.ok()) << event.status();
  EXPECT_EQ(event->event_id(), "s-1");
  EXPECT_EQ(event->effective_time().seconds(), 1804079100);  // date -d
  const v1::ScreeningResult& form = event->screening_result();
  EXPECT_EQ(form.reported_total(), 12);
  EXPECT_TRUE(form.has_willing());
  ASSERT_EQ(form.answers_size(), 2);
  EXPECT_EQ(form.answers(0).answer(), "LA6568-5");
  EXPECT_EQ(form.answers(1).absent(), v1::DATA_ABSENT_REASON_NOT_ASKED);
}

TEST(StrictJson, KeepsZeroApartFromMissing) {
  const auto zero = ParseEventLine(R"({"practiceReport":{"confidence":0}})");
  const auto missing = ParseEventLine(R"({"practiceReport":{}})");
  ASSERT_TRUE(zero.ok() && missing.ok());
  EXPECT_TRUE(zero->practice_report().has_confidence());
  EXPECT_FALSE(missing->practice_report().has_confidence());
}

struct Refusal {
  std::string line;
  std::string reason;

  friend void PrintTo(const Refusal& refusal, std::ostream* out) {
    *out << refusal.line;
  }
};

const std::string kWholeNumber =
    "practiceReport.confidence: not a whole number in range; write digits "
    "only, without quotes and without a decimal point";

class Refuses : public testing::TestWithParam<Refusal> {};

TEST_P(Refuses, WithReason) {
  const auto event = ParseEventLine(GetParam().line);
  EXPECT_EQ(event.status(), absl::InvalidArgumentError(GetParam().reason));
}

INSTANTIATE_TEST_SUITE_P(
    StrictJson, Refuses,
    testing::Values(
        Refusal{R"({"site":"a","site":"b"})",
                "key \"site\" twice; write it once"},
        Refusal{R"({"enrolment":{"plannedVisits":8,"plannedVisits":6}})",
                "enrolment: key \"plannedVisits\" twice; write "
                "it once"},
        Refusal{R"({"site":null})",
                "site: null says nothing; leave the key out instead"},
        Refusal{"null", "the line is not a JSON object; write { ... }"},
        Refusal{"[]", "the line is not a JSON object; write { ... }"},
        Refusal{"12", "the line is not a JSON object; write { ... }"},
        Refusal{R"({"enrolment":{"visits":8}})",
                "enrolment: unknown key \"visits\"; the keys here are "
                "plannedVisits, clinician"},
        Refusal{R"({"discharge":{"reason":"DISCHARGE_REASON_MOVED"}})",
                "discharge.reason: not one of its values; write "
                "\"DISCHARGE_REASON_COMPLETED\", "
                "\"DISCHARGE_REASON_STEPPED_UP\", "
                "\"DISCHARGE_REASON_WITHDREW\", "
                "\"DISCHARGE_REASON_LOST_CONTACT\", "
                "\"DISCHARGE_REASON_MOVED_AWAY\", \"DISCHARGE_REASON_DIED\", "
                "\"DISCHARGE_REASON_OTHER\""},
        Refusal{R"({"practiceReport":{"confidence":"80"}})", kWholeNumber},
        Refusal{R"({"practiceReport":{"confidence":80.0}})", kWholeNumber},
        Refusal{R"({"practiceReport":{"confidence":true}})", kWholeNumber},
        Refusal{R"({"practiceReport":{"confidence":2147483648}})",
                kWholeNumber},
        Refusal{R"({"practiceReport":{"confidence":-2147483649}})",
                kWholeNumber},
        Refusal{R"({"practiceReport":{"confidence":NaN}})",
                "practiceReport.confidence: not valid JSON at character 33; "
                "write one complete JSON object on the line"},
        Refusal{R"({"practiceReport":{"confidence":1e999}})",
                "practiceReport.confidence: not valid JSON at character 37; "
                "write one complete JSON object on the line"},
        Refusal{R"({"screeningResult":{"willing":"yes"}})",
                "screeningResult.willing: neither true nor false; write true "
                "or false without quotes"},
        Refusal{R"({"site":12})", "site: not text; write it in double quotes"},
        Refusal{R"({"site":["a"]})",
                "site: not text; write it in double quotes"},
        Refusal{R"({"site":{}})", "site: not text; write it in double quotes"},
        Refusal{R"({"effectiveTime":"3 March 2027"})",
                "effectiveTime: not a time with its zone; write it as "
                "\"2027-03-03T14:05:00Z\""},
        Refusal{R"({"effectiveTime":"2027-03-03T14:05:00"})",
                "effectiveTime: not a time with its zone; write it as "
                "\"2027-03-03T14:05:00Z\""},
        Refusal{R"({"enrolment":8})",
                "enrolment: not an object; write { ... }"},
        Refusal{R"({"screeningResult":{"answers":{}}})",
                "screeningResult.answers: not a list; write [ ... ]"},
        Refusal{R"({"screeningResult":{"answers":[[]]}})",
                "screeningResult.answers[0]: not an object; write { ... }"},
        Refusal{R"({"screeningResult":{"answers":[{},{"answer":1}]}})",
                "screeningResult.answers[1].answer: not text; write it in "
                "double quotes"},
        Refusal{R"({"enrolment":{},"discharge":{}})",
                "both \"enrolment\" and \"discharge\"; write only one of "
                "them"},
        Refusal{R"({"site":"a"} {})",
                "not valid JSON at character 14; write one complete "
                "JSON object on the line"},
        Refusal{R"({"site":"a",})",
                "site: not valid JSON at character 13; write one complete "
                "JSON object on the line"},
        Refusal{R"({"site":"a")",
                "site: not valid JSON at character 12; write one complete "
                "JSON object on the line"}));

// `levels` objects, one in the other.
std::string Nested(int levels) {
  std::string line = "{";
  for (int i = 1; i < levels; i += 2) {
    line += R"("correction":{"replacement":{)";
  }
  return line + std::string(static_cast<size_t>(levels | 1), '}');
}

TEST(StrictJson, NestsToThirtyTwoLevelsAndNoDeeper) {
  EXPECT_TRUE(ParseEventLine(Nested(31)).ok());
  EXPECT_THAT(std::string(ParseEventLine(Nested(33)).status().message()),
              testing::EndsWith("nested deeper than 32 levels; write it "
                                "flatter"));
  EXPECT_FALSE(ParseEventLine(std::string(200000, '[')).ok());
}

TEST(StrictJson, RefusesKeysAsTheyStandInProtoFiles) {
  EXPECT_THAT(
      std::string(ParseEventLine(R"({"event_id":"1"})").status().message()),
      testing::StartsWith("unknown key \"event_id\"; the keys here are "
                          "source, eventId, "));
}

TEST(StrictJson, RefusesEnumsByNumberAndTheUnspecifiedOne) {
  EXPECT_FALSE(ParseEventLine(R"({"discharge":{"reason":1}})").ok());
  EXPECT_FALSE(ParseEventLine(
                   R"({"discharge":{"reason":"DISCHARGE_REASON_UNSPECIFIED"}})")
                   .ok());
}

TEST(StrictJson, RefusesBytesThatAreNotUtf8) {
  EXPECT_FALSE(ParseEventLine("{\"site\":\"\xff\"}").ok());
}

TEST(StrictJson, RefusesALineBeyond256KiB) {
  const std::string blank(size_t{256} << 10, ' ');
  EXPECT_TRUE(ParseEventLine("{}" + blank.substr(2)).ok());
  EXPECT_FALSE(ParseEventLine("{}" + blank).ok());
}

TEST(StrictJson, NeverRepeatsAValue) {
  for (const std::string line :
       {R"({"practiceReport":{"confidence":"secret"}})",
        R"({"practiceReport":{"confidence":secret}})",
        R"({"discharge":{"reason":"secret"}})"}) {
    EXPECT_THAT(std::string(ParseEventLine(line).status().message()),
                testing::Not(testing::HasSubstr("secret")));
  }
}

}  // namespace
}  // namespace turnstone::cli
