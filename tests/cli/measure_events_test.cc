// Events in a file, measured without the service, and how the command is
// written. Source of the bands: Kroenke 2001 (PHQ-9); of what an event may
// hold: event.proto. The words are our own.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "tests/cli/golden.h"
#include "tests/cli/measure_program.h"

namespace turnstone::cli {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

// An event with a total, or what `payload` says instead.
std::string Event(const std::string& id, const std::string& day, int total,
                  const std::string& more = "") {
  return absl::StrCat(
      R"({"source":"urn:x","eventId":")", id,
      R"(","site":"harbour-row","participant":"p","effectiveTime":")", day,
      R"(T10:00:00Z","screeningResult":{"instrument":"phq-9",)",
      R"("reportedTotal":)", total, "}}", more);
}

std::string Other(const std::string& id, const std::string& day,
                  const std::string& payload) {
  return absl::StrCat(
      R"({"source":"urn:x","eventId":")", id,
      R"(","site":"harbour-row","participant":"p","effectiveTime":")", day,
      R"(T10:00:00Z",)", payload, "}\n");
}

std::string Mended(const std::string& id, const std::string& change) {
  return Other(absl::StrCat("mends-", id), "2027-03-01",
               absl::StrCat(R"("correction":{"correctedSource":"urn:x",)",
                            R"("correctedEventId":")", id, R"(",)", change,
                            R"(,"reason":"typing"})"));
}

TEST_F(Measure, TakeEventsAsSubmitDoes) {
  const Outcome outcome =
      Run("\n" + Event("a", "2027-01-04", 20, "\n") +
          Event("b", "2027-01-11", 16, "\n") + Event("c", "2027-02-01", 9) +
          "\n" + Event("d", "2027-02-08", 27, "\n") +
          Event("e", "2027-02-15", 27, "\n") + Event("a", "2027-01-04", 20) +
          "\n" + Other("f", "2027-01-12", R"("enrolment":{})") +
          Mended("d", R"("withdrawn":true)") +
          Mended("e", R"("replacement":)" + Event("e", "2027-02-15", 10)));
  EXPECT_EQ(outcome.err, "");
  EXPECT_EQ(outcome.code, 0);
  EXPECT_THAT(outcome.out, HasSubstr("Participant p, site harbour-row\n"));
  EXPECT_THAT(outcome.out,
              HasSubstr("From 16 on 11 Jan 2027 to 10 on 15 Feb 2027"));
  EXPECT_THAT(outcome.out, Not(HasSubstr("  27 ")));
}

TEST_F(Measure, ShowAResult) {
  const Outcome outcome =
      Run(Other("a", "2027-01-04",
                R"("screeningResult":{"instrument":"cognitive-screen",)"
                R"("result":"at-or-above-cut"})"));
  EXPECT_EQ(outcome.err, "");
  EXPECT_THAT(outcome.out, HasSubstr("Cognitive screen\n"
                                     "  DATE        RESULT\n"
                                     "  4 Jan 2027  impairment suspected on "
                                     "this screen\n"));
}

TEST_F(Measure, RefuseWrongEventsAndMeasureTheOthers) {
  const std::string good = Event("good", "2027-01-04", 12, "\n");
  const std::vector<std::pair<std::string, std::string>> lines = {
      {"{}",
       "source is missing; send 1 to 200 characters, each printable "
       "ASCII and no space, e.g. \"urn:example:intake\""},
      {Event("good", "2027-01-05", 12),
       "eventId is that of another event of this source; send an id of its "
       "own; a mistake is mended by a correction"},
      {Event("b", "1999-01-05", 12),
       "effectiveTime is before the year 2000; send when it happened, from the "
       "year 2000 on"},
      {Event("b", "2027-01-05", 28),
       "screeningResult.reportedTotal is not a total that PHQ-9 can give; send "
       "a whole number "
       "from 0 to 27, or leave it out"},
      {Other("b", "2027-01-05", R"("screeningResult":{"instrument":"gad"})"),
       "screeningResult.instrument is not known here; send one of "
       "cognitive-screen, gds-15, phq-9, who-5, or its LOINC panel code"},
      {Other("b", "2027-01-05", R"("practiceReport":{"confidence":800})"),
       "practiceReport.confidence is out of range; send a whole number of "
       "percent from 0 to 100, or leave it out if it was not asked"},
      {Mended("good", R"("replacement":)" + Event("good", "2027-01-05", 28)),
       "correction.replacement.screeningResult.reportedTotal is not a total "
       "that PHQ-9 can give; send a whole number from 0 to 27, or leave it "
       "out"},
      {Mended("good", R"("withdrawn":false)"),
       "correction.withdrawn is false; send true, or replacement instead"},
      {Mended("good", R"("replacement":)" + Event("b", "2027-01-05", 3)),
       "correction.replacement.eventId differs from "
       "correction.correctedEventId; send the same, or withdraw the event and "
       "send a new one"},
      {Mended("good", R"("replacement":)" + Event("good", "1999-01-05", 3)),
       "correction.replacement.effectiveTime is before the year 2000; send "
       "when it happened, from the year 2000 on"},
  };
  for (const auto& [line, reason] : lines) {
    const Outcome outcome = Run(good + line);
    EXPECT_EQ(outcome.err, "line 2: refused: " + reason + "\n");
    EXPECT_EQ(outcome.code, 1);
    EXPECT_THAT(outcome.out, HasSubstr("  12 "));
  }
}

