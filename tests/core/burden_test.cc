// Reckoned by hand. Source of the percentile: Hyndman & Fan 1996, Am Stat
// 50:361, definition 1; of what counts as what: burden.proto.
#include "service/core/burden.h"

#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <optional>
#include <string>
#include <vector>

#include "rules/measure/proto_time.h"
#include "service/core/spread.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Dublin keeps UTC in January.
const absl::Time kFrom = At("2027-01-04T00:00:00Z");
const absl::Time kTo = At("2027-01-07T00:00:00Z");
const absl::Time kNow = At("2027-01-06T12:00:00Z");

v1::Alert Raised(const std::string& id, const std::string& utc,
                 const std::string& participant = "p1",
                 const std::string& rule = "missed-visits") {
  v1::Alert alert;
  alert.set_alert_id(id);
  alert.set_site("pebble-bay");
  alert.set_participant(participant);
  alert.set_priority(v1::PRIORITY_URGENT);
  alert.set_status(v1::ALERT_STATUS_REQUESTED);
  alert.mutable_rule()->set_rule(rule);
  *alert.mutable_raised_at() = ToProto(At(utc));
  *alert.add_occurrence()->mutable_raised_at() = alert.raised_at();
  return alert;
}

void Tell(v1::Alert& alert, const std::string& utc,
          const std::vector<std::string>& persons, int times = 0) {
  v1::AlertChange& change = *alert.add_history();
  *change.mutable_at() = ToProto(At(utc));
  change.set_status(alert.status());
  change.set_times(times);
  for (const std::string& person : persons) change.add_told(person);
}

void Become(v1::Alert& alert, v1::AlertStatus status, const std::string& utc,
            const std::string& person) {
  alert.set_status(status);
  v1::AlertChange& change = *alert.add_history();
  *change.mutable_at() = ToProto(At(utc));
  change.mutable_by()->set_name(person);
  change.set_status(status);
}

void End(v1::Alert& alert, const std::string& utc, const std::string& outcome) {
  Become(alert, v1::ALERT_STATUS_COMPLETED, utc, "r.sorrel");
  alert.mutable_closing()->set_outcome(outcome);
  *alert.mutable_closing()->mutable_at() = ToProto(At(utc));
}

class BurdenTest : public testing::Test {
 protected:
  BurdenTest() {
    v1::Configuration configuration = WithoutSignOfLife();
    for (auto& outcome :
         *configuration.mutable_site(0)->mutable_closing_outcome()) {
      outcome.set_no_action(outcome.id() == "no-action-needed");
    }
    setup_.emplace(configuration, "test");
  }
  v1::Burden Burden(const std::vector<v1::Alert>& alerts,
                    absl::Time from = kFrom, absl::Time to = kTo,
                    absl::Time now = kNow) {
    return BurdenOf(alerts, *setup_->FindSite("pebble-bay"), from, to, now);
  }
  std::optional<turnstone::Setup> setup_;
};

TEST_F(BurdenTest, OfNothingIsNothing) {
  const v1::Burden burden = Burden({});
  EXPECT_EQ(burden.alerts(), 0);
  EXPECT_DOUBLE_EQ(burden.days(), 2.5);
  EXPECT_EQ(burden.to_receive().count(), 0);
  EXPECT_FALSE(burden.to_receive().has_median());
  EXPECT_THAT(burden.by_person(), IsEmpty());
  EXPECT_EQ(burden.by_day_size(), 3);
}

TEST_F(BurdenTest, OfTheFutureIsNothing) {
  const v1::Burden burden =
      Burden({Raised("A-1", "2027-01-05T10:00:00Z")},
             At("2027-02-01T00:00:00Z"), At("2027-03-01T00:00:00Z"));
  EXPECT_EQ(burden.alerts(), 0);
  EXPECT_DOUBLE_EQ(burden.days(), 0);
  EXPECT_THAT(burden.by_day(), IsEmpty());
}

TEST_F(BurdenTest, TakesWhatWasRaisedFromOnAndBefore) {
  v1::Alert elsewhere = Raised("A-9", "2027-01-05T10:00:00Z");
  elsewhere.set_site("mill-lane");
  const v1::Burden burden =
      Burden({Raised("A-1", "2027-01-03T23:59:59Z", "a"),
              Raised("A-2", "2027-01-04T00:00:00Z", "b"),
              Raised("A-3", "2027-01-06T12:00:00Z", "c"),
              Raised("A-4", "2027-01-07T00:00:00Z", "d"), elsewhere},
             kFrom, kTo, At("2027-01-08T00:00:00Z"));
  EXPECT_EQ(burden.alerts(), 2);
  EXPECT_EQ(burden.participants(), 2);
  EXPECT_DOUBLE_EQ(burden.days(), 3);
}

