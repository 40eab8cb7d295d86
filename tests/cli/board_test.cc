// The board, drawn. Source of the sequences: ECMA-48 section 8.3.117 (SGR 1
// bold, 7 reverse, 0 neither); the layout is our own.
#include "clients/cli/render/board.h"

#include <absl/strings/str_replace.h>
#include <absl/strings/str_split.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "clients/cli/render/text.h"
#include "tests/cli/golden.h"
#include "tests/cli/samples.h"

namespace turnstone::cli {
namespace {

using testing::AllOf;
using testing::Each;
using testing::HasSubstr;
using testing::Not;
using testing::SizeIs;

const absl::Time kNow = absl::FromUnixSeconds(1804082700);  // 14:05 UTC

Window Plain(size_t columns, size_t rows) {
  return {.columns = columns, .rows = rows, .styled = false};
}

std::vector<v1::Alert> Morning() {
  v1::Alert referral = SelfHarmAlert("A-22", "2027-03-03T13:35:00Z");
  referral.set_participant("P-0107");
  referral.set_priority(v1::PRIORITY_ASAP);
  referral.mutable_rule()->set_title("Score above the programme's range");
  HeldBy(referral, "t.linnet", v1::ALERT_STATUS_RECEIVED,
         "2027-03-03T17:35:00Z");
  *referral.mutable_proposed_closing()->mutable_by() = Sorrel();
  v1::Alert outreach = SelfHarmAlert("A-9", "2027-02-27T09:05:00Z");
  outreach.set_priority(v1::PRIORITY_URGENT);
  outreach.mutable_rule()->set_title("Two missed contacts in a row");
  PutOnHold(outreach, "2027-03-06T09:00:00Z", "the daughter rings on Friday");
  v1::Alert told = ToldAlert();
  told.set_alert_id("A-16");
  v1::Alert late = SelfHarmAlert("A-17", "2027-03-03T12:00:00Z");
  ClimbsTo(late, v1::UNTIL_RECEIVED, "2027-03-03T14:05:00Z");
  return {outreach, referral, told, late,
          SelfHarmAlert("A-18", "2027-03-03T13:55:00Z")};
}

std::vector<std::string> Lines(const std::string& board) {
  return absl::StrSplit(board, '\n');
}

TEST(BoardDrawing, PutsWhatCannotWaitOnTop) {
  EXPECT_EQ(Board(Morning(), kNow, Plain(96, 24)) + "\n", Golden("board"));
}

TEST(BoardDrawing, FitsTheWindowAndSaysHowManyMore) {
  for (const size_t rows : {5U, 6U, 7U}) {
    for (const size_t columns : {20U, 60U, 80U}) {
      for (const std::string notice : {"", "NO ANSWER"}) {
        if (rows == 5 && !notice.empty()) continue;
        const auto lines =
            Lines(Board(Morning(), kNow, Plain(columns, rows), notice));
        EXPECT_LE(lines.size(), rows);
        for (const std::string& line : lines) {
          EXPECT_LE(Width(line), columns) << line;
        }
      }
    }
  }
  const std::string small = Board(Morning(), kNow, Plain(80, 6));
  EXPECT_THAT(small,
              HasSubstr("  and 3 more, less pressing: turnstone alerts"));
  EXPECT_THAT(small, HasSubstr("! A-17"));
  EXPECT_THAT(small, Not(HasSubstr("A-9 ")));
  EXPECT_THAT(Board(Morning(), kNow, Plain(80, 8)), Not(HasSubstr("more,")));
}

// However small the window: something of what cannot wait is there.
TEST(BoardDrawing, NeverLeavesTheFirstAlertOut) {
  for (const size_t rows : {0U, 1U, 3U}) {
    EXPECT_THAT(Board(Morning(), kNow, Plain(40, rows)), HasSubstr("! A-17"));
  }
  EXPECT_NE(Board(Morning(), kNow, Plain(0, 0)), "");
}

TEST(BoardDrawing, StylesOnlyWhatTheMarksSay) {
  Window window = Plain(96, 24);
  window.styled = true;
  const std::string styled = Board(Morning(), kNow, window);
  EXPECT_THAT(styled, HasSubstr("\x1b[7m! A-17"));
  EXPECT_THAT(styled, HasSubstr("\x1b[1m5 open alerts"));
  EXPECT_THAT(styled, Not(HasSubstr("\x1b[7m  ")));
  const std::string stripped = absl::StrReplaceAll(
      styled, {{"\x1b[7m", ""}, {"\x1b[1m", ""}, {"\x1b[0m", ""}});
  EXPECT_EQ(stripped, Board(Morning(), kNow, Plain(96, 24)));
}

TEST(BoardDrawing, CleansWhatItShows) {
  v1::Alert alert = SelfHarmAlert("A-\x1b[2J", "2027-03-03T13:55:00Z");
  alert.mutable_rule()->set_title("a\nb\a");
  alert.set_participant(std::string(500, 'p'));
  const auto lines = Lines(Board({alert}, kNow, Plain(80, 24), "\x1b[31mgone"));
  EXPECT_THAT(lines, SizeIs(5));
  EXPECT_THAT(lines, Each(Not(HasSubstr("\x1b"))));
  EXPECT_THAT(lines, Each(Not(HasSubstr("\a"))));
  for (const std::string& line : lines) EXPECT_LE(Width(line), 80U);
}

TEST(BoardDrawing, NamesTheSiteWhereThereAreSeveral) {
  std::vector<v1::Alert> alerts = Morning();
  EXPECT_THAT(Board(alerts, kNow, Plain(96, 24)),
              Not(HasSubstr("harbour-row")));
  alerts[0].set_site("mill-lane");
  EXPECT_THAT(Board(alerts, kNow, Plain(96, 24)),
              AllOf(HasSubstr("  mill-lane/P-0042 "),
                    HasSubstr("  harbour-row/P-0107 ")));
}

TEST(BoardDrawing, SaysThatNothingIsOpen) {
  EXPECT_EQ(Board({}, kNow, Plain(80, 24)),
            "No open alerts; Wed 3 Mar 2027 14:05 UTC\n"
            "Prompts for clinical judgement: no diagnosis, no emergency "
            "service.");
}

TEST(BoardBell, RingsForStatAlone) {
  v1::Alert stat = SelfHarmAlert("A-17", "2027-03-03T12:00:00Z");
  v1::Alert asap = stat;
  asap.set_priority(v1::PRIORITY_ASAP);
  EXPECT_TRUE(Rings(nullptr, stat));
  EXPECT_FALSE(Rings(nullptr, asap));
  EXPECT_TRUE(Rings(&asap, stat)) << "a repeat made it more pressing";
  EXPECT_FALSE(Rings(&stat, stat));
}

TEST(BoardBell, RingsForEachRungUntilSomebodyHasIt) {
  const v1::Alert before = SelfHarmAlert("A-17", "2027-03-03T12:00:00Z");
  v1::Alert after = before;
  after.mutable_escalation()->set_tellings(1);
  EXPECT_TRUE(Rings(&before, after));
  after.set_status(v1::ALERT_STATUS_RECEIVED);
  EXPECT_FALSE(Rings(&before, after));
  after.set_status(v1::ALERT_STATUS_COMPLETED);
  EXPECT_FALSE(Rings(nullptr, after));
}

}  // namespace
}  // namespace turnstone::cli
