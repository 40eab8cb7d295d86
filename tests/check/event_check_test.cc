// Events as senders get them wrong. Expectations: the comments of event.proto
// and event_check.h; no outside source.
#include "rules/check/event_check.h"

#include <gmock/gmock.h>
#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>

#include "rules/check/load.h"
#include "tests/check/good_files.h"

namespace turnstone {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

// 2027-03-08 10:00 UTC: the service's clock, and when the events happened.
constexpr int64_t kNow = 1804500000;

constexpr char kEnvelope[] = R"(source: "urn:example:intake"
event_id: "e-1"
site: "harbour-row"
participant: "p-7"
effective_time { seconds: 1804500000 }
)";

constexpr char kScreening[] = R"(screening_result {
  instrument: "mood-3"
  answers { question: "m1" answer: "always" }
  answers { question: "m2" answer: "sometimes" }
})";

constexpr char kReplacement[] = R"(replacement {
    source: "urn:example:intake"
    event_id: "e-0"
    site: "harbour-row"
    participant: "p-7"
    effective_time { seconds: 1804400000 }
    practice_report { confidence: 60 }
  })";

std::string Correction(const std::string& change) {
  return "correction {\n  corrected_source: \"urn:example:intake\"\n"
         "  corrected_event_id: \"e-0\"\n  reason: \"typed wrongly\"\n  " +
         change + "\n}";
}

const Setup& TestSetup() {
  static const Setup setup(
      LoadConfiguration(GoodFiles(), {.complete = true}).configuration.value(),
      "digest");
  return setup;
}

absl::Status Check(const std::string& text) {
  v1::Event event;
  EXPECT_TRUE(google::protobuf::TextFormat::ParseFromString(text, &event))
      << text;
  return CheckEvent(event, TestSetup(), absl::FromUnixSeconds(kNow));
}

// `text` with the only `from` in it replaced.
std::string But(std::string text, const std::string& from,
                const std::string& to) {
  const size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  EXPECT_EQ(text.find(from, at + 1), std::string::npos) << from;
  if (at != std::string::npos) text.replace(at, from.size(), to);
  return text;
}

struct BadEvent {
  std::string name;  // of the test
  std::string text;
  std::string message;  // what is wrong and what to send, or its beginning
};

void PrintTo(const BadEvent& bad, std::ostream* out) { *out << bad.name; }

class BadEventTest : public ::testing::TestWithParam<BadEvent> {};

TEST_P(BadEventTest, IsRefusedWithAdvice) {
  const absl::Status status = Check(GetParam().text);
  EXPECT_EQ(status.code(), absl::StatusCode::kInvalidArgument);
  EXPECT_THAT(std::string(status.message()), HasSubstr(GetParam().message));
}

std::string Screening(const std::string& from, const std::string& to) {
  return But(std::string(kEnvelope) + kScreening, from, to);
}
std::string Payload(const std::string& payload) { return kEnvelope + payload; }
std::string Mending(const std::string& from, const std::string& to) {
  return kEnvelope + But(Correction(kReplacement), from, to);
}

