// When rules are asked: at once, at the end of working days, and again.
#include "rules/engine/agenda.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "rules/engine/decide.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

class AgendaTest : public testing::Test {
 protected:
  void Know(const v1::Event& event) {
    const HistoryChange change =
        history_.Apply(event, setup_.catalogue()).value();
    agenda_.Refresh(history_, change.from, change.corrected, site_);
  }
  // Ids of the rules that raise when time has passed from `from` to `to`.
  std::vector<std::string> RaisedBetween(absl::Time from, absl::Time to) {
    std::vector<std::string> raised;
    const Asking asking{absl::InfiniteFuture(), from, to};
    for (const Answer& answer : Decide(site_, history_, agenda_, asking)) {
      if (answer.raise) raised.push_back(answer.rule->id());
    }
    return raised;
  }

  const turnstone::Setup setup_ = ShippedSetup();
  const Site& site_ = *setup_.FindSite("pebble-bay");
  History history_;
  Agenda agenda_;
};

// 8 January 2027 is a Friday; Dublin keeps GMT in winter.
TEST_F(AgendaTest, VisitOnFridayIsDueAtTheEndOfMonday) {
  Know(Planned("plan", At("2027-01-04T10:00:00Z"), "visit-1",
               At("2027-01-08T10:00:00Z")));
  const absl::Time due = At("2027-01-11T17:00:00Z");
  EXPECT_EQ(agenda_.NextAfter(absl::InfinitePast()), due);
  EXPECT_EQ(agenda_.NextAfter(due), absl::InfiniteFuture());
  EXPECT_TRUE(
      RaisedBetween(absl::InfinitePast(), due - absl::Seconds(1)).empty());
  EXPECT_EQ(RaisedBetween(due - absl::Seconds(1), due),
            std::vector<std::string>{"visit-without-outcome"});
  // Asked once: not again later.
  EXPECT_TRUE(RaisedBetween(due, due + absl::Hours(1000)).empty());
}

// Monday 1 February 2027 is a holiday at the site.
TEST_F(AgendaTest, HolidaysAndWeekendsDoNotCount) {
  Know(Planned("plan", At("2027-01-25T10:00:00Z"), "visit-1",
               At("2027-01-29T10:00:00Z")));
  EXPECT_EQ(agenda_.NextAfter(absl::InfinitePast()),
            At("2027-02-02T17:00:00Z"));
}

// Clocks go forward on Sunday 28 March 2027, and Monday 29 is a holiday:
// 17:00 on Tuesday is 16:00 UTC.
TEST_F(AgendaTest, EndOfDayFollowsTheSitesClock) {
  Know(Planned("plan", At("2027-03-22T10:00:00Z"), "visit-1",
               At("2027-03-26T10:00:00Z")));
  EXPECT_EQ(agenda_.NextAfter(absl::InfinitePast()),
            At("2027-03-30T16:00:00Z"));
}

TEST_F(AgendaTest, WaitingEndsTwoWorkingDaysLaterAndThenRaises) {
  Know(Phq9Total("form", At("2027-01-04T10:00:00Z"), 12));  // not asked
  const absl::Time due = At("2027-01-06T17:00:00Z");
  EXPECT_THAT(RaisedBetween(absl::InfinitePast(), due - absl::Seconds(1)),
              testing::IsEmpty());
  EXPECT_EQ(RaisedBetween(due - absl::Seconds(1), due),
            std::vector<std::string>{"score-in-range-and-willing"});
}

TEST_F(AgendaTest, WithdrawnFactIsNotAskedAbout) {
  const v1::Event plan = Planned("plan", At("2027-01-04T10:00:00Z"), "visit-1",
                                 At("2027-01-08T10:00:00Z"));
  Know(plan);
  Know(Withdrawn("x", At("2027-01-05T10:00:00Z"), plan));
  EXPECT_EQ(agenda_.NextAfter(absl::InfinitePast()), absl::InfiniteFuture());
}

TEST_F(AgendaTest, FactThatComesInLateHasNothingAskedTwice) {
  const absl::Time due = At("2027-01-11T17:00:00Z");
  Know(Planned("plan", At("2027-01-04T10:00:00Z"), "visit-1",
               At("2027-01-08T10:00:00Z")));
  Know(Enrolled("late", At("2027-01-03T10:00:00Z")));
  EXPECT_EQ(RaisedBetween(due - absl::Seconds(1), due),
            std::vector<std::string>{"visit-without-outcome"});
  EXPECT_EQ(agenda_.Between(history_, due - absl::Seconds(1), due).size(), 1U);
}

TEST_F(AgendaTest, SameInputsGiveTheSameDecisionsByteForByte) {
  Know(Phq9Total("a", At("2027-01-04T10:00:00Z"), 22, 2));
  Know(Phq9Total("b", At("2027-01-11T10:00:00Z"), 25, 1));
  const Asking asking{absl::InfinitePast(), absl::InfinitePast(),
                      At("2027-01-12T10:00:00Z")};
  const auto print = [&] {
    std::string text;
    for (const Answer& answer : Decide(site_, history_, agenda_, asking)) {
      text += answer.rule->id() + " " + answer.why + "\n" +
              answer.trace.SerializeAsString();
    }
    return text;
  };
  const std::string first = print();
  EXPECT_FALSE(first.empty());
  EXPECT_EQ(print(), first);
}

}  // namespace
}  // namespace turnstone
