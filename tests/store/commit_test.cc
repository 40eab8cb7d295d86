// A batch takes effect whole or not at all, and a store that refused one
// refuses everything until it is opened again (contract: Store::Commit).
#include <functional>

#include "tests/store/fixture.h"

namespace turnstone {
namespace {

using absl::StatusCode;
using testing::ElementsAre;
using testing::SizeIs;

struct BadBatch {
  std::string name;
  std::string complaint;
  // Spoils a batch that is good as the second one.
  std::function<void(WriteBatch&)> spoil;
};

class BadBatchTest : public StoreTest,
                     public testing::WithParamInterface<BadBatch> {};

TEST_P(BadBatchTest, LeavesNothingBehind) {
  Open();
  WriteBatch first = MakeBatch(1);
  first.configuration.emplace("digest-1", v1::Configuration());
  first.configuration->second.add_site()->set_id("harbour-row");
  ASSERT_TRUE(store().Commit(first).ok());

  WriteBatch batch = MakeBatch(2);
  batch.configuration.emplace("digest-2", v1::Configuration());
  batch.all_due_at = Noon() + absl::Hours(99);
  GetParam().spoil(batch);
  EXPECT_THAT(store().Commit(batch),
              IsError(StatusCode::kInternal, GetParam().complaint));
  EXPECT_THAT(store().Commit(MakeBatch(2)),
              IsError(StatusCode::kUnavailable, "restart"));

  Reopen();
  const Recovered recovered = Get(store().Recover());
  EXPECT_EQ(recovered.last_sequence, 1);
  EXPECT_EQ(recovered.last_alert_number, 1);
  EXPECT_EQ(recovered.last_now, first.now);
  EXPECT_EQ(recovered.configuration->first, "digest-1");
  EXPECT_EQ(Get(store().NextDue()), first.participants[0].next_due);
  EXPECT_THAT(Get(store().AlertsOf({"harbour-row", "p-1"}, SiteScope::All())),
              ElementsAre(EqualsProto(first.alerts[0])));
  EXPECT_THAT(Get(store().EventsOf({"harbour-row", "p-1"}, SiteScope::All())),
              SizeIs(1));
  EXPECT_FALSE(
      Get(store().FindParticipant({"harbour-row", "p-2"})).has_value());
  EXPECT_TRUE(store().Commit(MakeBatch(2)).ok());
  Close();
  EXPECT_THAT(Raw("SELECT subject FROM audit ORDER BY sequence"),
              ElementsAre("e-1", "e-2"));
  EXPECT_THAT(Raw("SELECT digest FROM configuration"), ElementsAre("digest-1"));
}

INSTANTIATE_TEST_SUITE_P(
    All, BadBatchTest,
    testing::Values(
        BadBatch{"EventTwiceInStore", "event.source, event.event_id",
                 [](WriteBatch& b) { b.events[0].event.set_event_id("e-1"); }},
        BadBatch{"EventTwiceInBatch", "event.source, event.event_id",
                 [](WriteBatch& b) {
                   b.events.push_back(b.events[0]);
                   b.events[1].sequence = 3;
                 }},
        BadBatch{"SequenceAhead", "event sequence 3 came where 2 is next",
                 [](WriteBatch& b) { b.events[0].sequence = 3; }},
        BadBatch{"SequenceTaken", "event sequence 1 came where 2 is next",
                 [](WriteBatch& b) { b.events[0].sequence = 1; }},
        BadBatch{
            "GapInBatch", "event sequence 4 came where 3 is next",
            [](WriteBatch& b) { b.events.push_back(MakeEvent(4, "e-4")); }},
        BadBatch{"NoAlertId", "\"17\" is no alert id",
                 [](WriteBatch& b) { b.alerts[0].set_alert_id("17"); }},
        BadBatch{"NoAlertIdInAnswer", "\"A-1 A-2\" is no alert id",
                 [](WriteBatch& b) { b.events[0].alert_ids = {"A-1 A-2"}; }},
        BadBatch{"AlertOfAnotherParticipant", "A-1 belongs to another",
                 [](WriteBatch& b) {
                   b.alerts[0].set_alert_id("A-1");
                   b.alerts[0].set_participant("p-9");
                 }},
        BadBatch{"AlertOfAnotherSite", "A-1 belongs to another",
                 [](WriteBatch& b) {
                   b.alerts[0].set_alert_id("A-1");
                   b.alerts[0].set_site("other-site");
                 }},
        BadBatch{"PositionTaken", "alert.position",
                 [](WriteBatch& b) { b.alerts[0].set_position(1); }},
        BadBatch{"DigestOfOtherContent", "digest-1 is already kept",
                 [](WriteBatch& b) {
                   b.configuration->first = "digest-1";
                   b.configuration->second.add_site()->set_id("other-site");
                 }}),
    [](const auto& instance) { return instance.param.name; });

}  // namespace
}  // namespace turnstone
