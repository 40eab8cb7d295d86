// Versions of the rules, and what one in shadow has found. Expected: the values
// put in (contract: service/store/store.h).
#include "tests/store/fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

class VersionStoreTest : public StoreTest {
 protected:
  static v1::Configuration Content(const std::string& id) {
    v1::Configuration content;
    content.add_site()->set_id(id);
    return content;
  }
  static v1::RuleVersion Version(const std::string& digest,
                                 v1::VersionStatus status) {
    v1::RuleVersion version;
    version.set_digest(digest);
    version.set_status(status);
    return version;
  }
  static v1::ShadowVerdict Verdict(const std::string& event) {
    v1::ShadowVerdict verdict;
    verdict.set_digest("d1");
    verdict.set_site("harbour-row");
    verdict.set_participant("p-1");
    verdict.set_rule("some-rule");
    verdict.mutable_occurrence()->set_event_source("urn:test");
    verdict.mutable_occurrence()->set_event_id(event);
    return verdict;
  }
  // Event ids of the verdicts after `position`.
  std::vector<std::string> After(int64_t position, const std::string& site = "",
                                 int limit = 10) {
    std::vector<std::string> ids;
    for (const v1::ShadowVerdict& verdict : Get(store().ShadowAfter(
             "d1", site, position, limit, SiteScope::All()))) {
      ids.push_back(verdict.occurrence().event_id());
    }
    return ids;
  }
};

TEST_F(VersionStoreTest, AProposedConfigurationIsKeptButNotInForce) {
  Open();
  WriteBatch batch;
  batch.configuration = {"d1", Content("one")};
  batch.versions = {Version("d1", v1::VERSION_STATUS_IN_FORCE)};
  ASSERT_TRUE(store().Commit(batch).ok());
  batch = WriteBatch();
  batch.proposed = {"d2", Content("two")};
  batch.versions = {Version("d2", v1::VERSION_STATUS_PROPOSED)};
  ASSERT_TRUE(store().Commit(batch).ok());
  Reopen();
  EXPECT_EQ(Get(store().Recover()).configuration->first, "d1");
  EXPECT_THAT(*Get(store().FindConfiguration("d2")),
              EqualsProto(Content("two")));
  EXPECT_FALSE(Get(store().FindConfiguration("d3")).has_value());
  EXPECT_THAT(
      Get(store().Versions()),
      ElementsAre(EqualsProto(Version("d1", v1::VERSION_STATUS_IN_FORCE)),
                  EqualsProto(Version("d2", v1::VERSION_STATUS_PROPOSED))));
}

TEST_F(VersionStoreTest, AVersionIsReplaced) {
  Open();
  WriteBatch batch;
  batch.configuration = {"d1", Content("one")};
  batch.versions = {Version("d1", v1::VERSION_STATUS_IN_FORCE)};
  ASSERT_TRUE(store().Commit(batch).ok());
  batch = WriteBatch();
  batch.versions = {Version("d1", v1::VERSION_STATUS_RETIRED)};
  ASSERT_TRUE(store().Commit(batch).ok());
  EXPECT_THAT(
      Get(store().Versions()),
      ElementsAre(EqualsProto(Version("d1", v1::VERSION_STATUS_RETIRED))));
}

TEST_F(VersionStoreTest, AVerdictIsKeptOnceAndInOrder) {
  Open();
  WriteBatch batch;
  batch.configuration = {"d1", Content("one")};
  batch.shadow = {Verdict("e1"), Verdict("e2"), Verdict("e1")};
  ASSERT_TRUE(store().Commit(batch).ok());
  batch = WriteBatch();
  batch.shadow = {Verdict("e2"), Verdict("e3")};
  ASSERT_TRUE(store().Commit(batch).ok());
  Reopen();
  EXPECT_THAT(After(0), ElementsAre("e1", "e2", "e3"));
  EXPECT_THAT(After(0, "", 2), ElementsAre("e1", "e2"));
  EXPECT_THAT(After(2), ElementsAre("e3"));
  EXPECT_THAT(After(0, "harbour-row"), ElementsAre("e1", "e2", "e3"));
  EXPECT_THAT(After(0, "elsewhere"), IsEmpty());
  EXPECT_THAT(Get(store().ShadowAfter("d2", "", 0, 10, SiteScope::All())),
              IsEmpty());
  EXPECT_EQ(
      Get(store().ShadowAfter("d1", "", 2, 10, SiteScope::All()))[0].position(),
      3);
  EXPECT_EQ(
      Get(store().ShadowOf("d1", {"harbour-row", "p-1"}, SiteScope::All()))
          .size(),
      3U);
  EXPECT_THAT(
      Get(store().ShadowOf("d1", {"elsewhere", "p-1"}, SiteScope::All())),
      IsEmpty());
}

TEST_F(VersionStoreTest, TheRecordOfASiteComesInPages) {
  Open();
  WriteBatch batch;
  const auto add = [&batch](int64_t sequence, const std::string& site) {
    StoredEvent stored;
    stored.sequence = sequence;
    stored.event.set_source("urn:test");
    stored.event.set_event_id(std::to_string(sequence));
    stored.event.set_site(site);
    stored.event.set_participant("p-1");
    batch.events.push_back(stored);
  };
  add(1, "harbour-row");
  add(2, "elsewhere");
  add(3, "harbour-row");
  add(4, "harbour-row");
  ASSERT_TRUE(store().Commit(batch).ok());
  const auto after = [this](int64_t sequence, int limit) {
    std::vector<int64_t> found;
    for (const StoredEvent& stored : Get(store().EventsAfter(
             "harbour-row", sequence, limit, SiteScope::All()))) {
      found.push_back(stored.sequence);
    }
    return found;
  };
  EXPECT_THAT(after(0, 2), ElementsAre(1, 3));
  EXPECT_THAT(after(3, 2), ElementsAre(4));
  EXPECT_THAT(after(4, 2), IsEmpty());
  EXPECT_EQ(Get(store().CountEvents("harbour-row")), 3);
  EXPECT_EQ(Get(store().CountEvents("nowhere")), 0);
}

}  // namespace
}  // namespace turnstone