// The last one was raised by the clock in Dublin on the 29th, by UTC on the
// 28th: summer time began that night.
TEST_F(BurdenTest, CountsDaysBySitesClocks) {
  const v1::Burden burden =
      Burden({Raised("A-1", "2027-03-27T10:00:00Z"),
              Raised("A-2", "2027-03-27T23:59:00Z"),
              Raised("A-3", "2027-03-28T23:30:00Z")},
             At("2027-03-26T12:00:00Z"), At("2027-04-30T00:00:00Z"),
             At("2027-03-29T12:00:00Z"));
  std::vector<std::string> days;
  for (const v1::DayLoad& day : burden.by_day()) {
    days.push_back(absl::StrCat(day.day(), " ", day.alerts()));
  }
  EXPECT_THAT(days, ElementsAre("2027-03-26 0", "2027-03-27 2", "2027-03-28 0",
                                "2027-03-29 1"));
}

TEST_F(BurdenTest, MeasuresFromRaisingToTheFirstHandAndToTheEnd) {
  v1::Alert slow = Raised("A-1", "2027-01-04T10:00:00Z", "a");
  Become(slow, v1::ALERT_STATUS_RECEIVED, "2027-01-04T10:30:00Z", "r.sorrel");
  Become(slow, v1::ALERT_STATUS_RECEIVED, "2027-01-04T11:00:00Z", "t.linnet");
  End(slow, "2027-01-05T10:00:00Z", "spoke-with-participant");
  v1::Alert at_once = Raised("A-2", "2027-01-04T10:00:00Z", "b");
  End(at_once, "2027-01-04T10:10:00Z", "no-action-needed");
  v1::Alert started = Raised("A-3", "2027-01-06T11:00:00Z", "c");
  Become(started, v1::ALERT_STATUS_IN_PROGRESS, "2027-01-06T11:20:00Z",
         "t.linnet");
  v1::Alert error = Raised("A-4", "2027-01-04T10:00:00Z", "d");
  Become(error, v1::ALERT_STATUS_ENTERED_IN_ERROR, "2027-01-04T11:00:00Z", "");
  // Open for exactly 24 hours, and for a second more.
  v1::Alert day = Raised("A-5", "2027-01-05T12:00:00Z", "e");
  v1::Alert over = Raised("A-6", "2027-01-05T11:59:59Z", "f");
  const v1::Burden burden = Burden({slow, at_once, started, error, day, over});
  EXPECT_EQ(burden.to_receive().count(), 3);  // 10, 20, 30 minutes
  EXPECT_EQ(burden.to_receive().median(), 1200);
  EXPECT_EQ(burden.to_receive().longest(), 1800);
  EXPECT_EQ(burden.to_close().count(), 3);  // 10 minutes, 1 and 24 hours
  EXPECT_EQ(burden.to_close().median(), 3600);
  EXPECT_EQ(burden.not_received(), 2);
  EXPECT_EQ(burden.open_over_24_hours(), 1);
  EXPECT_EQ(burden.without_action(), 2);
}

TEST_F(BurdenTest, CountsTellingsAndThePeopleTold) {
  v1::Alert first = Raised("A-1", "2027-01-04T10:00:00Z", "a");
  Tell(first, "2027-01-04T10:00:00Z", {"r.sorrel"});
  Tell(first, "2027-01-04T10:30:00Z", {"r.sorrel", "t.linnet"}, 3);
  Become(first, v1::ALERT_STATUS_RECEIVED, "2027-01-04T12:00:00Z", "m.teal");
  v1::Alert second = Raised("A-2", "2027-01-05T10:00:00Z", "b");
  Tell(second, "2027-01-05T10:00:00Z", {"t.linnet"});
  const v1::Burden burden = Burden({first, second});
  EXPECT_EQ(burden.tellings(), 5);
  std::vector<std::string> loads;
  for (const v1::PersonLoad& load : burden.by_person()) {
    loads.push_back(absl::StrCat(load.person(), " ", load.alerts(), " ",
                                 load.tellings(), " ", load.received()));
  }
  EXPECT_THAT(loads,
              ElementsAre("t.linnet 2 4 0", "r.sorrel 1 4 0", "m.teal 0 0 1"));
}

