// Order, filters and pages of the list of alerts. Expected order: the comment
// of Store::ListAlerts, applied here by std::sort.
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <functional>
#include <iterator>
#include <random>
#include <tuple>

#include "tests/store/fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::ElementsAreArray;
using testing::IsEmpty;

using Ids = std::vector<std::string>;

Ids IdsOf(const std::vector<v1::Alert>& alerts) {
  Ids ids;
  for (const v1::Alert& alert : alerts) ids.push_back(alert.alert_id());
  return ids;
}

class ListAlertsTest : public StoreTest {
 protected:
  void SetUp() override { Open(); }

  void Put(const std::vector<v1::Alert>& alerts) {
    WriteBatch batch;
    batch.alerts = alerts;
    const absl::Status status = store().Commit(batch);
    ASSERT_TRUE(status.ok()) << status;
  }

  Ids List(const v1::ListAlertsRequest& request) {
    const AlertPage page =
        Get(store().ListAlerts(request, 500, SiteScope::All()));
    EXPECT_EQ(page.total, static_cast<int64_t>(page.alerts.size()));
    EXPECT_EQ(page.next_page_token, "");
    return IdsOf(page.alerts);
  }

  // Every page, one after the other, up to 200; `between` is called after
  // each.
  Ids AllPages(
      v1::ListAlertsRequest request, int page_size,
      const std::function<void()>& between = [] {}) {
    Ids ids;
    int pages = 0;
    do {
      const AlertPage page =
          Get(store().ListAlerts(request, page_size, SiteScope::All()));
      EXPECT_LE(page.alerts.size(), static_cast<size_t>(page_size));
      for (std::string& id : IdsOf(page.alerts)) ids.push_back(std::move(id));
      request.set_page_token(page.next_page_token);
      between();
    } while (!request.page_token().empty() && ++pages < 200);
    return ids;
  }
};

TEST_F(ListAlertsTest, MostPressingThenLongestWaitingThenNumber) {
  const absl::Time later = Noon() + absl::Microseconds(1);
  Put({MakeAlert(1, Noon(), v1::PRIORITY_ROUTINE),
       MakeAlert(2, later, v1::PRIORITY_ASAP),
       MakeAlert(10, Noon(), v1::PRIORITY_ASAP),
       MakeAlert(9, Noon(), v1::PRIORITY_ASAP),
       MakeAlert(3, later, v1::PRIORITY_STAT),
       MakeAlert(4, Noon() - absl::Hours(9), v1::PRIORITY_URGENT)});
  EXPECT_THAT(List({}), ElementsAre("A-3", "A-9", "A-10", "A-2", "A-4", "A-1"));
}

TEST_F(ListAlertsTest, Filters) {
  std::vector<v1::Alert> alerts;
  for (int number = 1; number <= 6; ++number) {
    alerts.push_back(MakeAlert(number, Noon()));
  }
  alerts[0].set_status(v1::ALERT_STATUS_COMPLETED);
  alerts[1].set_kind(v1::ALERT_KIND_SAFETY);
  alerts[2].set_priority(v1::PRIORITY_STAT);
  alerts[3].set_site("other-site");
  alerts[4].set_participant("p-2");
  Put(alerts);

  v1::ListAlertsRequest request;
  request.add_status(v1::ALERT_STATUS_COMPLETED);
  EXPECT_THAT(List(request), ElementsAre("A-1"));
  request.add_status(v1::ALERT_STATUS_REQUESTED);
  EXPECT_THAT(List(request),
              ElementsAre("A-3", "A-1", "A-2", "A-4", "A-5", "A-6"));
  request.set_site("harbour-row");
  EXPECT_THAT(List(request), ElementsAre("A-3", "A-1", "A-2", "A-5", "A-6"));
  request.set_participant("p-2");
  EXPECT_THAT(List(request), ElementsAre("A-5"));
  request.set_participant("p-3");
  EXPECT_THAT(List(request), IsEmpty());

  request.Clear();
  request.add_kind(v1::ALERT_KIND_SAFETY);
  EXPECT_THAT(List(request), ElementsAre("A-2"));
  request.add_priority(v1::PRIORITY_STAT);
  EXPECT_THAT(List(request), IsEmpty());
  request.clear_kind();
  EXPECT_THAT(List(request), ElementsAre("A-3"));

  request.Clear();
  request.set_participant("p-1");
  EXPECT_THAT(List(request), ElementsAre("A-3", "A-1", "A-2", "A-4", "A-6"));

  request.Clear();  // a status of some later version: nothing has it
  request.add_status(static_cast<v1::AlertStatus>(64 + 1));
  EXPECT_THAT(List(request), IsEmpty());
}

