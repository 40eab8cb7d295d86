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
  v1::Configuration one = ShippedConfiguration();
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
  v1::Configuration without = ShippedConfiguration();
  const std::string dropped = without.instrument(0).id();
  without.mutable_instrument()->DeleteSubrange(0, 1);
  const absl::Status status = core_->Activate(without);
  EXPECT_TRUE(absl::IsFailedPrecondition(status));
  EXPECT_THAT(std::string(status.message()),
              HasSubstr("instrument \"" + dropped + "\" is in force"));
}

TEST_F(ConfigurationTest, SiteOverridesANumberAndTheAlertSaysWhoseItWas) {
  v1::Configuration lower = ShippedConfiguration();
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
  v1::Configuration configuration = ShippedConfiguration();
  EXPECT_TRUE(absl::IsFailedPrecondition(CheckReadyForPeople(configuration)));
  configuration.mutable_site(0)->set_immediate_danger("Call 000 (fictional).");
  EXPECT_TRUE(CheckReadyForPeople(configuration).ok());
}

}  // namespace
}  // namespace turnstone
