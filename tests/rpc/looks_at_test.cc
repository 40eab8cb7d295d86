// What an answer shows of whom: every alert it tells of, and each once.
#include "service/rpc/looks_at.h"

#include <gmock/gmock.h>

#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::Field;
using testing::IsEmpty;

TEST(LooksAtTest, AHandOverShowsEveryAlertInIt) {
  v1::Handover seen;
  EXPECT_THAT(LooksAt(seen), IsEmpty());
  for (const char* id : {"A-1", "A-2"}) {
    v1::Alert& alert = *seen.add_alert();
    alert.set_alert_id(id);
    alert.set_site("pebble-bay");
    alert.set_participant("p1");
  }
  EXPECT_THAT(LooksAt(seen), ElementsAre(Field(&Look::subject, "A-1"),
                                         Field(&Look::subject, "A-2")));
}

class NoteLooksTest : public CoreFixture {};

TEST_F(NoteLooksTest, AnAnswerIsOneLookHoweverOftenItNamesOne) {
  Submit(Phq9Total("q1", clock_.Now(), 3));
  v1::DueList seen;
  for (int n = 0; n < 3; ++n) {
    v1::DueItem& item = *seen.add_item();
    item.set_site("pebble-bay");
    item.set_participant("p1");
  }
  NoteLooks(person_, seen, *core_);
  core_->RecordLooks();
  clock_.MoveTo(clock_.Now() + 2 * Looks::kAgainWithin);
  core_->RecordLooks();
  v1::ListDisclosuresRequest request;
  request.set_participant("p1");
  const v1::Disclosures listed =
      core_->ListDisclosures(request, SiteScope::All()).value();
  ASSERT_EQ(listed.disclosure_size(), 1);
  EXPECT_EQ(listed.disclosure(0).what(),
            "saw what falls due for the participant");
}

}  // namespace
}  // namespace turnstone
