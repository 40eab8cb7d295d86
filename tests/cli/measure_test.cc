// Forms in a file, measured without the service. Source of the totals and
// bands: Kroenke 2001 (PHQ-9), Sheikh & Yesavage 1986 (GDS-15), Topp 2015
// (WHO-5); of the form of tables: RFC 4180. The words are our own.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_split.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

#include "platform/csv.h"
#include "platform/files.h"
#include "tests/cli/program.h"

namespace turnstone::cli {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

const std::string kRoot = TURNSTONE_SOURCE_DIR;
const std::string kHeader = "participant,date,instrument,answers,total\n";

class Measure : public testing::Test {
 protected:
  // Four instruments only, so that messages list no others.
  Outcome Run(const std::string& input,
              const std::vector<std::string>& more = {}) {
    program_.input = input;
    std::vector<std::string> words = {"measure", "-"};
    for (const std::string id :
         {"cognitive-screen", "gds-15", "phq-9", "who-5"}) {
      words.insert(words.end(),
                   {"--config", absl::StrCat(kRoot, "/rules/instruments/", id,
                                             ".textproto")});
    }
    words.insert(words.end(), more.begin(), more.end());
    return program_.RunAsWritten(words);
  }

  Program program_;
};

// What a table's line says, and why it is refused.
struct RefusedLine {
  std::string line;
  std::string reason;
};

const std::string kNameAdvice =
    "write 1 to 64 characters, each A-Z a-z 0-9 . _ : or -";
const std::string kDateAdvice =
    "write a day such as 2027-01-04, or a time such as 2027-01-04T09:30:00Z";
const std::string kInstrumentAdvice =
    "cognitive-screen, gds-15, phq-9 or who-5; a LOINC panel code will do as "
    "well";
const std::string kPhqAdvice =
    "PHQ-9 has 10 questions; write one for each in printed order, separated by "
    "; with - for none; those after the first 9 may be left off";
const std::string kBareAdvice =
    "answers holds bare numbers, but the same answer to GDS-15 scores "
    "differently from question to question; write answer codes, such as LA33-6 "
    "(Yes) or LA32-8 (No)";
const std::string kTotalAdvice =
    "total is not a total that PHQ-9 can give; write a whole number from 0 to "
    "27, or leave it out";

const std::vector<RefusedLine>& RefusedLines() {
  static const auto* const refusals = new std::vector<RefusedLine>{
      {",2027-01-04,phq-9,,12", "participant is missing; " + kNameAdvice},
      {"Mrs Finch,2027-01-04,phq-9,,12",
       "participant holds a character that is not allowed; " + kNameAdvice},
      {std::string(65, 'p') + ",2027-01-04,phq-9,,12",
       "participant is too long; " + kNameAdvice},
      {"p,,phq-9,,12", "date is missing; " + kDateAdvice},
      {"p,04.01.2027,phq-9,,12", "date is not a day or a time; " + kDateAdvice},
      {"p,2027-02-29,phq-9,,12", "date is not a day or a time; " + kDateAdvice},
      {"p,2027-1-4,phq-9,,12", "date is not a day or a time; " + kDateAdvice},
      {"p,2027-01-04T10:00:00,phq-9,,12",
       "date is not a day or a time; " + kDateAdvice},
      {"p,-999-01-04,phq-9,,12", "date is not a day or a time; " + kDateAdvice},
      {"p,99999-01-04,phq-9,,12",
       "date is not a day or a time; " + kDateAdvice},
      {"p,infinite-future,phq-9,,12",
       "date is not a day or a time; " + kDateAdvice},
      {"p,1999-12-31,phq-9,,12",
       "date is before the year 2000; write when it happened, from the year "
       "2000 on"},
      {"p,2027-01-04,,,12",
       "instrument is missing; write one of " + kInstrumentAdvice},
      {"p,2027-01-04,moca,,12",
       "instrument is not known here; write one of " + kInstrumentAdvice},
      {"p,2027-01-04,phq9,,12",
       "instrument is not known here; did you mean \"phq-9\"? There is " +
           kInstrumentAdvice},
      {"p,2027-01-04,GDS15,,12",
       "instrument is not known here; did you mean \"gds-15\"? There is " +
           kInstrumentAdvice},
      {"p,2027-01-04,cognitive-screen,,12",
       "instrument has only a result, which no column holds; write the form as "
       "an event, as turnstone submit takes it"},
      {"p,2027-01-04,phq-9,1;1;1;1;1;1;1;1,",
       "answers holds 8, but " + kPhqAdvice},
      {"p,2027-01-04,phq-9,1;1;1;1;1;1;1;1;1;;,",
       "answers holds 11, but " + kPhqAdvice},
      {"p,2027-01-04,who-5,1;1;1;1,",
       "answers holds 4, but WHO-5 has 5 questions; write one for each in "
       "printed order, separated by ; with - for none"},
      {"p,2027-01-04,phq-9,1;1;4;1;1;1;1;1;1,",
       "answers: number 3 is not an answer to \"Sleep\"; write - for none, or "
       "one of LA6568-5 or 0 (Not at all), LA6569-3 or 1 (Several days), "
       "LA6570-1 or 2 (More than half the days), LA6571-9 or 3 (Nearly every "
       "day)"},
      {"p,2027-01-04,phq-9,1;1;1;1;1;1;1;1;1;2,",
       "answers: number 10 is not an answer to \"Difficulty\"; write - for "
       "none, or one of LA6572-7 (Not difficult at all), LA6573-5 (Somewhat "
       "difficult), LA6575-0 (Very difficult), LA6574-3 (Extremely "
       "difficult)"},
      {"p,2027-01-04,gds-15,0;0;0;0;0;0;0;0;0;0;0;0;0;0;0,", kBareAdvice},
      {"p,2027-01-04,gds-15,-;LA32-8;-;-;-;-;-;-;-;-;-;-;-;-;3,", kBareAdvice},
      {"p,2027-01-04,gds-15,no;-;-;-;-;-;-;-;-;-;-;-;-;-;-,",
       "answers: number 1 is not an answer to \"Satisfied with life\"; write - "
       "for none, or one of LA33-6 (Yes), LA32-8 (No)"},
      {"p,2027-01-04,phq-9,,",
       "answers and total hold nothing; write at least one answer, the total, "
       "or - for every question if none was answered"},
      {"p,2027-01-04,phq-9,,28", kTotalAdvice},
      {"p,2027-01-04,phq-9,,-1", kTotalAdvice},
      {"p,2027-01-04,phq-9,,12.5", kTotalAdvice},
      {"p,2027-01-04,phq-9,,99999999999999999999", kTotalAdvice},
      {"p,2027-01-04,who-5,,50",
       "total is not a total that WHO-5 can give; write a multiple of 4 from 0 "
       "to 100, or leave it out"},
  };
  return *refusals;
}

TEST_F(Measure, NameEveryWrongLineAndMeasureTheOthers) {
  const std::string good = "ok,2027-01-04,phq-9,,12\n";
  for (const RefusedLine& refusal : RefusedLines()) {
    const Outcome outcome =
        Run(absl::StrCat(kHeader, refusal.line, "\n", good));
    EXPECT_EQ(outcome.err, "line 2: refused: " + refusal.reason + "\n");
    EXPECT_EQ(outcome.code, 1);
    EXPECT_THAT(outcome.out, HasSubstr("Participant ok\n")) << refusal.line;
    EXPECT_THAT(outcome.out, HasSubstr("  12 ")) << refusal.line;
  }
}

// What the parser says of the line, which spoils no other.
TEST_F(Measure, RefuseLinesThatAreNoRow) {
  for (const std::string& line : {std::string("p,2027-01-04,phq-9,12"),
                                  std::string("p,2027-01-04,\"phq-9,,12"),
                                  std::string("p,2027-01-04,phq-9,,1\0", 22),
                                  std::string("{\"source\": \"urn:x\"}")}) {
    std::string reason(ParseCsv(kHeader + line).status().message());
    const Outcome outcome = Run(kHeader + line + "\nok,2027-01-04,phq-9,,12\n");
    EXPECT_EQ(outcome.err,
              reason.insert(reason.find(": "), ": refused") + "\n");
    EXPECT_EQ(outcome.code, 1);
    EXPECT_THAT(outcome.out, HasSubstr("  12 ")) << line;
  }
}

TEST_F(Measure, CountLinesAsAnEditorDoes) {
  const std::string bad = "p,never,phq-9,,12";
  const Outcome outcome = Run("\r\n" + kHeader + "ok,2027-01-04,phq-9,,12\r\n" +
                              "\r\n" + bad + "\r" + bad + "\n\n" + bad);
  EXPECT_THAT(outcome.err, HasSubstr("line 5: refused"));
  EXPECT_THAT(outcome.err, HasSubstr("line 6: refused"));
  EXPECT_THAT(outcome.err, HasSubstr("line 8: refused"));
  EXPECT_EQ(std::count(outcome.err.begin(), outcome.err.end(), '\n'), 3);
}

TEST_F(Measure, RefuseATableWithoutTheRightColumns) {
  const std::string rest =
      "; the columns are participant, date, instrument, and answers or total "
      "or both: write these names, and no others, on the first line";
  const std::vector<RefusedLine> headers = {
      {"participant,date,instrument,score",
       "column 4 is not known here" + rest + "\n"},
      {"participant, date,instrument,total",
       "column 2 is not known here" + rest + "\n"},
      {"Participant,date,instrument,total",
       "column 1 is not known here" + rest +
           "; write them in lower-case letters\n"},
      {"participant,date,instrument,TOTAL",
       "column 4 is not known here" + rest +
           "; write them in lower-case letters\n"},
      {"participant;date;instrument;answers;total",
       "column 1 is not known here" + rest +
           "; the columns are separated by commas\n"},
      {"participant,instrument,total", "there is no column date" + rest + "\n"},
      {"participant,date,instrument",
       "there is no column answers and none total" + rest + "\n"},
      {"participant,date,instrument,", "column 4 has no name; write one\n"},
      {"participant,date,date,total",
       "columns 2 and 3 have the same name; give each its own\n"},
  };
  for (const RefusedLine& header : headers) {
    const Outcome outcome = Run(header.line + "\np,2027-01-04,phq-9,12\n");
    EXPECT_THAT(outcome.err,
                testing::StartsWith("line 1: refused: " + header.reason));
    EXPECT_THAT(outcome.err, HasSubstr("turnstone: nothing measured"));
    EXPECT_EQ(outcome.code, 1);
    EXPECT_EQ(outcome.out, "");
  }
}

// Totals and dates of a participant's series, in JSON.
nlohmann::json Measured(const std::string& out) {
  return nlohmann::json::parse(out, nullptr, /*allow_exceptions=*/false);
}

TEST_F(Measure, ReadTablesAsSpreadsheetsWriteThem) {
  for (const std::string& text :
       {kHeader + "p,2027-01-04,phq-9,,12",
        "\xef\xbb\xbf" + kHeader + "p,2027-01-04,phq-9,,12\n",
        std::string("total,instrument,date,participant\r\n"
                    "\"12\", phq-9 ,2027-01-04,p\r\n"),
        std::string("participant,date,instrument,answers\n"
                    "p,2027-01-04T12:00:00Z,44249-1,"
                    "3; 3;LA6571-9;3;-;;0;LA6568-5;0\n")}) {
    const Outcome outcome = Run(text, {"--json"});
    EXPECT_EQ(outcome.err, "");
    EXPECT_EQ(outcome.code, 0);
    const auto json = Measured(outcome.out);
    EXPECT_EQ(json["participant"], "p") << text;
    EXPECT_EQ(json["series"][0]["instrument"], "phq-9");
    EXPECT_EQ(json["series"][0]["point"][0]["low"], 12);
    EXPECT_EQ(json["series"][0]["point"][0]["effectiveTime"],
              "2027-01-04T12:00:00Z");
  }
}

// GDS-15 all "No" totals 5, all "Yes" 10. Numbers, which might be meant as the
// codes of yes and no, are refused: see RefusedLines.
TEST_F(Measure, ScoreEachQuestionItsOwnWay) {
  const auto total = [this](const std::string& answer) {
    std::string answers = answer;
    for (int i = 1; i < 15; ++i) answers += ";" + answer;
    const auto json = Measured(
        Run(kHeader + "p,2027-01-04,gds-15," + answers + ",\n", {"--json"})
            .out);
    return json["series"][0]["point"][0]["high"].get<int>();
  };
  EXPECT_EQ(total("LA32-8"), 5);
  EXPECT_EQ(total("LA33-6"), 10);
}

// Which instruments reverse some of their items: Cox 1987 (EPDS), Sheikh &
// Yesavage 1986, Yesavage 1982; of the others, the sources in their files.
TEST(MeasureNumbers, StandOnlyWhereEachAnswerScoresAlike) {
  Program program;
  const auto refused = [&](const std::string& instrument, int questions) {
    std::string answers = "1";
    for (int i = 1; i < questions; ++i) answers += ";1";
    program.input =
        absl::StrCat(kHeader, "p,2027-01-04,", instrument, ",", answers, ",\n");
    const Outcome outcome = program.RunAsWritten(
        {"measure", "-", "--config", kRoot + "/rules/instruments"});
    EXPECT_EQ(outcome.code == 0, outcome.err.empty()) << outcome.err;
    return outcome.err.find("answers holds bare numbers") != std::string::npos;
  };
  EXPECT_TRUE(refused("gds-15", 15));
  EXPECT_TRUE(refused("gds-30", 30));
  EXPECT_TRUE(refused("epds", 10));
  EXPECT_FALSE(refused("phq-2", 2));
  EXPECT_FALSE(refused("phq-8", 8));
  EXPECT_FALSE(refused("phq-9", 9));
  EXPECT_FALSE(refused("gad-2", 2));
  EXPECT_FALSE(refused("gad-7", 7));
  EXPECT_FALSE(refused("who-5", 5));
  EXPECT_FALSE(refused("ucla-3", 3));
  EXPECT_FALSE(refused("audit-c", 3));
  EXPECT_FALSE(refused("sis", 6));
}

// An instrument of one's own may use numbers as codes, "0" for no: there they
// are codes, not points. "No" to the reversed question scores 1, "yes" 0.
TEST(MeasureNumbers, AreCodesWhereTheInstrumentSaysSo) {
  const std::filesystem::path root = std::filesystem::path(testing::TempDir()) /
                                     ("numbered_" + std::to_string(::getpid()));
  std::filesystem::create_directories(root / "instruments");
  std::ofstream(root / "instruments" / "numbered.textproto") << R"(
id: "numbered" name: "Numbered" direction: DIRECTION_HIGHER_IS_WORSE
item { code: "n-1" label: "Content" answers: "yes-no" reversed: true }
item { code: "n-2" label: "Tired" answers: "yes-no" }
answer_list {
  id: "yes-no"
  answer { code: "1" label: "Yes" score: 1 }
  answer { code: "0" label: "No" score: 0 }
}
band { low: 0 high: 2 label: "any" }
band_source: "-" rights: "-" source: "-"
)";
  Program program;
  program.input = kHeader + "p,2027-01-04,numbered,0;0,\n";
  const Outcome outcome = program.RunAsWritten(
      {"measure", "-", "--json", "--config", root.string()});
  EXPECT_EQ(outcome.err, "");
  EXPECT_EQ(Measured(outcome.out)["series"][0]["point"][0]["low"], 1);
  std::filesystem::remove_all(root);
}

