// Alerts, one by one and in the order of their changes. Expected: the values
// put in (contract: service/store/store.h).
#include "tests/store/fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

using AlertTest = StoreTest;

TEST_F(AlertTest, AlertIsReplacedById) {
  Open();
  WriteBatch batch;
  batch.alerts = {MakeAlert(1, Noon()), MakeAlert(2, Noon())};
  ASSERT_TRUE(store().Commit(batch).ok());
  v1::Alert changed = batch.alerts[0];
  changed.set_status(v1::ALERT_STATUS_COMPLETED);
  changed.mutable_closing()->set_note("visited the same day");
  changed.set_position(3);
  batch.alerts = {changed};
  ASSERT_TRUE(store().Commit(batch).ok());
  Reopen();
  const std::optional<v1::Alert> found =
      Get(store().FindAlert("A-1", SiteScope::All()));
  ASSERT_TRUE(found.has_value());
  EXPECT_THAT(*found, EqualsProto(changed));
  EXPECT_THAT(
      Get(store().AlertsOf({"harbour-row", "p-1"}, SiteScope::All())),
      ElementsAre(EqualsProto(changed), EqualsProto(MakeAlert(2, Noon()))));
}

TEST_F(AlertTest, OnlyExactAlertIdsAreFound) {
  Open();
  WriteBatch batch;
  batch.alerts = {MakeAlert(7, Noon())};
  ASSERT_TRUE(store().Commit(batch).ok());
  for (const char* id : {"A-07", "a-7", "A-7 ", "A- 7", "A-+7", "7", "A-", "",
                         "A-99999999999999999999", "B-7"}) {
    EXPECT_FALSE(Get(store().FindAlert(id, SiteScope::All())).has_value())
        << id;
  }
  EXPECT_TRUE(Get(store().FindAlert("A-7", SiteScope::All())).has_value());
}

TEST_F(AlertTest, AlertsAfterPosition) {
  Open();
  WriteBatch batch;
  for (int number = 1; number <= 4; ++number) {
    batch.alerts.push_back(MakeAlert(number, Noon()));
    batch.alerts.back().set_position(10 - number);
  }
  batch.alerts[1].set_site("other-site");  // position 8
  ASSERT_TRUE(store().Commit(batch).ok());
  const auto positions = [this](const std::string& site, int64_t after,
                                int limit) {
    std::vector<int64_t> all;
    for (const v1::Alert& alert : Get(store().AlertsAfterPosition(
             site, after, limit, SiteScope::All()))) {
      all.push_back(alert.position());
    }
    return all;
  };
  EXPECT_THAT(positions("", 0, 10), ElementsAre(6, 7, 8, 9));
  EXPECT_THAT(positions("", 6, 2), ElementsAre(7, 8));
  EXPECT_THAT(positions("harbour-row", 6, 2), ElementsAre(7, 9));
  EXPECT_THAT(positions("", 9, 10), IsEmpty());
}

}  // namespace
}  // namespace turnstone
