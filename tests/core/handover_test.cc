// One lead hands over to another. By the shipped site's rota m.rowan is on
// duty from Monday 4 January 2027 09:00 for a week, then t.linnet.
#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/measure/proto_time.h"
#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

class HandoverTest : public CoreFixture {
 protected:
  HandoverTest() {
    rowan_.set_name("m.rowan");
    rowan_.set_role("on-call-lead");
    linnet_ = rowan_;
    linnet_.set_name("t.linnet");
  }
  absl::StatusOr<v1::Handover> Offer(const v1::Actor& by,
                                     const std::string& to) {
    v1::OfferHandoverRequest request;
    request.set_to(to);
    auto result = core_->StageOffer(request, by);
    EXPECT_TRUE(core_->Commit().ok());
    return result;
  }
  absl::StatusOr<v1::Handover> Answer(const v1::Actor& by, bool yes) {
    v1::AnswerHandoverRequest request;
    request.set_yes(yes);
    auto result = core_->StageAnswer(request, by);
    EXPECT_TRUE(core_->Commit().ok());
    return result;
  }
  std::vector<std::string> OnDutyAt(const std::string& time) {
    v1::GetOnCallRequest request;
    *request.mutable_at() = ToProto(At(time));
    const v1::OnCall on_call = core_->GetOnCall(request).value();
    return {on_call.duty(0).person().begin(), on_call.duty(0).person().end()};
  }

  v1::Actor rowan_;
  v1::Actor linnet_;
};

TEST_F(HandoverTest, PassesDutyAndAlertsOnceTheOtherSaysYes) {
  Submit(Phq9Total("e1", clock_.Now(), 12, 1));
  ASSERT_TRUE(Work("receive {}", rowan_).ok());
  v1::Event other = Phq9Total("e2", clock_.Now(), 12, 1);
  other.set_participant("p2");
  Submit(other);
  const auto offered = Offer(rowan_, "t.linnet");
  ASSERT_TRUE(offered.ok()) << offered.status();
  EXPECT_EQ(offered->alert_size(), 2);
  EXPECT_EQ(offered->offer().to(), "t.linnet");
  // Nothing changes before.
  EXPECT_THAT(OnDutyAt("2027-01-04T10:00:01Z"), ElementsAre("m.rowan"));
  Start(std::nullopt);
  clock_.MoveTo(clock_.Now() + absl::Minutes(5));
  const auto taken = Answer(linnet_, true);
  ASSERT_TRUE(taken.ok()) << taken.status();
  EXPECT_FALSE(taken->has_offer());
  EXPECT_THAT(taken->duty().person(), ElementsAre("t.linnet"));
  EXPECT_EQ(Alert("A-1").holder().name(), "t.linnet");
  EXPECT_EQ(Alert("A-1").history().rbegin()->text(),
            "taken over, from m.rowan");
  EXPECT_FALSE(Alert("A-2").has_holder());
  EXPECT_EQ(Alert("A-2").history().rbegin()->text(),
            "on duty now, in place of m.rowan");
  // For the rest of the other's week, also after a restart; next is t.linnet's
  // own week.
  Start(std::nullopt);
  EXPECT_THAT(OnDutyAt("2027-01-11T08:59:59Z"), ElementsAre("t.linnet"));
  EXPECT_THAT(OnDutyAt("2027-01-18T09:00:00Z"), ElementsAre("m.rowan"));
  EXPECT_THAT(OnDutyAt("2027-01-04T10:04:59Z"), ElementsAre("m.rowan"));
}

TEST_F(HandoverTest, MidLadderTheNextRungFindsTheNewOne) {
  Submit(Phq9Total("e1", clock_.Now(), 12, 1));
  ASSERT_TRUE(Work("receive {}", person_).ok());
  ASSERT_TRUE(Offer(rowan_, "t.linnet").ok());
  ASSERT_TRUE(Answer(linnet_, true).ok());
  // The second rung until it is closed, 8 hours on, tells who is on duty.
  MoveTo(clock_.Now() + absl::Hours(8));
  EXPECT_THAT(Alert("A-1").escalation().told(), ElementsAre("t.linnet"));
}

TEST_F(HandoverTest, NoLeavesEverythingAsItWas) {
  ASSERT_TRUE(Offer(rowan_, "t.linnet").ok());
  const auto declined = Answer(linnet_, false);
  ASSERT_TRUE(declined.ok());
  EXPECT_FALSE(declined->has_offer());
  EXPECT_THAT(declined->duty().person(), ElementsAre("m.rowan"));
  EXPECT_THAT(std::string(Answer(linnet_, true).status().message()),
              HasSubstr("nothing is offered"));
}