// As an event with nothing but reasons: what was not answered may be anything.
TEST_F(Measure, TakeAFormThatWasDeclined) {
  for (const std::string answers :
       {"-;-;-;-;-;-;-;-;-", "-; ;-;-;;-;-;-;-;-", ";;;;;;;;"}) {
    const Outcome outcome =
        Run(absl::StrCat(kHeader, "p,2027-01-04,phq-9,", answers, ",\n"),
            {"--json"});
    EXPECT_EQ(outcome.err, "") << answers;
    EXPECT_EQ(outcome.code, 0);
    const auto point = Measured(outcome.out)["series"][0]["point"][0];
    EXPECT_EQ(point["low"], 0);
    EXPECT_EQ(point["high"], 27);
    EXPECT_EQ(point["selfHarm"], "TRUTH_UNKNOWN");
  }
  const Outcome with_total =
      Run(kHeader + "p,2027-01-04,phq-9,-;-;-;-;-;-;-;-;-,12\n", {"--json"});
  const auto point = Measured(with_total.out)["series"][0]["point"][0];
  EXPECT_EQ(point["low"], 12);
  EXPECT_EQ(point["high"], 12);
}

TEST_F(Measure, SayThatTheSelfHarmItemHasNoAnswer) {
  for (const std::string form : {",12", "2;2;2;2;2;1;1;0;-,"}) {
    const Outcome outcome =
        Run(absl::StrCat(kHeader, "p,2027-01-04,phq-9,", form, "\n"));
    const std::vector<std::string> words =
        absl::StrSplit(outcome.out, absl::ByAnyChar(" \n"), absl::SkipEmpty());
    const std::string text = absl::StrJoin(words, " ");
    EXPECT_THAT(text, HasSubstr("; NO ANSWER TO THE SELF-HARM ITEM")) << form;
    EXPECT_THAT(text, Not(HasSubstr("NOT ANSWERED"))) << form;
  }
}