TEST_F(Measure, NeedTheCorrectedEventFirst) {
  const Outcome outcome =
      Run(Mended("a", R"("withdrawn":true)") + Event("a", "2027-01-04", 12));
  EXPECT_THAT(outcome.err, HasSubstr("line 1: refused: correction.corrected"));
  EXPECT_THAT(outcome.out, HasSubstr("  12 "));
}

TEST_F(Measure, WriteOneLineOfJsonForEachParticipant) {
  const Outcome outcome = Run(kHeader +
                                  "q,2027-01-04,phq-9,,12\n"
                                  "p,2027-01-04,phq-9,,16\n"
                                  "p,2027-02-08,phq-9,,9\n",
                              {"--json"});
  const std::vector<std::string> lines =
      absl::StrSplit(outcome.out, '\n', absl::SkipEmpty());
  ASSERT_EQ(lines.size(), 2U);
  const auto p = Measured(lines[0]);
  EXPECT_EQ(p["participant"], "p");
  EXPECT_EQ(p["series"][0]["course"]["worseLow"], -7);
  EXPECT_EQ(p["series"][0]["course"]["verdict"][0]["better"], "TRUTH_TRUE");
  EXPECT_EQ(Measured(lines[1])["participant"], "q");
}

TEST_F(Measure, ShowOneParticipant) {
  const std::string table =
      kHeader + "p,2027-01-04,phq-9,,12\nq,2027-01-04,phq-9,,3\n";
  const Outcome one = Run(table, {"--participant", "q"});
  EXPECT_EQ(one.code, 0);
  EXPECT_THAT(one.out, AllOf(HasSubstr("Participant q"),
                             Not(HasSubstr("Participant p"))));
  const Outcome none = Run(table, {"--participant", "r"});
  EXPECT_EQ(none.code, 1);
  EXPECT_THAT(none.err, HasSubstr("nothing measured: no form of that"));
  EXPECT_THAT(none.err, HasSubstr("write another --participant, or\nleave it "
                                  "out for everybody\n"));
  EXPECT_EQ(none.out, "");
}

TEST_F(Measure, RefuseAFileWithoutForms) {
  for (const std::string& text :
       {std::string(), std::string("\n \n"), kHeader,
        Other("f", "2027-01-12", R"("enrolment":{})")}) {
    const Outcome outcome = Run(text);
    EXPECT_EQ(outcome.code, 1) << text;
    EXPECT_THAT(outcome.err, HasSubstr("turnstone: nothing measured")) << text;
    EXPECT_THAT(outcome.out, IsEmpty()) << text;
  }
}

TEST(MeasureUsage, PromisesNumbersOnlyWhereTheyAreTaken) {
  Program program;
  const Outcome outcome = program.RunAsWritten({"measure", "--help"});
  EXPECT_THAT(outcome.out,
              HasSubstr("its code alone where the same answer scores"));
}

TEST(MeasureUsage, SaysWhatToWrite) {
  Program program;
  const std::string table = kRoot + "/deploy/demo/scores.csv";
  const std::string rules = kRoot + "/rules/instruments";
  const std::vector<std::pair<std::vector<std::string>, std::string>> wrong = {
      {{"measure"}, "FILE is required"},
      {{"measure", "nowhere.csv", "--config", rules},
       "cannot read nowhere.csv: No such file or directory\nwrite the name of "
       "a file of forms, or - for standard input\n"},
      {{"measure", table, "--config", rules, "--zone", "Dublin"},
       "--zone is not a time zone; write its IANA name, such as "
       "Europe/Dublin\n"},
      {{"measure", table, "--config", "nowhere"},
       "no instruments: cannot read nowhere: No such file or directory\nwrite "
       "--config and a folder that holds instruments/, such as turnstone's own "
       "rules/\n"},
      {{"measure", table, "--config", kRoot + "/deploy/config"},
       "no instruments in " + kRoot +
           "/deploy/config; write --config and a folder that holds "
           "instruments/, such as turnstone's own rules/\n"},
  };
  for (const auto& [words, message] : wrong) {
    const Outcome outcome = program.RunAsWritten(words);
    EXPECT_EQ(outcome.code, 2);
    EXPECT_THAT(outcome.err, HasSubstr(message));
    EXPECT_EQ(outcome.out, "");
  }
}

// The page of the sample, checked figure by figure: totals are the sums of the
// answers; 16 to 9 and 12 to 7, 7 to 12, 11 to 9 and 9 to 7 are reliable or not
// as published; the Theil-Sen slope of 16 15 14 12 11 9 a week apart is the
// middle of 15 slopes, -1.4; 2 of its 720 orders are as steady.
TEST(MeasurePage, ShowsTheSample) {
  Program program;
  const Outcome outcome =
      program.RunAsWritten({"measure", kRoot + "/deploy/demo/scores.csv",
                            "--config", kRoot + "/rules/instruments"});
  EXPECT_EQ(outcome.out, Golden("measure"));
  EXPECT_EQ(outcome.err, "");
  EXPECT_EQ(outcome.code, 0);
}

}  // namespace
}  // namespace turnstone::cli