const std::vector<BadEvent> kBadEvents = {
    {"NoSource", Screening("source: \"urn:example:intake\"", ""),
     "source is missing; send 1 to 200 characters, each printable ASCII and no "
     "space, e.g. \"urn:example:intake\""},
    {"SourceWithSpace", Screening("urn:example:intake", "urn example"),
     "source holds a character that is not allowed; send 1 to 200 characters, "
     "each printable ASCII and no space, e.g. \"urn:example:intake\""},
    {"SourceNotAscii", Screening("urn:example:intake", "urn:ex\\303\\251"),
     "source holds a character that is not allowed; send 1 to 200 characters, "
     "each printable ASCII and no space, e.g. \"urn:example:intake\""},
    {"SourceTooLong",
     Screening(
         "urn:example:intake",
         "uuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuu"
         "uuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuu"
         "uuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuuu"),
     "source is too long; send 1 to 200 characters, each printable ASCII and "
     "no space, e.g. \"urn:example:intake\""},
    {"NoEventId", Screening("event_id: \"e-1\"", ""),
     "eventId is missing; send 1 to 100 characters, each A-Z a-z 0-9 . _ : or "
     "-"},
    {"EventIdWithSlash", Screening("\"e-1\"", "\"e/1\""),
     "eventId holds a character that is not allowed; send 1 to 100 characters, "
     "each A-Z a-z 0-9 . _ : or -"},
    {"EventIdTooLong",
     Screening("\"e-1\"",
               "\"eeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeee"
               "eeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeee\""),
     "eventId is too long; send 1 to 100 characters, each A-Z a-z 0-9 . _ : or "
     "-"},
    {"NoSite", Screening("site: \"harbour-row\"", ""),
     "site is missing; send the id of the participant's site"},
    {"NoParticipant", Screening("participant: \"p-7\"", ""),
     "participant is missing; send 1 to 64 characters, each A-Z a-z 0-9 . _ : "
     "or -"},
    {"ParticipantLikeAName", Screening("\"p-7\"", "\"Ann Other\""),
     "participant holds a character that is not allowed; send 1 to 64 "
     "characters, each A-Z a-z 0-9 . _ : or -"},
    {"ParticipantTooLong",
     Screening("\"p-7\"",
               "\"ppppppppppppppppppppppppppppppppppppppppppppppppppppppppppppp"
               "pppp\""),
     "participant is too long; send 1 to 64 characters, each A-Z a-z 0-9 . _ : "
     "or -"},
    {"NoEffectiveTime", Screening("effective_time { seconds: 1804500000 }", ""),
     "effectiveTime is missing; send when it happened, such as "
     "\"2027-03-17T09:30:00Z\""},
    {"BeforeTheYear2000",
     Screening("seconds: 1804500000", "seconds: 946684799"),
     "effectiveTime is before the year 2000; send when it happened, from the "
     "year 2000 on"},
    {"FarFuture", Screening("seconds: 1804500000", "seconds: 1804500301"),
     "effectiveTime is more than five minutes ahead of the service's clock; "
     "send when it happened, and compare the sender's clock with the "
     "service's"},
    {"JustTooFuture",
     Screening("seconds: 1804500000", "seconds: 1804500300 nanos: 1"),
     "effectiveTime is more than five minutes ahead of the service's clock; "
     "send when it happened"},
    {"NegativeNanos",
     Screening("seconds: 1804500000", "seconds: 1804500000 nanos: -1"),
     "effectiveTime is not a valid timestamp; send seconds for a year from 1 "
     "to 9999 and nanos from 0 to 999999999"},
    {"TooManyNanos",
     Screening("seconds: 1804500000", "seconds: 1804400000 nanos: 1000000000"),
     "effectiveTime is not a valid timestamp; send seconds for a year from 1 "
     "to 9999 and nanos from 0 to 999999999"},
    {"BeyondTheCalendar",
     Screening("seconds: 1804500000", "seconds: 253402300800"),
     "effectiveTime is not a valid timestamp; send seconds for a year"},
    {"NoInstrument", Screening("instrument: \"mood-3\"", ""),
     "screeningResult.instrument is missing; send one of calm-2, mood-3, or "
     "its LOINC panel code"},
    {"UnknownInstrument",
     Screening("instrument: \"mood-3\"", "instrument: \"mood-4\""),
     "screeningResult.instrument is not known here; send one of calm-2, "
     "mood-3, or its LOINC panel code"},
    {"UnknownQuestion", Screening("question: \"m1\"", "question: \"m9\""),
     "screeningResult.answers[0].question is not a question of Mood-3; send "
     "one of m1 (low mood)"},
    {"QuestionTwice", Screening("question: \"m2\"", "question: \"m1\""),
     "screeningResult.answers[1].question is in this form a second time"},
    {"QuestionTwiceByItsOtherCode",
     Screening("question: \"m2\"", "question: \"44250-9\""),
     "send each question once"},
    {"NeitherAnswerNorAbsent", Screening("answer: \"always\"", ""),
     "screeningResult.answers[0] has neither an answer nor a reason for having "
     "none; send \"answer\", or \"absent\""},
    {"AbsentUnspecified",
     Screening("answer: \"always\"", "absent: DATA_ABSENT_REASON_UNSPECIFIED"),
     "screeningResult.answers[0] has neither an answer nor a reason for having "
     "none; send \"answer\", or \"absent\""},
    {"AbsentUnknown", Screening("answer: \"always\"", "absent: 99"),
     "screeningResult.answers[0] has neither an answer nor a reason for having "
     "none; send \"answer\", or \"absent\""},
    {"UnknownAnswer", Screening("answer: \"always\"", "answer: \"often\""),
     "screeningResult.answers[0].answer is not an answer to question m1 (low "
     "mood); send one of LA6568-5"},
    {"TotalOutOfRange",
     Screening("instrument: \"mood-3\"",
               "instrument: \"mood-3\" reported_total: 13"),
     "screeningResult.reportedTotal is not a total that Mood-3 can give; send "
     "a multiple of 2 from 0 to 12"},
    {"TotalNotAMultiple",
     Screening("instrument: \"mood-3\"",
               "instrument: \"mood-3\" reported_total: 7"),
     "screeningResult.reportedTotal is not a total that Mood-3 can give; send "
     "a multiple of 2 from 0 to 12"},
    {"NothingMeasured",
     Payload("screening_result { instrument: \"mood-3\" willing: true }"),
     "screeningResult.answers is empty and reportedTotal is missing, so Mood-3 "
     "measured nothing; send at least one answer, a reason for having none, or "
     "the total"},
    {"NoPayload", Payload(""),
     "payload is missing; send one of enrolment, screeningResult, "
     "visitPlanned, visitOutcome, practiceReport, correction or discharge"},
    {"EnrolmentWithoutVisits", Payload("enrolment { planned_visits: 0 }"),
     "enrolment.plannedVisits is out of range; send a whole number from 1 to "
     "52, or leave it out for the site's number"},
    {"EnrolmentWithTooManyVisits", Payload("enrolment { planned_visits: 53 }"),
     "enrolment.plannedVisits is out of range; send a whole number from 1 to "
     "52"},
    {"EnrolmentForAClinicianWithSpace",
     Payload("enrolment { clinician: \"R Sorrel\" }"),
     "enrolment.clinician holds a character that is not allowed; send 1 to 100 "
     "characters, each A-Z a-z 0-9 . _ : or -"},
    {"PlanForAClinicianTooLong",
     Payload("visit_planned { visit: \"v\" clinician: \"" +
             std::string(101, 'c') + "\" }"),
     "visitPlanned.clinician is too long; send 1 to 100 characters, each A-Z "
     "a-z 0-9 . _ : or -"},
    {"PlanWithoutVisit",
     Payload("visit_planned { planned_start { seconds: 1804600000 } }"),
     "visitPlanned.visit is missing; send 1 to 100 characters, each A-Z a-z "
     "0-9 . _ : or -"},
    {"PlanWithoutStart", Payload("visit_planned { visit: \"visit-3\" }"),
     "visitPlanned.plannedStart is missing; send when the visit is to begin, "
     "from one year before effectiveTime to two years after it"},
    {"PlanWithBadStart",
     Payload(
         "visit_planned { visit: \"visit-3\" planned_start { nanos: -5 } }"),
     "visitPlanned.plannedStart is not a valid timestamp; send seconds"},
    {"PlanTooEarly",
     Payload("visit_planned { visit: \"v\" planned_start { seconds: 1772963999 "
             "} }"),
     "visitPlanned.plannedStart is too far before effectiveTime; send when the "
     "visit is to begin, from one year before effectiveTime to two years after "
     "it"},
    {"PlanTooLate",
     Payload("visit_planned { visit: \"v\" planned_start { seconds: 1867658401 "
             "} }"),
     "visitPlanned.plannedStart is too far after effectiveTime; send when the "
     "visit is to begin, from one year before effectiveTime to two years after "
     "it"},
    {"OutcomeWithoutVisit",
     Payload("visit_outcome { outcome: VISIT_OUTCOME_KIND_ATTENDED }"),
     "visitOutcome.visit is missing; send 1 to 100 characters, each A-Z a-z "
     "0-9 . _ : or -"},
    {"OutcomeOfABadVisit",
     Payload("visit_outcome { visit: \"visit 3\" outcome: "
             "VISIT_OUTCOME_KIND_ATTENDED }"),
     "visitOutcome.visit holds a character that is not allowed; send 1 to 100 "
     "characters, each A-Z a-z 0-9 . _ : or -"},
    {"OutcomeMissing", Payload("visit_outcome { visit: \"visit-3\" }"),
     "visitOutcome.outcome is missing; send one of "
     "VISIT_OUTCOME_KIND_ATTENDED, VISIT_OUTCOME_KIND_NO_ANSWER, "
     "VISIT_OUTCOME_KIND_REFUSED_AT_DOOR, "
     "VISIT_OUTCOME_KIND_CANCELLED_WITH_NOTICE, "
     "VISIT_OUTCOME_KIND_CANCELLED_BY_STAFF or VISIT_OUTCOME_KIND_UNABLE"},
    {"OutcomeUnknown",
     Payload("visit_outcome { visit: \"visit-3\" outcome: 42 }"),
     "visitOutcome.outcome is not a value known here; send one of "
     "VISIT_OUTCOME_KIND_ATTENDED, VISIT_OUTCOME_KIND_NO_ANSWER, "
     "VISIT_OUTCOME_KIND_REFUSED_AT_DOOR, "
     "VISIT_OUTCOME_KIND_CANCELLED_WITH_NOTICE, "
     "VISIT_OUTCOME_KIND_CANCELLED_BY_STAFF or VISIT_OUTCOME_KIND_UNABLE"},
    {"ConfidenceBelowZero", Payload("practice_report { confidence: -1 }"),
     "practiceReport.confidence is out of range; send a whole number of "
     "percent from 0 to 100, or leave it out if it was not asked"},
    {"ConfidenceAboveHundred", Payload("practice_report { confidence: 101 }"),
     "practiceReport.confidence is out of range; send a whole number of "
     "percent from 0 to 100, or leave it out if it was not asked"},
    {"DischargeWithoutReason", Payload("discharge {}"),
     "discharge.reason is missing; send one of DISCHARGE_REASON_COMPLETED, "
     "DISCHARGE_REASON_STEPPED_UP, DISCHARGE_REASON_WITHDREW, "
     "DISCHARGE_REASON_LOST_CONTACT, DISCHARGE_REASON_MOVED_AWAY, "
     "DISCHARGE_REASON_DIED or DISCHARGE_REASON_OTHER"},
    {"DischargeForUnknownReason", Payload("discharge { reason: 8 }"),
     "discharge.reason is not a value known here; send one of "
     "DISCHARGE_REASON_COMPLETED, DISCHARGE_REASON_STEPPED_UP, "
     "DISCHARGE_REASON_WITHDREW, DISCHARGE_REASON_LOST_CONTACT, "
     "DISCHARGE_REASON_MOVED_AWAY, DISCHARGE_REASON_DIED or "
     "DISCHARGE_REASON_OTHER"},
    {"CorrectsNoSource",
     Mending("corrected_source: \"urn:example:intake\"", ""),
     "correction.correctedSource is missing; send 1 to 200 characters, each "
     "printable ASCII and no space, e.g. \"urn:example:intake\""},
    {"CorrectsNoEvent", Mending("corrected_event_id: \"e-0\"", ""),
     "correction.correctedEventId is missing; send 1 to 100 characters, each "
     "A-Z a-z 0-9 . _ : or -"},
    {"NoCorrectionReason", Mending("reason: \"typed wrongly\"", ""),
     "correction.reason is missing; send 1 to 200 characters on why, without "
     "anything that identifies the participant"},
    {"CorrectionReasonOfSpaces",
     Mending("reason: \"typed wrongly\"", "reason: \"  \""),
     "correction.reason is missing; send 1 to 200 characters on why, without "
     "anything that identifies the participant"},
    {"CorrectionReasonTooLong",
     Mending(
         "reason: \"typed wrongly\"",
         "reason: "
         "\"\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\"
         "251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303"
         "\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\30"
         "3\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\3"
         "03\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\"
         "303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251"
         "\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\25"
         "1\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\2"
         "51\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\"
         "251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303"
         "\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\30"
         "3\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\3"
         "03\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\"
         "303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251"
         "\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\25"
         "1\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\2"
         "51\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\"
         "251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303"
         "\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\30"
         "3\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\3"
         "03\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\"
         "303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251"
         "\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\25"
         "1\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\2"
         "51\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\"
         "251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303"
         "\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\30"
         "3\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\3"
         "03\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\303\\251\\"
         "303\\251\\303\\251\""),
     "correction.reason is too long; send 1 to 200 characters on why, without "
     "anything that identifies the participant"},
    {"WithdrawnFalse", Payload(Correction("withdrawn: false")),
     "correction.withdrawn is false; send true, or replacement instead"},
    {"NoChange", Payload(Correction("")),
     "correction says neither that the event is withdrawn nor what replaces "
     "it; send withdrawn: true, or replacement"},
    {"ReplacementOfAnotherSource",
     Mending("replacement {\n    source: \"urn:example:intake\"",
             "replacement {\n    source: \"urn:example:other\""),
     "correction.replacement.source differs from correction.correctedSource; "
     "send the same, or withdraw the event and send a new one"},
    {"ReplacementWithAnotherId",
     Mending("    event_id: \"e-0\"", "    event_id: \"e-2\""),
     "correction.replacement.eventId differs from correction.correctedEventId; "
     "send the same, or withdraw the event and send a new one"},
    {"ReplacementAtAnotherSite",
     Mending("    site: \"harbour-row\"", "    site: \"hill\""),
     "correction.replacement.site differs from site; send the same, or "
     "withdraw the event and send a new one"},
    {"ReplacementForSomebodyElse",
     Mending("    participant: \"p-7\"", "    participant: \"p-8\""),
     "correction.replacement.participant differs from participant; send the "
     "same, or withdraw the event and send a new one"},
    {"ReplacementWithoutTime",
     Mending("    effective_time { seconds: 1804400000 }\n", ""),
     "correction.replacement.effectiveTime is missing; send when it happened"},
    {"ReplacementInTheFuture", Mending("1804400000", "1804600000"),
     "correction.replacement.effectiveTime is more than five minutes ahead of "
     "the service's clock; send when it happened"},
    {"ReplacementWithoutPayload",
     Mending("practice_report { confidence: 60 }", ""),
     "correction.replacement.payload is missing; send one of enrolment, "
     "screeningResult"},
    {"ReplacementWrongInside",
     Mending("practice_report { confidence: 60 }",
             "practice_report { confidence: 600 }"),
     "correction.replacement.practiceReport.confidence is out of range; send a "
     "whole number of percent from 0 to 100, or leave it out if it was not "
     "asked"},
    {"ReplacementFormWrongInside",
     Mending("practice_report { confidence: 60 }",
             "screening_result { instrument: \"mood-3\" }"),
     "correction.replacement.screeningResult.answers is empty and "
     "reportedTotal is missing"},
    {"CorrectsACorrection",
     Mending("practice_report { confidence: 60 }",
             "correction { withdrawn: true }"),
     "correction.replacement.correction stands inside a correction; send what "
     "the first event should have said"},
};
INSTANTIATE_TEST_SUITE_P(Events, BadEventTest, ::testing::ValuesIn(kBadEvents),
                         [](const auto& bad) { return bad.param.name; });