TEST_F(Measure, LeaveWhatIsMissingOpen) {
  const auto json = Measured(
      Run(kHeader + "p,2027-01-04,phq-9,2;2;2;2;1;-;;0;0;-,\n", {"--json"})
          .out);
  const auto& point = json["series"][0]["point"][0];
  EXPECT_EQ(point["low"], 9);
  EXPECT_EQ(point["high"], 15);
}

TEST_F(Measure, ShowThatAReportedTotalDisagrees) {
  const Outcome outcome =
      Run(kHeader + "p,2027-01-04,phq-9,1;1;1;1;1;1;1;1;1,14\n");
  EXPECT_THAT(outcome.out, HasSubstr("9 to 14"));
  EXPECT_THAT(outcome.out, HasSubstr("; reported 14, answers\n"));
  EXPECT_THAT(outcome.out, Not(HasSubstr("missing")));
}

TEST_F(Measure, CallADayTheSameInEveryZone) {
  for (const std::string zone :
       {"Pacific/Auckland", "Pacific/Honolulu", "Europe/Dublin", "UTC"}) {
    const Outcome outcome =
        Run(kHeader + "p,2027-01-04,phq-9,,12\n", {"--zone", zone});
    EXPECT_THAT(outcome.out, HasSubstr("4 Jan 2027")) << zone;
  }
  EXPECT_THAT(Run(kHeader + "p,2027-01-04T23:30:00Z,phq-9,,12\n",
                  {"--zone", "Europe/Vienna"})
                  .out,
              HasSubstr("5 Jan 2027"));
}