TEST_F(BurdenTest, CountsRepeatsButNotWhatAReopenedAlertBroughtAlong) {
  v1::Alert often = Raised("A-1", "2027-01-04T10:00:00Z", "a");
  for (const char* utc : {"2027-01-04T11:00:00Z", "2027-01-05T11:00:00Z"}) {
    *often.add_occurrence()->mutable_raised_at() = ToProto(At(utc));
  }
  v1::Alert reopened = Raised("A-2", "2027-01-06T10:00:00Z", "a");
  reopened.set_reopens("A-1");
  *reopened.mutable_occurrence() = often.occurrence();
  const v1::Burden burden = Burden(
      {often, reopened, Raised("A-3", "2027-01-06T11:00:00Z", "b", "other")});
  EXPECT_EQ(burden.repeats(), 2);
  EXPECT_EQ(burden.most_repeats(), 2);
  EXPECT_EQ(burden.raised_again_within_30_days(), 0);
  EXPECT_EQ(burden.by_rule(0).rule(), "missed-visits");
  EXPECT_EQ(burden.by_rule(0).alerts(), 2);
  EXPECT_EQ(burden.by_rule(0).repeats(), 2);
}

TEST_F(BurdenTest, FindsWhatCameUpAgainWithinThirtyDays) {
  const v1::Burden burden = Burden({
      Raised("A-1", "2026-12-05T10:00:00Z", "a"),  // 30 days before A-4
      Raised("A-2", "2026-12-05T10:00:00Z", "b"),  // and a second more
      Raised("A-3", "2027-01-03T10:00:00Z", "c", "other"),
      Raised("A-4", "2027-01-04T10:00:00Z", "a"),
      Raised("A-5", "2027-01-04T10:00:01Z", "b"),
      Raised("A-6", "2027-01-04T10:00:00Z", "c"),
      Raised("A-7", "2027-01-05T10:00:00Z", "a"),
  });
  EXPECT_EQ(burden.raised_again_within_30_days(), 2);
}

TEST_F(BurdenTest, NamesEveryPriorityMostPressingFirst) {
  v1::Alert stat = Raised("A-1", "2027-01-04T10:00:00Z");
  stat.set_priority(v1::PRIORITY_STAT);
  const v1::Burden burden =
      Burden({stat, Raised("A-2", "2027-01-04T10:00:00Z")});
  std::vector<std::string> shares;
  for (const v1::PriorityShare& share : burden.by_priority()) {
    shares.push_back(
        absl::StrCat(v1::Priority_Name(share.priority()), " ", share.alerts()));
  }
  EXPECT_THAT(shares, ElementsAre("PRIORITY_STAT 1", "PRIORITY_ASAP 0",
                                  "PRIORITY_URGENT 1", "PRIORITY_ROUTINE 0"));
}

std::vector<absl::Duration> UpTo(int seconds) {
  std::vector<absl::Duration> times;
  for (int i = seconds; i > 0; --i) times.push_back(absl::Seconds(i));
  return times;
}

// Of n, the rank is 0.9 n rounded up: 1 of 1, 9 of 10, 10 of 11, 18 of 20.
TEST(SpreadTest, PercentileIsByNearestRank) {
  EXPECT_EQ(SpreadOf(UpTo(1)).ninetieth_percentile(), 1);
  EXPECT_EQ(SpreadOf(UpTo(10)).ninetieth_percentile(), 9);
  EXPECT_EQ(SpreadOf(UpTo(11)).ninetieth_percentile(), 10);
  EXPECT_EQ(SpreadOf(UpTo(20)).ninetieth_percentile(), 18);
}

TEST(SpreadTest, MedianIsTheMiddleOrBetweenTheTwo) {
  EXPECT_EQ(SpreadOf(UpTo(1)).median(), 1);
  EXPECT_EQ(SpreadOf(UpTo(3)).median(), 2);
  EXPECT_EQ(SpreadOf({absl::Seconds(10), absl::Seconds(2), absl::Seconds(4),
                      absl::Seconds(100)})
                .median(),
            7);
  EXPECT_EQ(SpreadOf(UpTo(3)).longest(), 3);
}

}  // namespace
}  // namespace turnstone
