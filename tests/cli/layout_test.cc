// Source: common practice, no source; the layout is our own.
#include <absl/strings/str_split.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "clients/cli/render/chart.h"
#include "clients/cli/render/table.h"
#include "clients/cli/render/text.h"
#include "clients/cli/words.h"
#include "turnstone/v1/alert.pb.h"

namespace turnstone::cli {
namespace {

TEST(Layout, WrapsAtSpacesAndKeepsNewlines) {
  EXPECT_EQ(WrapAfter("a: ", "one two three", 3, 10), "a: one two\n   three\n");
  EXPECT_EQ(WrapAfter("", "one\n\ntwo", 2, 10), "one\n\n  two\n");
  EXPECT_EQ(WrapAfter("", "a-very-long-word b", 0, 5), "a-very-long-word\nb\n");
  EXPECT_EQ(WrapAfter("label", "", 2), "label\n");
}

TEST(Layout, CountsCharactersNotBytes) {
  EXPECT_EQ(Width("°é€"), 3U);
  EXPECT_EQ(Pad("é", 3), "é  ");
}

TEST(Layout, ClipsWhatIsTooWide) {
  EXPECT_EQ(Clip("abc", 3), "abc");
  EXPECT_EQ(Clip("abcd", 3), "ab~");
  EXPECT_EQ(Clip("éééé", 3), "éé~");
  EXPECT_EQ(Clip("abcd", 1), "~");
}

TEST(Layout, TableCellsMayHaveSeveralLines) {
  Table table({"A\nB", "WHAT"});
  table.Add({"one\ntwo", "first"});
  table.Add({"x", "first\nsecond"});
  EXPECT_EQ(table.ToString(1),
            " A    WHAT\n B\n one  first\n two\n x    first\n      "
            "second\n");
}

TEST(Layout, TableWithoutRoomForTheLastColumnPutsItBelow) {
  const std::string wide(79, 'w');
  Table table({"A", "WHAT"});
  table.Add({wide, "first\nsecond"});
  EXPECT_EQ(table.ToString(0),
            "A\n    WHAT\n" + wide + "\n    first\n    second\n");
  Table narrow({"A", "WHAT"});
  narrow.Add({wide.substr(1), "first"});
  EXPECT_NE(narrow.ToString(0).find(wide.substr(1) + "  first\n"),
            std::string::npos);
}

TEST(Layout, ShowsMarkdownPlainly) {
  EXPECT_EQ(PlainMarkdown("## Do\n\n- **Call** back\n1. Write it down\n", 2),
            "  Do\n\n  - Call back\n  1. Write it down\n");
  const std::string item = "- " + std::string(40, 'a') + " ";
  EXPECT_EQ(
      PlainMarkdown(item + std::string(40, 'b'), 2),
      "  - " + std::string(40, 'a') + "\n    " + std::string(40, 'b') + "\n");
}

v1::ScorePoint Point(int low, int high) {
  v1::ScorePoint point;
  point.set_low(low);
  point.set_high(high);
  return point;
}

TEST(Layout, BarsPlaceScoresOnTheInstrumentsRange) {
  v1::ScoreSeries series;
  series.set_lowest_possible(0);
  series.set_highest_possible(9);
  EXPECT_EQ(ScoreBar(series, Point(0, 0)), "|*.........|");
  EXPECT_EQ(ScoreBar(series, Point(9, 9)), "|.........*|");
  EXPECT_EQ(ScoreBar(series, Point(3, 6)), "|...[==]...|");
  series.set_highest_possible(270);
  EXPECT_EQ(ScoreBar(series, Point(135, 135)).size(), 30U);
  EXPECT_EQ(ScoreBar(series, Point(270, 999)).find('*'), 28U);
}

TEST(Layout, WordsAreThoseOfTheContract) {
  EXPECT_EQ(Word(v1::ALERT_STATUS_ENTERED_IN_ERROR), "entered-in-error");
  EXPECT_EQ(Word(v1::ALERT_KIND_STEPPED_CARE), "stepped-care");
  EXPECT_EQ(Word(v1::PRIORITY_UNSPECIFIED), "not stated");
  EXPECT_EQ(NumberFor(*v1::Priority_descriptor(), "asap"), v1::PRIORITY_ASAP);
  EXPECT_FALSE(NumberFor(*v1::Priority_descriptor(), "high").has_value());
  EXPECT_FALSE(
      NumberFor(*v1::Priority_descriptor(), "unspecified").has_value());
}

}  // namespace
}  // namespace turnstone::cli
