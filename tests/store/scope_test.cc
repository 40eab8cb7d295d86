// A query on behalf of one site never answers with a row of another, whatever
// it is asked for (BrokeScope). Expected: what was put in (contract:
// service/store/store.h).
#include <absl/strings/str_cat.h>

#include "service/store/site_scope.h"
#include "tests/store/fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

const absl::Time kEver = absl::InfiniteFuture();

class ScopeTest : public StoreTest {
 protected:
  // The same of two sites: an event, an alert, a participant, a message, a
  // verdict.
  ScopeTest() {
    Open();
    WriteBatch batch;
    batch.configuration = {"d", v1::Configuration()};
    batch.versions.emplace_back().set_digest("d");
    int number = 0;
    for (const char* site : {"harbour-row", "mill-lane"}) {
      ++number;
      batch.events.push_back(MakeEvent(number, absl::StrCat("e-", number)));
      batch.events.back().event.set_site(site);
      batch.alerts.push_back(MakeAlert(number, Noon()));
      batch.alerts.back().set_site(site);
      batch.alerts.back().set_position(number);
      batch.participants.push_back({{site, "p-1"}, Noon(), Noon()});
      v1::OwedMessage message;
      message.set_key(absl::StrCat("A-", number, "/m"));
      message.set_alert_id(absl::StrCat("A-", number));
      message.set_site(site);
      message.set_status(v1::MESSAGE_STATUS_OWED);
      batch.messages.push_back(message);
      v1::ShadowVerdict verdict;
      verdict.set_digest("d");
      verdict.set_site(site);
      verdict.set_participant("p-1");
      verdict.mutable_occurrence()->set_event_id(absl::StrCat("e-", number));
      batch.shadow.push_back(verdict);
    }
    EXPECT_TRUE(store().Commit(batch).ok());
  }

  // How much each query answers to whoever may see `scope`, when asked for
  // what is harbour-row's, or every site's where it can be.
  std::vector<size_t> Answered(const SiteScope& scope) {
    const ParticipantKey key{"harbour-row", "p-1"};
    const std::string site = key.site;
    return {
        Get(store().EventsOf(key, scope)).size(),
        Get(store().AlertsOf(key, scope)).size(),
        Get(store().DueBy(site, Noon(), 9, scope)).size(),
        Get(store().DueBy("", Noon(), 9, scope)).size(),
        Get(store().FindAlert("A-1", scope)) ? size_t{1} : size_t{0},
        Get(store().ListAlerts({}, 9, scope)).alerts.size(),
        static_cast<size_t>(Get(store().ListAlerts({}, 9, scope)).total),
        Get(store().AlertsAfterPosition(site, 0, 9, scope)).size(),
        Get(store().AlertsAfterPosition("", 0, 9, scope)).size(),
        Get(store().AlertsRaised(site, Noon(), kEver, scope)).size(),
        Get(store().ListMessages({}, 9, scope)).messages.size(),
        static_cast<size_t>(Get(store().ListMessages({}, 9, scope)).total),
        Get(store().EventsAfter(site, 0, 9, scope)).size(),
        Get(store().ShadowAfter("d", "", 0, 9, scope)).size(),
        Get(store().ShadowAfter("d", site, 0, 9, scope)).size(),
        Get(store().ShadowOf("d", key, scope)).size(),
    };
  }
};

TEST_F(ScopeTest, OnesOwnIsFound) {
  EXPECT_THAT(Answered(SiteScope({"harbour-row"})),
              testing::AllOf(SizeIs(16), testing::Each(1)));
}

// What is asked of every site is mill-lane's, of harbour-row nothing.
TEST_F(ScopeTest, AForeignSiteIsAsIfItHadNothing) {
  EXPECT_THAT(Answered(SiteScope({"mill-lane"})),
              ElementsAre(0, 0, 0, 1, 0, 1, 1, 0, 1, 0, 1, 1, 0, 1, 0, 0));
  const SiteScope scope({"mill-lane"});
  EXPECT_THAT(Get(store().ListAlerts({}, 9, scope)).alerts,
              ElementsAre(testing::Property(&v1::Alert::site, "mill-lane")));
  EXPECT_THAT(Get(store().DueBy("", Noon(), 9, scope)),
              ElementsAre(ParticipantKey{"mill-lane", "p-1"}));
}

TEST_F(ScopeTest, NoSiteIsNothing) {
  EXPECT_THAT(Answered(SiteScope(std::set<std::string>())), testing::Each(0));
}

TEST_F(ScopeTest, TwoSitesAreBoth) {
  const SiteScope scope({"harbour-row", "mill-lane"});
  EXPECT_THAT(Get(store().ListAlerts({}, 9, scope)).alerts, SizeIs(2));
  EXPECT_THAT(Get(store().ListAlerts({}, 9, SiteScope::All())).alerts,
              SizeIs(2));
}

// Ids of sites are checked when they are loaded; one that got past that must
// not widen a scope.
TEST_F(ScopeTest, AnOddSiteFindsNoMore) {
  for (const char* odd : {"x\",\"harbour-row", "%", "' OR 1 = 1 --", ""}) {
    const auto found = store().ListAlerts({}, 9, SiteScope({odd}));
    ASSERT_TRUE(found.ok()) << found.status();
    EXPECT_THAT(found->alerts, IsEmpty()) << odd;
  }
}

}  // namespace
}  // namespace turnstone
