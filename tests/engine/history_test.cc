// How events become facts: order, corrections, refusals.
#include "rules/engine/history.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

class HistoryTest : public testing::Test {
 protected:
  HistoryChange Take(const v1::Event& event) {
    return history_.Apply(event, setup_.catalogue()).value();
  }
  std::string Order() const {
    std::string order;
    for (const Fact& fact : history_.facts()) order += fact.key.event_id + " ";
    return order;
  }

  const turnstone::Setup setup_ = ShippedSetup();
  History history_;
  const absl::Time t1_ = At("2027-01-04T10:00:00Z");
  const absl::Time t2_ = At("2027-01-11T10:00:00Z");
  const absl::Time t3_ = At("2027-01-18T10:00:00Z");
};

TEST_F(HistoryTest, FactsStandInTheOrderInWhichTheyHappened) {
  Take(Enrolled("c", t3_));
  Take(Phq9Total("a", t1_, 12));
  EXPECT_EQ(Take(Confidence("b", t2_, 70)).from, t2_);
  EXPECT_EQ(Order(), "a b c ");
}

TEST_F(HistoryTest, OrderOfArrivalDoesNotMatter) {
  std::vector<v1::Event> events = {
      Phq9Total("a", t1_, 12), Enrolled("b", t2_), Confidence("c", t2_, 70),
      Outcome("d", t2_, "visit-1", v1::VISIT_OUTCOME_KIND_ATTENDED),
      Phq9Total("e", t3_, 9)};
  std::sort(events.begin(), events.end(), [](const auto& x, const auto& y) {
    return x.event_id() < y.event_id();
  });
  int orders = 0;
  do {
    history_ = History();
    for (const v1::Event& event : events) Take(event);
    ASSERT_EQ(Order(), "a b c d e ");
    ++orders;
  } while (std::next_permutation(events.begin(), events.end(),
                                 [](const auto& x, const auto& y) {
                                   return x.event_id() < y.event_id();
                                 }));
  EXPECT_EQ(orders, 120);
}

TEST_F(HistoryTest, ReplacementTakesThePlaceOfWhatItMends) {
  const v1::Event wrong = Phq9Total("a", t2_, 22);
  Take(wrong);
  v1::Event right = Phq9Total("a", t1_, 12);
  const HistoryChange change = Take(Replaced("fix", t3_, right));
  EXPECT_EQ(change.from, t1_);
  EXPECT_EQ(change.corrected->event_id, "a");
  ASSERT_EQ(history_.facts().size(), 1u);
  const Fact& fact = history_.facts()[0];
  EXPECT_EQ(fact.effective, t1_);
  EXPECT_EQ(fact.corrected_by, "urn:test fix");
  EXPECT_EQ(fact.As<Screening>()->score.total.low, 12);
}

TEST_F(HistoryTest, WithdrawnFactIsGoneAndCanComeBack) {
  const v1::Event event = Phq9Total("a", t1_, 22);
  Take(event);
  EXPECT_EQ(Take(Withdrawn("x", t2_, event)).from, t1_);
  EXPECT_TRUE(history_.facts().empty());
  EXPECT_FALSE(history_.Find({"urn:test", "a"}));
  Take(Replaced("y", t3_, event));
  EXPECT_EQ(Order(), "a ");
}

TEST_F(HistoryTest, CorrectionOfSomethingUnknownIsRefusedAndChangesNothing) {
  Take(Phq9Total("a", t1_, 12));
  const auto status = history_
                          .Apply(Withdrawn("x", t2_, Phq9Total("b", t1_, 1)),
                                 setup_.catalogue())
                          .status();
  EXPECT_TRUE(absl::IsInvalidArgument(status));
  EXPECT_NE(status.message().find("has no event \"b\""), std::string::npos);
  EXPECT_EQ(Order(), "a ");
}

TEST_F(HistoryTest, CorrectionToAnotherKindIsRefusedAndChangesNothing) {
  Take(Phq9Total("a", t1_, 12));
  const auto status =
      history_.Apply(Replaced("x", t2_, Enrolled("a", t1_)), setup_.catalogue())
          .status();
  EXPECT_TRUE(absl::IsInvalidArgument(status));
  EXPECT_NE(status.message().find("another kind"), std::string::npos);
  EXPECT_EQ(history_.facts()[0].As<Screening>()->score.total.low, 12);
}

}  // namespace
}  // namespace turnstone