TEST(EventCheckTest, GoodEventsPass) {
  const std::vector<std::string> payloads = {
      kScreening,
      "screening_result { instrument: \"mood-3-panel\" reported_total: 12 }",
      R"(screening_result {
           instrument: "calm-2" willing: false
           answers { question: "c1" answer: "no" }
           answers { question: "c2" absent: DATA_ABSENT_REASON_ASKED_DECLINED }
         })",
      R"(screening_result {
           instrument: "mood-3"
           answers { question: "m3" absent: DATA_ABSENT_REASON_ASKED_DECLINED }
         })",
      "enrolment {}",
      "enrolment { planned_visits: 1 }",
      "enrolment { planned_visits: 52 }",
      "enrolment { clinician: \"r.sorrel\" }",
      R"(visit_planned {
           visit: "v" clinician: "r.sorrel" planned_start { seconds: 1804600000 }
         })",
      R"(visit_planned {
           visit: "V.3_a:b-1" planned_start { seconds: 1772964000 }
         })",
      "visit_planned { visit: \"v\" planned_start { seconds: 1867658400 } }",
      "visit_outcome { visit: \"v\" outcome: VISIT_OUTCOME_KIND_UNABLE }",
      "practice_report {}",
      "practice_report { confidence: 0 }",
      "practice_report { confidence: 100 }",
      "discharge { reason: DISCHARGE_REASON_OTHER }",
      Correction(kReplacement),
      Correction("withdrawn: true"),
  };
  for (const std::string& payload : payloads) {
    EXPECT_TRUE(Check(Payload(payload)).ok()) << payload << "\n"
                                              << Check(Payload(payload));
  }
}

