// Events as they stand after corrections. Source: Correction in event.proto.
#include "rules/explain/as_corrected.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/events.h"

namespace turnstone {
namespace {

using testing::ElementsAre;

const absl::Time kStart = At("2027-01-04T10:00:00Z");

std::vector<std::string> Ids(const std::vector<v1::Event>& events) {
  std::vector<std::string> ids;
  ids.reserve(events.size());
  for (const v1::Event& event : events) ids.push_back(event.event_id());
  return ids;
}

TEST(AsCorrected, StandInTheOrderInWhichTheyHappened) {
  EXPECT_THAT(Ids(AsCorrected({Confidence("late", kStart + absl::Hours(1), 40),
                               Confidence("first", kStart, 50)})),
              ElementsAre("first", "late"));
}

TEST(AsCorrected, ReplacedOnesHaveTheirLatestContentAndTheirOwnName) {
  const v1::Event low = Confidence("c", kStart, 40);
  v1::Event mended = Confidence("c", kStart - absl::Hours(2), 60);
  v1::Event again = Confidence("c", kStart - absl::Hours(3), 70);
  const std::vector<v1::Event> standing = AsCorrected(
      {low, Replaced("x1", kStart, mended), Replaced("x2", kStart, again)});
  ASSERT_THAT(Ids(standing), ElementsAre("c"));
  EXPECT_EQ(standing[0].source(), "urn:test");
  EXPECT_EQ(standing[0].practice_report().confidence(), 70);
  EXPECT_EQ(standing[0].effective_time().seconds(),
            again.effective_time().seconds());
}

TEST(AsCorrected, WithdrawnOnesAreGoneUntilTheyArePutBack) {
  const v1::Event low = Confidence("c", kStart, 40);
  const v1::Event form = Phq9Total("form", kStart, 4);
  EXPECT_THAT(Ids(AsCorrected({low, form, Withdrawn("x1", kStart, low)})),
              ElementsAre("form"));
  EXPECT_THAT(Ids(AsCorrected({low, form, Withdrawn("x1", kStart, low),
                               Replaced("x2", kStart, low)})),
              ElementsAre("c", "form"));
}

}  // namespace
}  // namespace turnstone