// The order of lines decides where times are equal: line 10 after line 9.
TEST_F(Measure, KeepTheOrderOfFormsOfOneDay) {
  std::string table = kHeader;
  for (int total = 1; total <= 9; ++total) {
    table += absl::StrCat("p,2027-01-04,phq-9,,", total, "\n");
  }
  const auto json = Measured(Run(table, {"--json"}).out);
  EXPECT_EQ(json["series"][0]["point"][8]["low"], 9);
}

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
  const std::vector<RefusedLine> lines = {
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
  for (const RefusedLine& line : lines) {
    const Outcome outcome = Run(good + line.line);
    EXPECT_EQ(outcome.err, "line 2: refused: " + line.reason + "\n");
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

TEST_F(Measure, SurviveAnything) {
  const std::string long_line(size_t{1} << 20, ';');
  for (const std::string& text :
       {absl::StrCat(kHeader, "p,2027-01-04,phq-9,", long_line, ","),
        "{" + long_line, long_line, absl::StrCat(kHeader, "\"", long_line),
        std::string(1000, '\0'), std::string("{\0}", 3), "\xff\xfe" + kHeader,
        kHeader + "\xff,\xff,\xff,\xff,\xff"}) {
    const Outcome outcome = Run(text);
    EXPECT_EQ(outcome.code, 1);
    EXPECT_THAT(outcome.err, HasSubstr("line "));
    EXPECT_LT(outcome.err.size(), 2000U);
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
  const auto golden = ReadFile(kRoot + "/tests/cli/golden/measure.txt");
  ASSERT_TRUE(golden.ok()) << golden.status();
  EXPECT_EQ(outcome.out, *golden);
  EXPECT_EQ(outcome.err, "");
  EXPECT_EQ(outcome.code, 0);
}

}  // namespace
}  // namespace turnstone::cli