TEST(EventCheckTest, LimitsThemselvesPass) {
  EXPECT_TRUE(
      Check(Screening("urn:example:intake", std::string(200, '~'))).ok());
  EXPECT_TRUE(
      Check(Screening("\"e-1\"", "\"" + std::string(100, 'e') + "\"")).ok());
  EXPECT_TRUE(
      Check(Screening("\"p-7\"", "\"" + std::string(64, 'p') + "\"")).ok());
  EXPECT_TRUE(Check(Screening("1804500000", "946684800")).ok());
  EXPECT_TRUE(Check(Screening("1804500000", "1804500300")).ok());
  // 200 letters of two bytes each.
  std::string reason;
  for (int i = 0; i < 200; ++i) reason += "\\303\\251";
  EXPECT_TRUE(Check(Mending("typed wrongly", reason)).ok());
}

TEST(EventCheckTest, AnUnknownSiteIsNotFound) {
  const absl::Status status = Check(Screening("harbour-row", "harbor-row"));
  EXPECT_EQ(status.code(), absl::StatusCode::kNotFound);
  EXPECT_THAT(std::string(status.message()),
              HasSubstr("site is not a site of this service; send the id of "
                        "one that is configured"));
}

TEST(EventCheckTest, NothingThatWasSentIsRepeated) {
  for (const std::string& text :
       {Screening("\"p-7\"", "\"Ann Other\""),
        Screening("\"always\"", "\"Ann Other\""),
        Screening("question: \"m1\"", "question: \"Ann Other\""),
        Screening("harbour-row", "Ann Other"),
        Screening("\"mood-3\"", "\"Ann Other\"")}) {
    const absl::Status status = Check(text);
    EXPECT_FALSE(status.ok());
    EXPECT_THAT(std::string(status.message()), Not(HasSubstr("Ann")));
  }
  const absl::Status status =
      Check(Payload("practice_report { confidence: 777 }"));
  EXPECT_THAT(std::string(status.message()), Not(HasSubstr("777")));
}

}  // namespace
}  // namespace turnstone
