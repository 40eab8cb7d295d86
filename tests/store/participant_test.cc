// Participants and when they fall due. Expected: the values put in (contract:
// service/store/store.h).
#include "tests/store/fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

using ParticipantTest = StoreTest;

TEST_F(ParticipantTest, ParticipantIsReplaced) {
  Open();
  const ParticipantKey key{"harbour-row", "p-1"};
  WriteBatch batch;
  batch.participants = {{key, absl::InfinitePast(), absl::InfiniteFuture()}};
  ASSERT_TRUE(store().Commit(batch).ok());
  std::optional<ParticipantRow> row = Get(store().FindParticipant(key));
  ASSERT_TRUE(row.has_value());
  EXPECT_EQ(row->asked_until, absl::InfinitePast());
  EXPECT_EQ(row->next_due, absl::InfiniteFuture());

  batch.participants = {{key, Noon(), Noon() + absl::Hours(1)}};
  ASSERT_TRUE(store().Commit(batch).ok());
  Reopen();
  row = Get(store().FindParticipant(key));
  ASSERT_TRUE(row.has_value());
  EXPECT_EQ(row->key, key);
  EXPECT_EQ(row->asked_until, Noon());
  EXPECT_EQ(row->next_due, Noon() + absl::Hours(1));
}

TEST_F(ParticipantTest, DueSoonestFirst) {
  Open();
  WriteBatch batch;
  batch.participants = {
      {{"s", "late"}, Noon(), Noon() + absl::Hours(2)},
      {{"s", "never"}, Noon(), absl::InfiniteFuture()},
      {{"s", "soon"}, Noon(), Noon() + absl::Hours(1)},
  };
  ASSERT_TRUE(store().Commit(batch).ok());
  EXPECT_EQ(Get(store().NextDue()), Noon() + absl::Hours(1));
  const ParticipantKey soon{"s", "soon"};
  const ParticipantKey late{"s", "late"};
  EXPECT_THAT(Get(store().DueBy("", Noon(), 9, SiteScope::All())), IsEmpty());
  EXPECT_THAT(
      Get(store().DueBy("", Noon() + absl::Hours(1), 9, SiteScope::All())),
      ElementsAre(soon));
  EXPECT_THAT(
      Get(store().DueBy("", absl::InfiniteFuture(), 9, SiteScope::All())),
      ElementsAre(soon, late));
  EXPECT_THAT(
      Get(store().DueBy("", absl::InfiniteFuture(), 1, SiteScope::All())),
      ElementsAre(soon));
}

// Otherwise the service would find a participant due, ask, be told that
// nothing is due yet, and find the participant due again.
TEST_F(ParticipantTest, DeadlineIsNeverRoundedToBeforeItself) {
  Open();
  const absl::Time due = Noon() + absl::Nanoseconds(1);
  WriteBatch batch;
  batch.participants = {{{"s", "p"}, Noon(), due}};
  ASSERT_TRUE(store().Commit(batch).ok());
  EXPECT_EQ(Get(store().NextDue()), Noon() + absl::Microseconds(1));
  EXPECT_THAT(Get(store().DueBy("", Noon(), 9, SiteScope::All())), IsEmpty());
}

TEST_F(ParticipantTest, EverybodyFallsDueWithNewRules) {
  Open();
  WriteBatch batch;
  batch.participants = {{{"s", "a"}, Noon(), absl::InfiniteFuture()},
                        {{"s", "b"}, Noon(), Noon() + absl::Hours(9)}};
  ASSERT_TRUE(store().Commit(batch).ok());
  batch.participants = {{{"s", "c"}, Noon(), Noon() - absl::Hours(9)}};
  batch.all_due_at = Noon();
  ASSERT_TRUE(store().Commit(batch).ok());
  for (const char* name : {"a", "b", "c"}) {
    EXPECT_EQ(Get(store().FindParticipant({"s", name}))->next_due, Noon());
    EXPECT_EQ(Get(store().FindParticipant({"s", name}))->asked_until, Noon());
  }
}

}  // namespace
}  // namespace turnstone