TEST_F(HandoverTest, OnlyWhoIsOnDutyOffersAndOnlyToAnotherOfTheRole) {
  EXPECT_THAT(std::string(Offer(linnet_, "m.rowan").status().message()),
              HasSubstr("t.linnet is not on duty; on duty as on-call-lead: "
                        "m.rowan"));
  for (const char* to : {"", "m.rowan", "r.sorrel", "nobody"}) {
    EXPECT_THAT(std::string(Offer(rowan_, to).status().message()),
                HasSubstr("offer it to another on-call-lead: t.linnet"))
        << to;
  }
  EXPECT_TRUE(absl::IsPermissionDenied(Offer(person_, "t.linnet").status()));
}

TEST_F(HandoverTest, OnlyTheOneItIsOfferedToAnswers) {
  ASSERT_TRUE(Offer(rowan_, "t.linnet").ok());
  EXPECT_THAT(std::string(Answer(rowan_, true).status().message()),
              HasSubstr("offers it to t.linnet, not to m.rowan"));
  EXPECT_TRUE(absl::IsPermissionDenied(Answer(person_, true).status()));
}

TEST_F(HandoverTest, AnOfferDiesWithTheDuty) {
  ASSERT_TRUE(Offer(rowan_, "t.linnet").ok());
  clock_.MoveTo(At("2027-01-11T09:00:00Z"));
  EXPECT_FALSE(core_->GetHandover({}, SiteScope::All()).value().has_offer());
  EXPECT_THAT(std::string(Answer(linnet_, true).status().message()),
              HasSubstr("m.rowan is not on duty any more"));
  // Nor does it come alive again in the next week of the same lead.
  clock_.MoveTo(At("2027-01-19T10:00:00Z"));
  EXPECT_THAT(OnDutyAt("2027-01-19T10:00:00Z"), ElementsAre("m.rowan"));
  EXPECT_FALSE(core_->GetHandover({}, SiteScope::All()).value().has_offer());
  EXPECT_TRUE(absl::IsFailedPrecondition(Answer(linnet_, true).status()));
}

TEST_F(HandoverTest, ADutyGivenToWhoHasLeftFallsBack) {
  ASSERT_TRUE(Offer(rowan_, "t.linnet").ok());
  ASSERT_TRUE(Answer(linnet_, true).ok());
  v1::Configuration configuration = WithoutSignOfLife();
  v1::SiteConfig& site = *configuration.mutable_site(0);
  for (v1::Person& person : *site.mutable_person()) {
    if (person.id() == "t.linnet") person.set_role("supervisor");
  }
  ASSERT_TRUE(core_->Activate(configuration).ok());
  EXPECT_THAT(OnDutyAt("2027-01-05T10:00:00Z"), ElementsAre("m.rowan"));
}

TEST_F(HandoverTest, TheOtherIsToldByMessage) {
  ASSERT_TRUE(Offer(rowan_, "t.linnet").ok());
  const auto envelope = core_->NextEnvelope({"pebble-bay", "mail"}).value();
  ASSERT_TRUE(envelope.has_value());
  EXPECT_EQ(envelope->key, "hand-over/pebble-bay/1/t.linnet/mail");
  EXPECT_EQ(envelope->messages[0].reason(),
            "m.rowan would hand over to you; it is not done before you say "
            "yes");
  EXPECT_EQ(envelope->messages[0].alert_id(), "");
}

TEST_F(HandoverTest, WhoIsOnDutyWhenAndNext) {
  const v1::OnCall on_call = core_->GetOnCall({}).value();
  ASSERT_EQ(on_call.duty_size(), 1);
  EXPECT_THAT(on_call.duty(0).person(), ElementsAre("m.rowan"));
  EXPECT_EQ(FromProto(on_call.duty(0).until()), At("2027-01-11T09:00:00Z"));
  EXPECT_THAT(on_call.duty(0).next_person(), ElementsAre("t.linnet"));
  v1::GetOnCallRequest far;
  *far.mutable_at() = ToProto(clock_.Now() + absl::Hours(24 * 401));
  EXPECT_TRUE(absl::IsInvalidArgument(core_->GetOnCall(far).status()));
}

}  // namespace
}  // namespace turnstone
