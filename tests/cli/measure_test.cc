// Forms in a table, measured without the service. Source of the totals and
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
#include "tests/cli/measure_program.h"

namespace turnstone::cli {
namespace {

using testing::HasSubstr;
using testing::Not;

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

}  // namespace
}  // namespace turnstone::cli
