// Which configuration may be put in force, and what stays when one may not.
#include "service/core/configuration.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

class ConfigurationTest : public CoreFixture {};

TEST_F(ConfigurationTest, DigestTellsContentsApart) {
  v1::Configuration one = WithoutSignOfLife();
  v1::Configuration other = one;
  EXPECT_EQ(DigestOf(one), DigestOf(other));
  other.mutable_site(0)->set_planned_visits(6);
  EXPECT_NE(DigestOf(one), DigestOf(other));
}

TEST_F(ConfigurationTest, LastGoodOneIsUsedWhenThereIsNoneToRead) {
  Start(std::nullopt);
  Submit(Phq9Total("e1", clock_.Now(), 22));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 score-above-range"));
}

TEST_F(ConfigurationTest, NewStoreWithoutConfigurationDoesNotStart) {
  Core empty(OpenSqliteStore(folder_ + "_empty").value(), clock_,
             CoreOptions());
  const auto report = empty.Start(std::nullopt);
  EXPECT_TRUE(absl::IsFailedPrecondition(report.status()));
  std::filesystem::remove_all(folder_ + "_empty");
}

TEST_F(ConfigurationTest, InstrumentInUseMayNotBeDropped) {
  v1::Configuration without = WithoutSignOfLife();
  const std::string dropped = without.instrument(0).id();
  without.mutable_instrument()->DeleteSubrange(0, 1);
  const absl::Status status = core_->Activate(without);
  EXPECT_TRUE(absl::IsFailedPrecondition(status));
  EXPECT_THAT(std::string(status.message()),
              HasSubstr("instrument \"" + dropped + "\" is in force"));
}

// A form on record that could not be read again would stop the service.
TEST_F(ConfigurationTest, CodesOnRecordMayNotBeDropped) {
  const auto activate_without = [&](const std::string& id, auto change) {
    v1::Configuration next = WithoutSignOfLife();
    for (v1::Instrument& instrument : *next.mutable_instrument()) {
      if (instrument.id() == id) change(instrument);
    }
    const absl::Status status = core_->Activate(next);
    EXPECT_TRUE(absl::IsFailedPrecondition(status));
    return std::string(status.message());
  };
  EXPECT_THAT(activate_without("self-harm-follow-up",
                               [](v1::Instrument& it) {
                                 it.mutable_result(1)->set_code("safety-plan");
                               }),
              HasSubstr("result plan-made of instrument "
                        "\"self-harm-follow-up\" is in force"));
  EXPECT_THAT(
      activate_without(
          "phq-2", [](v1::Instrument& it) { it.mutable_item()->RemoveLast(); }),
      HasSubstr("44255-8"));
  EXPECT_THAT(activate_without(
                  "phq-2",
                  [](v1::Instrument& it) {
                    it.mutable_answer_list(0)->mutable_answer()->RemoveLast();
                  }),
              HasSubstr("answer LA6571-9 to question 44250-9"));
  EXPECT_THAT(activate_without(
                  "phq-9", [](v1::Instrument& it) { it.clear_panel_code(); }),
              HasSubstr("panel code 44249-1"));
  // A total of 6 may be on record.
  EXPECT_THAT(activate_without("phq-2",
                               [](v1::Instrument& it) {
                                 it.mutable_item(1)->set_unscored(true);
                               }),
              HasSubstr("\"phq-2\" gives totals from 0 to 6"));
  v1::Configuration more = WithoutSignOfLife();
  for (v1::Instrument& instrument : *more.mutable_instrument()) {
    if (instrument.id() != "self-harm-follow-up") continue;
    v1::Result& added = *instrument.add_result();
    added.set_code("on-leave");
    added.set_label("not done: away");
  }
  EXPECT_TRUE(core_->Activate(more).ok());
}

TEST_F(ConfigurationTest, StartsWithTheLastGoodOneIfTheNewOneDropsARecord) {
  v1::Configuration without = WithoutSignOfLife();
  without.mutable_instrument()->DeleteSubrange(0, 1);
  core_.reset();
  Core again(OpenSqliteStore(folder_).value(), clock_, CoreOptions());
  const auto report = again.Start(without);
  ASSERT_TRUE(report.ok()) << report.status();
  EXPECT_TRUE(report->used_last_good);
  EXPECT_THAT(report->refused, HasSubstr("missing from the new"));
  EXPECT_EQ(DigestOf(again.configuration()), DigestOf(WithoutSignOfLife()));
}

TEST_F(ConfigurationTest, SiteOverridesANumberAndTheAlertSaysWhoseItWas) {
  v1::Configuration lower = WithoutSignOfLife();
  v1::SettingOverride& override = *lower.mutable_site(0)->add_override();
  override.set_name("above-range");
  override.set_value(16);
  override.set_reason("test");
  ASSERT_TRUE(core_->Activate(lower).ok());
  Submit(Phq9Total("e1", clock_.Now(), 16));
  ASSERT_THAT(Alerts(), ElementsAre("A-1 score-above-range"));
  EXPECT_THAT(Alert("A-1").occurrence(0).trace().setting(),
              ElementsAre("above-range = 16 (site)"));
}

TEST_F(ConfigurationTest, PlaceholderForImmediateDangerIsNotForPeople) {
  v1::Configuration configuration = WithoutSignOfLife();
  EXPECT_TRUE(absl::IsFailedPrecondition(CheckReadyForPeople(configuration)));
  configuration.mutable_site(0)->set_immediate_danger("Call 000 (fictional).");
  EXPECT_TRUE(CheckReadyForPeople(configuration).ok());
}

// As stored before there were ladders: an open alert without a climb.
TEST_F(ConfigurationTest, AStoreFromBeforeLaddersNeedsAFileAndThenTells) {
  v1::Configuration old = WithoutSignOfLife();
  old.mutable_site(0)->clear_ladder();
  old.mutable_site(0)->clear_rota();
  core_.reset();
  std::filesystem::remove_all(folder_);
  {
    const std::unique_ptr<Store> store = OpenSqliteStore(folder_).value();
    WriteBatch batch;
    batch.configuration = {"old", old};
    batch.now = clock_.Now();
    v1::Alert alert;
    alert.set_alert_id("A-1");
    alert.set_site("pebble-bay");
    alert.set_participant("p1");
    alert.set_kind(v1::ALERT_KIND_SAFETY);
    alert.set_priority(v1::PRIORITY_STAT);
    alert.set_status(v1::ALERT_STATUS_RECEIVED);
    alert.set_position(1);
    v1::AlertChange& received = *alert.add_history();
    received.set_status(v1::ALERT_STATUS_RECEIVED);
    received.mutable_by()->set_name("r.sorrel");
    batch.alerts = {alert};
    batch.participants = {
        {{"pebble-bay", "p1"}, clock_.Now(), absl::InfiniteFuture()}};
    ASSERT_TRUE(store->Commit(batch).ok());
  }
  core_ = std::make_unique<Core>(OpenSqliteStore(folder_).value(), clock_,
                                 CoreOptions());
  EXPECT_TRUE(absl::IsFailedPrecondition(core_->Start(std::nullopt).status()));
  Start(WithoutSignOfLife());
  AskDue();
  EXPECT_EQ(Alert("A-1").holder().name(), "r.sorrel");
  EXPECT_EQ(Alert("A-1").escalation().climbing(), v1::UNTIL_CLOSED);
  // Four hours by the shipped ladder.
  EXPECT_EQ(core_->NextDue().value(), clock_.Now() + absl::Hours(4));
}

}  // namespace
}  // namespace turnstone