TEST_F(ListAlertsTest, PagesGiveEveryAlertOnceInOrder) {
  // NOLINTNEXTLINE(bugprone-random-generator-seed): because the same each run.
  std::mt19937 random(20310304);
  std::vector<v1::Alert> alerts;
  std::vector<std::tuple<int, int64_t, int>> keys;
  for (int number = 1; number <= 60; ++number) {
    const int priority = static_cast<int>(random() % 4) + 1;
    const int second = static_cast<int>(random() % 5) - 2;
    alerts.push_back(MakeAlert(number, absl::FromUnixSeconds(second),
                               static_cast<v1::Priority>(priority)));
    keys.emplace_back(-priority, second, number);
  }
  Put(alerts);
  std::sort(keys.begin(), keys.end());
  Ids wanted;
  for (const auto& key : keys) {
    wanted.push_back(absl::StrCat("A-", std::get<2>(key)));
  }
  for (const int page_size : {1, 7, 59, 60, 61}) {
    EXPECT_THAT(AllPages({}, page_size), ElementsAreArray(wanted)) << page_size;
  }
}

TEST_F(ListAlertsTest, TotalCountsAllPages) {
  Put({MakeAlert(1, Noon()), MakeAlert(2, Noon()), MakeAlert(3, Noon())});
  v1::ListAlertsRequest request;
  AlertPage page = Get(store().ListAlerts(request, 2, SiteScope::All()));
  EXPECT_EQ(page.total, 3);
  EXPECT_NE(page.next_page_token, "");
  request.set_page_token(page.next_page_token);
  page = Get(store().ListAlerts(request, 2, SiteScope::All()));
  EXPECT_EQ(page.total, 3);
  EXPECT_THAT(IdsOf(page.alerts), ElementsAre("A-3"));
  EXPECT_EQ(page.next_page_token, "");
}

// Alerts that stay as they are appear on exactly one page
// (ListAlertsRequest.page_token), whatever happens to the others.
TEST_F(ListAlertsTest, PagesStayStableWhileAlertsAreAdded) {
  constexpr int kUnchanged = 20;
  std::vector<v1::Alert> alerts;
  for (int number = 1; number <= kUnchanged; ++number) {
    alerts.push_back(MakeAlert(number, Noon() + absl::Seconds(number)));
  }
  Put(alerts);
  int next = 100;
  const Ids ids = AllPages({}, 3, [this, &next] {
    if (next > 130) return;
    // Before, among and after the unchanged ones.
    Put({MakeAlert(next, Noon(), v1::PRIORITY_STAT),
         MakeAlert(next + 1, Noon() - absl::Hours(1)),
         MakeAlert(next + 2, Noon() + absl::Seconds(10)),
         MakeAlert(next + 3, Noon(), v1::PRIORITY_ROUTINE)});
    next += 4;
  });
  Ids unchanged;
  Ids wanted;
  for (int number = 1; number <= kUnchanged; ++number) {
    wanted.push_back(absl::StrCat("A-", number));
  }
  std::copy_if(ids.begin(), ids.end(), std::back_inserter(unchanged),
               [](const std::string& id) { return id.size() < 5; });
  EXPECT_THAT(unchanged, ElementsAreArray(wanted));
}

TEST_F(ListAlertsTest, BadRequestsAreRefusedAndHarmless) {
  v1::ListAlertsRequest request;
  EXPECT_THAT(store().ListAlerts(request, 0, SiteScope::All()).status(),
              IsError(absl::StatusCode::kInvalidArgument, "page_size"));
  request.set_page_token("no token of ours");
  EXPECT_THAT(store().ListAlerts(request, 10, SiteScope::All()).status(),
              IsError(absl::StatusCode::kInvalidArgument, "page_token"));
  EXPECT_TRUE(store().Commit(MakeBatch(1)).ok());
}

TEST_F(ListAlertsTest, TextInFiltersIsOnlyText) {
  Put({MakeAlert(1, Noon())});
  v1::ListAlertsRequest request;
  request.set_site("' OR '1'='1");
  EXPECT_THAT(List(request), IsEmpty());
  request.set_site(std::string("harbour-row\0x", 13));
  EXPECT_THAT(List(request), IsEmpty());
}

}  // namespace
}  // namespace turnstone
