// Whole pages against texts written by hand. Source of the scores' bands:
// Kroenke 2001 (PHQ-9); the layout is our own.
#include <absl/strings/str_split.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/alert_page.h"
#include "clients/cli/render/alert_state.h"
#include "clients/cli/render/participant_page.h"
#include "tests/cli/golden.h"
#include "tests/cli/samples.h"

namespace turnstone::cli {
namespace {

absl::Time At(const std::string& utc) {
  return absl::FromUnixSeconds(Stamp(utc).seconds());
}

v1::Alert Unanswered() {
  v1::Alert alert = SelfHarmAlert("A-21", "2027-03-03T13:35:00Z");
  alert.set_participant("P-0107");
  HeldBy(alert, "t.linnet", v1::ALERT_STATUS_RECEIVED, "2027-03-03T17:35:00Z");
  alert.mutable_rule()->set_title("Self-harm item left without an answer");
  alert.mutable_occurrence(0)->set_truth(v1::TRUTH_UNKNOWN);
  return alert;
}

v1::Alert Withdrawn() {
  v1::Alert alert = SelfHarmAlert("A-9", "2027-02-27T09:05:00Z");
  alert.set_kind(v1::ALERT_KIND_STEPPED_CARE);
  alert.set_priority(v1::PRIORITY_URGENT);
  PutOnHold(alert, "2027-03-06T09:00:00Z", "the daughter rings on Friday");
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
  alert.clear_escalation();
  alert.clear_holder();
  v1::Closing& closing = *alert.mutable_closing();
  closing.set_outcome("spoken-with-participant");
  closing.set_note("Spoke by telephone.\nVisit moved to Friday.");
  *closing.mutable_by() = Sorrel();
  *closing.mutable_at() = Stamp("2027-03-29T08:30:00Z");
  *closing.mutable_confirmed_by() = Sorrel();
  closing.mutable_confirmed_by()->set_name("t.linnet");
  alert.set_reopened_as("A-40");
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

TEST(Page, SaysWhatOnHoldIsFor) {
  const std::string page = AlertPage(Withdrawn(), At("2027-03-03T14:05:00Z"));
  EXPECT_THAT(page, testing::HasSubstr(
                        "  on hold       the daughter rings on Friday\n"
                        "  next          comes back by itself at Sat 6 Mar "
                        "2027 09:00 GMT; then\n                somebody has to "
                        "receive it again\n"));
}

TEST(Page, SaysThatASecondPersonIsAwaited) {
  v1::Alert alert = ToldAlert();
  alert.set_reopens("A-9");
  v1::Closing& closing = *alert.mutable_proposed_closing();
  closing.set_outcome("spoken-with-participant");
  *closing.mutable_by() = Sorrel();
  const std::string page = AlertPage(alert, At("2027-03-03T14:05:00Z"));
  for (const std::string part :
       {"  next          to be confirmed by Wed 3 Mar 2027 16:20 GMT, or",
        "  note          takes up A-9 again\n",
        "  note          waits for a second person (closed by r.sorrel)\n",
        "\nClosed, if a second person confirms it\n"
        "  outcome       spoken-with-participant\n"}) {
    EXPECT_THAT(page, testing::HasSubstr(part));
  }
  EXPECT_THAT(page, testing::Not(testing::HasSubstr("must be closed")));
}

// service.proto: what WorkAlert takes in each status.
TEST(Page, OffersWhatFitsTheStatus) {
  v1::Alert alert = SelfHarmAlert("A-1", "2027-03-03T13:35:00Z");
  const auto verbs = [&alert] {
    std::vector<std::string> words;
    for (const std::string& command : NextCommands(alert)) {
      words.push_back(
          std::vector<std::string>(absl::StrSplit(command, ' '))[1]);
    }
    return words;
  };
  using testing::ElementsAre;
  EXPECT_THAT(verbs(), ElementsAre("receive", "start", "note", "close"))
      << "latched and stat: no hold, no cancel";
  alert.set_priority(v1::PRIORITY_ASAP);
  EXPECT_THAT(verbs(),
              ElementsAre("receive", "start", "hold", "note", "close"));
  alert.set_latched(false);
  alert.set_priority(v1::PRIORITY_STAT);
  alert.set_status(v1::ALERT_STATUS_IN_PROGRESS);
  EXPECT_THAT(verbs(), ElementsAre("hold", "note", "close", "cancel"));
  alert.set_status(v1::ALERT_STATUS_ON_HOLD);
  EXPECT_THAT(verbs(), ElementsAre("start", "note", "close", "cancel"));
  alert.set_latched(true);
  alert.set_status(v1::ALERT_STATUS_RECEIVED);
  alert.mutable_proposed_closing();
  EXPECT_THAT(verbs(), ElementsAre("confirm", "start", "note"));
  alert.set_status(v1::ALERT_STATUS_COMPLETED);
  EXPECT_THAT(verbs(), ElementsAre("reopen"));
  alert.set_reopened_as("A-2");
  EXPECT_EQ(NextCommands(alert),
            std::vector<std::string>{"turnstone alert A-2"});
}

// Names of 100 characters are clipped; an id never is.
TEST(Page, ListsLongNamesWithinTheWidth) {
  v1::Alert alert = Unanswered();
  alert.mutable_holder()->set_name(std::string(100, 'n'));
  alert.set_participant(std::string(30, 'p'));
  v1::Alert other = alert;
  other.set_site("mill-lane");
  const std::vector<std::string> lines = absl::StrSplit(
      AlertTable({alert, other}, At("2027-03-03T14:05:00Z")), '\n');
  for (const std::string& line : lines) EXPECT_LE(line.size(), 96U) << line;
}

TEST(Page, ShowsAChangeOnOneLine) {
  EXPECT_EQ(AlertLine(ToldAlert()),
            "#31  Wed 3 Mar 2027 12:20 GMT  A-17  stat  safety  received  "
            "harbour-row  P-0042  Self-harm item answered above zero  Has it "
            "in hand.");
}

}  // namespace
}  // namespace turnstone::cli
