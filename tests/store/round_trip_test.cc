// What is put into the store comes out of it again, also after reopening.
// Expected: the values put in (contract: service/store/store.h).
#include <absl/strings/str_cat.h>

#include "tests/store/fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

using RoundTripTest = StoreTest;

TEST_F(RoundTripTest, NewStoreIsEmpty) {
  Open();
  const Recovered recovered = Get(store().Recover());
  EXPECT_EQ(recovered.last_sequence, 0);
  EXPECT_EQ(recovered.last_alert_number, 0);
  EXPECT_EQ(recovered.last_position, 0);
  EXPECT_EQ(recovered.last_now, absl::InfinitePast());
  EXPECT_FALSE(recovered.configuration.has_value());
  EXPECT_EQ(Get(store().NextDue()), absl::InfiniteFuture());
  EXPECT_FALSE(Get(store().FindEvent("urn:x", "e")).has_value());
  EXPECT_FALSE(Get(store().FindParticipant({"s", "p"})).has_value());
  EXPECT_FALSE(Get(store().FindAlert("A-1", SiteScope::All())).has_value());
  EXPECT_THAT(Get(store().EventsOf({"s", "p"}, SiteScope::All())), IsEmpty());
  EXPECT_THAT(Get(store().AlertsOf({"s", "p"}, SiteScope::All())), IsEmpty());
  EXPECT_THAT(Get(store().AlertsAfterPosition("", 0, 10, SiteScope::All())),
              IsEmpty());
  EXPECT_THAT(
      Get(store().DueBy("", absl::InfiniteFuture(), 10, SiteScope::All())),
      IsEmpty());
}

TEST_F(RoundTripTest, Event) {
  Open();
  WriteBatch batch;
  batch.events = {MakeEvent(1, "e-1")};
  batch.events[0].alert_ids = {"A-3", "A-12"};
  batch.events[0].event.mutable_screening_result()->set_instrument("phq-9");
  ASSERT_TRUE(store().Commit(batch).ok());
  Reopen();
  const std::optional<StoredEvent> found =
      Get(store().FindEvent("urn:example:intake", "e-1"));
  ASSERT_TRUE(found.has_value());
  EXPECT_EQ(found->sequence, 1);
  EXPECT_EQ(found->recorded, batch.events[0].recorded);
  EXPECT_THAT(found->recorded_by, EqualsProto(batch.events[0].recorded_by));
  EXPECT_THAT(found->event, EqualsProto(batch.events[0].event));
  EXPECT_THAT(found->alert_ids, ElementsAre("A-3", "A-12"));
  EXPECT_FALSE(Get(store().FindEvent("urn:example:intake", "e-2")).has_value());
  EXPECT_FALSE(Get(store().FindEvent("urn:other", "e-1")).has_value());
}

TEST_F(RoundTripTest, EventsOfOneParticipantInOrder) {
  Open();
  WriteBatch batch;
  batch.events = {MakeEvent(1, "z"), MakeEvent(2, "y", "p-2"),
                  MakeEvent(3, "x")};
  ASSERT_TRUE(store().Commit(batch).ok());
  batch.events = {MakeEvent(4, "w")};
  batch.events[0].event.set_site("other-site");
  ASSERT_TRUE(store().Commit(batch).ok());
  const std::vector<StoredEvent> events =
      Get(store().EventsOf({"harbour-row", "p-1"}, SiteScope::All()));
  ASSERT_THAT(events, SizeIs(2));
  EXPECT_EQ(events[0].event.event_id(), "z");
  EXPECT_TRUE(events[0].alert_ids.empty());
  EXPECT_EQ(events[1].event.event_id(), "x");
}

TEST_F(RoundTripTest, LatestConfigurationIsInForceAndEarlierOnesAreKept) {
  Open();
  WriteBatch first;
  first.configuration.emplace("digest-1", v1::Configuration());
  first.configuration->second.add_site()->set_id("harbour-row");
  ASSERT_TRUE(store().Commit(first).ok());
  WriteBatch second;
  second.configuration.emplace("digest-2", v1::Configuration());
  ASSERT_TRUE(store().Commit(second).ok());
  Reopen();
  std::optional<std::pair<std::string, v1::Configuration>> in_force =
      Get(store().Recover()).configuration;
  ASSERT_TRUE(in_force.has_value());
  EXPECT_EQ(in_force->first, "digest-2");
  EXPECT_THAT(in_force->second, EqualsProto(second.configuration->second));

  ASSERT_TRUE(store().Commit(first).ok());         // back to the first
  ASSERT_TRUE(store().Commit(WriteBatch()).ok());  // changes nothing
  in_force = Get(store().Recover()).configuration;
  ASSERT_TRUE(in_force.has_value());
  EXPECT_EQ(in_force->first, "digest-1");
  EXPECT_THAT(in_force->second, EqualsProto(first.configuration->second));
  Close();
  EXPECT_THAT(Raw("SELECT digest FROM configuration ORDER BY digest"),
              ElementsAre("digest-1", "digest-2"));
}

TEST_F(RoundTripTest, RecoversWhereItStopped) {
  Open();
  WriteBatch batch = MakeBatch(1);
  batch.alerts = {MakeAlert(17, Noon()), MakeAlert(3, Noon())};
  batch.alerts[1].set_position(40);
  ASSERT_TRUE(store().Commit(batch).ok());
  Reopen();
  const Recovered recovered = Get(store().Recover());
  EXPECT_EQ(recovered.last_sequence, 1);
  EXPECT_EQ(recovered.last_alert_number, 17);
  EXPECT_EQ(recovered.last_position, 40);
  EXPECT_EQ(recovered.last_now, batch.now);
}

TEST_F(RoundTripTest, NowNeverGoesBack) {
  Open();
  WriteBatch batch;
  batch.now = Noon();
  ASSERT_TRUE(store().Commit(batch).ok());
  batch.now = Noon() - absl::Hours(1);
  ASSERT_TRUE(store().Commit(batch).ok());
  EXPECT_EQ(Get(store().Recover()).last_now, Noon());
  batch.now = Noon() + absl::Hours(1);
  ASSERT_TRUE(store().Commit(batch).ok());
  EXPECT_EQ(Get(store().Recover()).last_now, Noon() + absl::Hours(1));
}

TEST_F(RoundTripTest, AuditIsNumberedWithoutGaps) {
  Open();
  WriteBatch batch;
  batch.audit = {MakeAudit("e-1"), MakeAudit("A-1")};
  ASSERT_TRUE(store().Commit(batch).ok());
  Reopen();
  batch.audit = {MakeAudit("e-2")};
  ASSERT_TRUE(store().Commit(batch).ok());
  Close();
  const std::string rest = absl::StrCat(
      " ", absl::ToUnixMicros(Noon()), " event accepted by the intake system ");
  EXPECT_THAT(
      Raw("SELECT sequence || ' ' || at || ' ' || action || ' ' || "
          "detail || ' ' || subject FROM audit ORDER BY sequence"),
      ElementsAre("1" + rest + "e-1", "2" + rest + "A-1", "3" + rest + "e-2"));
  v1::Actor by;
  ASSERT_TRUE(by.ParseFromString(Raw("SELECT actor FROM audit")[0]));
  EXPECT_EQ(by.name(), "Example Lead");
}

}  // namespace
}  // namespace turnstone
