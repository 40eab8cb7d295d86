// Whole pages against texts written by hand. Source of the scores' bands:
// Kroenke 2001 (PHQ-9); the layout is our own.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/alert_page.h"
#include "clients/cli/render/participant_page.h"
#include "platform/files.h"
#include "tests/cli/samples.h"

namespace turnstone::cli {
namespace {

std::string Golden(const std::string& name) {
  const auto text = ReadFile(
      absl::StrCat(TURNSTONE_SOURCE_DIR, "/tests/cli/golden/", name, ".txt"));
  EXPECT_TRUE(text.ok()) << text.status();
  return text.value_or("");
}

absl::Time At(const std::string& utc) {
  return absl::FromUnixSeconds(Stamp(utc).seconds());
}

v1::Alert Unanswered() {
  v1::Alert alert = SelfHarmAlert("A-21", "2027-03-03T13:35:00Z");
  alert.set_participant("P-0107");
  alert.set_status(v1::ALERT_STATUS_RECEIVED);
  alert.mutable_rule()->set_title("Self-harm item left without an answer");
  alert.mutable_occurrence(0)->set_truth(v1::TRUTH_UNKNOWN);
  return alert;
}

v1::Alert Withdrawn() {
  v1::Alert alert = SelfHarmAlert("A-9", "2027-02-27T09:05:00Z");
  alert.set_kind(v1::ALERT_KIND_STEPPED_CARE);
  alert.set_priority(v1::PRIORITY_URGENT);
  alert.set_status(v1::ALERT_STATUS_ON_HOLD);
  alert.set_latched(false);
  alert.mutable_rule()->set_title("Score above the programme's range");
  v1::Withdrawal& withdrawal = *alert.mutable_withdrawal();
  *withdrawal.mutable_at() = Stamp("2027-03-01T10:00:00Z");
  withdrawal.set_event_source("urn:example:intake");
  withdrawal.set_event_id("c-1");
  withdrawal.set_reason("entered for the wrong participant");
  return alert;
}

v1::Alert Coaching() {
  v1::Alert alert = SelfHarmAlert("A-22", "2027-03-03T14:04:30Z");
  alert.set_kind(v1::ALERT_KIND_COACHING);
  alert.set_participant("P-0005");
  alert.set_priority(v1::PRIORITY_ROUTINE);
  alert.set_latched(false);
  alert.mutable_rule()->set_title(
      "Confidence in the practice below the site's number");
  return alert;
}

TEST(Page, ListsAlertsMostPressingFirst) {
  const std::vector<v1::Alert> alerts = {
      Coaching(), Unanswered(), Withdrawn(),
      SelfHarmAlert("A-17", "2027-03-03T11:55:00Z")};
  EXPECT_EQ(AlertTable(alerts, At("2027-03-03T14:05:00Z")),
            Golden("alert_list"));
}

TEST(Page, NamesTheSiteWhereThereAreSeveral) {
  v1::Alert other = Unanswered();
  other.set_site("mill-lane");
  const std::string table =
      AlertTable({SelfHarmAlert("A-17", "2027-03-03T11:55:00Z"), other},
                 At("2027-03-03T14:05:00Z"));
  EXPECT_NE(table.find("mill-lane"), std::string::npos);
}

TEST(Page, OneAnswerOfTrueOutweighsTheUnknown) {
  v1::Alert alert = Unanswered();
  EXPECT_TRUE(IsUnknown(alert));
  alert.add_occurrence()->set_truth(v1::TRUTH_TRUE);
  EXPECT_FALSE(IsUnknown(alert));
  *alert.mutable_occurrence(1)->mutable_no_longer_since() =
      Stamp("2027-03-03T14:00:00Z");
  EXPECT_TRUE(IsUnknown(alert));
}

TEST(Page, TellsTheStoryOfAnOpenAlert) {
  EXPECT_EQ(AlertPage(ToldAlert(), At("2027-03-03T14:05:00Z")),
            Golden("alert_open"));
}

TEST(Page, WrapsWhyAnAlertWasRepeated) {
  v1::Alert alert = ToldAlert();
  std::string why = "The total of the PHQ-9";
  for (int i = 0; i < 40; ++i) why += " is higher";
  alert.mutable_occurrence(1)->set_why(why + ".");
  const std::string page = AlertPage(alert, At("2027-03-03T14:05:00Z"));
  EXPECT_NE(page.find("\nRepeat 1\n  The total of the PHQ-9 is higher"),
            std::string::npos);
  const std::vector<std::string> lines = absl::StrSplit(page, '\n');
  for (const std::string& line : lines) {
    EXPECT_LE(line.size(), 78U) << line;
  }
}

// Two days later and in summer time: withdrawn, unknown, closed, its protocol
// overdue for review.
TEST(Page, TellsTheStoryOfAClosedAlert) {
  v1::Alert alert = ToldAlert();
  *alert.mutable_withdrawal() = Withdrawn().withdrawal();
  alert.mutable_occurrence()->RemoveLast();
  alert.mutable_occurrence(0)->set_truth(v1::TRUTH_UNKNOWN);
  alert.mutable_occurrence(0)->set_late_seconds(10800);
  alert.mutable_occurrence(0)->set_corrected_by("c-1");
  alert.clear_protocol();
  alert.set_caution("");
  alert.set_status(v1::ALERT_STATUS_COMPLETED);
  v1::Closing& closing = *alert.mutable_closing();
  closing.set_outcome("spoken-with-participant");
  closing.set_note("Spoke by telephone.\nVisit moved to Friday.");
  *closing.mutable_by() = Sorrel();
  *closing.mutable_at() = Stamp("2027-03-29T08:30:00Z");
  EXPECT_EQ(AlertPage(alert, At("2027-03-29T09:00:00Z")),
            Golden("alert_closed"));
}

TEST(Page, SaysWhenTheProtocolsReviewIsOverdue) {
  v1::Alert alert = ToldAlert();
  const auto shows = [&](const std::string& now, const std::string& text) {
    return AlertPage(alert, At(now)).find(text) != std::string::npos;
  };
  EXPECT_TRUE(shows("2027-06-30T22:59:00Z", "to be reviewed by 30 Jun 2027"));
  EXPECT_TRUE(
      shows("2027-06-30T23:00:00Z", "its review is OVERDUE since 30 Jun"));
}

TEST(Page, ShowsAParticipantsCourse) {
  EXPECT_EQ(ParticipantPage(Course()), Golden("participant"));
}

TEST(Page, ShowsAChangeOnOneLine) {
  EXPECT_EQ(AlertLine(ToldAlert()),
            "#31  Wed 3 Mar 2027 12:20 GMT  A-17  stat  safety  received  "
            "harbour-row  P-0042  Self-harm item answered above zero  Has it "
            "in hand.");
}

}  // namespace
}  // namespace turnstone::cli
