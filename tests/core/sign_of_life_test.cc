// The daily message that the service is working. Expectations: the comments of
// site.proto, by the clock of Pebble Bay (Europe/Dublin; in January UTC).
#include <gmock/gmock.h>

#include "rules/measure/proto_time.h"
#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

class SignOfLifeTest : public CoreFixture {
 protected:
  // Keys of all there are, oldest first.
  std::vector<std::string> Given() {
    std::vector<std::string> keys;
    const auto outbox =
        core_->ListOutbox(v1::ListOutboxRequest(), SiteScope::All());
    EXPECT_TRUE(outbox.ok()) << outbox.status();
    for (const v1::OwedMessage& message : outbox->message()) {
      if (!message.sign_of_life()) continue;
      keys.push_back(message.key());
      last_ = message;
    }
    return keys;
  }
  static v1::Configuration ToLinnetAt(const std::string& at) {
    v1::Configuration configuration = ShippedConfiguration();
    v1::SignOfLife& sign =
        *configuration.mutable_site(0)->mutable_sign_of_life();
    sign.set_at(at);
    sign.clear_person();
    sign.add_person("a.fennel");
    return configuration;
  }

  v1::OwedMessage last_;
};

// The fixture starts on Monday 4 January at 10:00.
TEST_F(SignOfLifeTest, ComesEveryDayAtItsTimeOnce) {
  Start(ToLinnetAt("07:30"));
  AskDue();
  const std::string monday = "life/pebble-bay/2027-01-04/a.fennel/mail";
  const std::string tuesday = "life/pebble-bay/2027-01-05/a.fennel/mail";
  EXPECT_THAT(Given(), ElementsAre(monday));
  MoveTo(At("2027-01-05T07:29:59Z"));
  EXPECT_THAT(Given(), ElementsAre(monday));
  MoveTo(At("2027-01-05T07:30:00Z"));
  EXPECT_THAT(Given(), ElementsAre(monday, tuesday));
  EXPECT_EQ(FromProto(last_.deadline()), At("2027-01-06T07:30:00Z"));
}

TEST_F(SignOfLifeTest, SaysHowManyAlertsAreOpenAndNobodys) {
  Start(ToLinnetAt("07:30"));
  Submit(Phq9Total("e-1", clock_.Now(), 1, 1));
  v1::Event other = Phq9Total("e-2", clock_.Now(), 1, 1);
  other.set_participant("p2");
  Submit(other);
  ASSERT_TRUE(Work("receive {}", person_).ok());
  MoveTo(At("2027-01-05T07:30:00Z"));
  ASSERT_EQ(Given().size(), 2);  // of Monday and of Tuesday
  EXPECT_THAT(last_.reason(), HasSubstr("2 alerts are open, 1 of them in "
                                        "nobody's hands"));
  EXPECT_TRUE(last_.alert_id().empty());
}

TEST_F(SignOfLifeTest, IsNotGivenAgainAfterARestartNorForDaysMissed) {
  Start(ToLinnetAt("07:30"));
  AskDue();
  Start(ToLinnetAt("07:30"));
  AskDue();
  EXPECT_EQ(Given().size(), 1);
  clock_.MoveTo(At("2027-01-09T12:00:00Z"));  // a Saturday
  Start(ToLinnetAt("07:30"));
  AskDue();
  EXPECT_THAT(Given(), ElementsAre("life/pebble-bay/2027-01-04/a.fennel/mail",
                                   "life/pebble-bay/2027-01-09/a.fennel/mail"));
}

TEST_F(SignOfLifeTest, WithoutOneNothingIsSentAndNothingIsDue) {
  v1::Configuration none = ShippedConfiguration();
  none.mutable_site(0)->clear_sign_of_life();
  Start(none);
  AskDue();
  EXPECT_TRUE(Given().empty());
  EXPECT_EQ(core_->NextDue().value(), absl::InfiniteFuture());
}

}  // namespace
}  // namespace turnstone
