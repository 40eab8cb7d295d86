// What people may do with an alert, and what they are told when they may not.
#include "service/core/lifecycle.h"

#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::HasSubstr;

class LifecycleTest : public CoreFixture {
 protected:
  // A-1 is stat, about safety and latched; A-2 is none of these.
  LifecycleTest() {
    lead_.set_name("t.linnet");
    lead_.set_role("on-call-lead");
    Submit(Phq9Total("e1", clock_.Now(), 12, 1));
    v1::Event other = Phq9Total("e2", clock_.Now(), 9);
    other.set_participant("p2");
    Submit(other);
  }
  std::string Refusal(const std::string& action, const v1::Actor& by,
                      const std::string& id = "A-1") {
    const absl::StatusOr<v1::Alert> result = Work(action, by, id);
    return absl::StrCat(absl::StatusCodeToString(result.status().code()), " ",
                        result.status().message());
  }
  std::string LastText(const std::string& id) {
    return Alert(id).history().rbegin()->text();
  }

  v1::Actor lead_;
};

constexpr char kClose[] = "close { outcome: 'referred-on' note: 'done' }";

TEST_F(LifecycleTest, ReceivedStartedClosedWithEverythingOnRecord) {
  ASSERT_TRUE(Work("receive { note: 'calling now' }", person_, "A-2").ok());
  EXPECT_EQ(Alert("A-2").status(), v1::ALERT_STATUS_RECEIVED);
  EXPECT_EQ(Alert("A-2").holder().name(), "r.sorrel");
  EXPECT_EQ(LastText("A-2"), "received: calling now");
  ASSERT_TRUE(Work("start {}", person_, "A-2").ok());
  EXPECT_EQ(Alert("A-2").status(), v1::ALERT_STATUS_IN_PROGRESS);
  ASSERT_TRUE(Work(kClose, person_, "A-2").ok());
  Start(std::nullopt);
  const v1::Alert alert = Alert("A-2");
  EXPECT_EQ(alert.status(), v1::ALERT_STATUS_COMPLETED);
  EXPECT_EQ(alert.closing().outcome(), "referred-on");
  EXPECT_EQ(alert.closing().by().name(), "r.sorrel");
  EXPECT_FALSE(alert.has_holder());
  EXPECT_FALSE(alert.has_escalation());
}

TEST_F(LifecycleTest, SayingItTwiceChangesNothing) {
  for (const char* action : {"receive {}", "start {}", "receive {}"}) {
    ASSERT_TRUE(Work(action, person_).ok());
  }
  // Receiving what one has started does not put it back.
  EXPECT_EQ(Alert("A-1").status(), v1::ALERT_STATUS_IN_PROGRESS);
  const int64_t position = Alert("A-1").position();
  ASSERT_TRUE(Work("start { note: 'again' }", person_).ok());
  EXPECT_EQ(Alert("A-1").position(), position);
}

TEST_F(LifecycleTest, StartingDoesNotBeginTheWaitForClosingAnew) {
  ASSERT_TRUE(Work("receive {}", person_).ok());
  const auto before = Alert("A-1").escalation();
  clock_.MoveTo(clock_.Now() + absl::Hours(1));
  ASSERT_TRUE(Work("start {}", person_).ok());
  EXPECT_EQ(Alert("A-1").escalation().next_at().seconds(),
            before.next_at().seconds());
}

TEST_F(LifecycleTest, WhatSomebodyElseHasIsTakenOverOnlyWithANote) {
  ASSERT_TRUE(Work("receive {}", person_).ok());
  EXPECT_THAT(Refusal("receive {}", lead_),
              AllOf(HasSubstr("FAILED_PRECONDITION"),
                    HasSubstr("already with r.sorrel (clinician)")));
  ASSERT_TRUE(Work("receive { note: 'she is off sick' }", lead_).ok());
  EXPECT_EQ(Alert("A-1").holder().name(), "t.linnet");
  EXPECT_EQ(LastText("A-1"), "received, from r.sorrel: she is off sick");
}

TEST_F(LifecycleTest, ClosingNeedsAnOutcomeOfTheSiteAndANote) {
  EXPECT_THAT(Refusal("close { note: 'done' }", person_),
              AllOf(HasSubstr("INVALID_ARGUMENT"),
                    HasSubstr("closes only with an outcome"),
                    HasSubstr("safety-plan-made")));
  EXPECT_THAT(Refusal("close { outcome: 'whatever' note: 'x' }", person_),
              HasSubstr("\"whatever\" is not"));
  EXPECT_THAT(Refusal("close { outcome: 'referred-on' }", person_),
              HasSubstr("say in a few words what was done"));
  const std::string longest(1000, 'x');
  EXPECT_THAT(
      Refusal("close { outcome: 'referred-on' note: '" + longest + "y' }",
              person_, "A-2"),
      HasSubstr("longer than 1000"));
  EXPECT_EQ(Alert("A-2").status(), v1::ALERT_STATUS_REQUESTED);
  EXPECT_TRUE(Work("close { outcome: 'referred-on' note: '" + longest + "' }",
                   person_, "A-2")
                  .ok());
}

TEST_F(LifecycleTest, WhatIsClosedStaysClosed) {
  ASSERT_TRUE(Work(kClose, person_, "A-2").ok());
  for (const char* action : {"receive {}", "start {}", kClose, "confirm {}",
                             "cancel { reason: 'x' }",
                             "hold { until { seconds: 1 } reason: 'x' }"}) {
    EXPECT_THAT(Refusal(action, lead_, "A-2"),
                HasSubstr("A-2 is not open any more: r.sorrel closed it with "
                          "the outcome \"referred-on\""))
        << action;
  }
  // A note may still be added.
  EXPECT_TRUE(Work("note { note: 'letter came' }", person_, "A-2").ok());
  EXPECT_EQ(Alert("A-2").status(), v1::ALERT_STATUS_COMPLETED);
}

TEST_F(LifecycleTest, ASecondPersonConfirmsTheClosingOfASafetyAlert) {
  ASSERT_TRUE(Work(kClose, person_).ok());
  EXPECT_EQ(Alert("A-1").status(), v1::ALERT_STATUS_IN_PROGRESS);
  EXPECT_EQ(Alert("A-1").proposed_closing().by().name(), "r.sorrel");
  // What was done stays on record, whatever becomes of this closing.
  const int size = Alert("A-1").history_size();
  EXPECT_EQ(Alert("A-1").history(size - 2).text(),
            "closed: referred-on; a second person is to confirm it: done");
  ASSERT_TRUE(Work(kClose, person_).ok());
  EXPECT_EQ(Alert("A-1").history_size(), size);  // said again
  // On duty in that week, by the rota of the site's file.
  EXPECT_THAT(LastText("A-1"),
              HasSubstr("a second person is to confirm what r.sorrel has"));
  EXPECT_THAT(Alert("A-1").history().rbegin()->told(),
              testing::ElementsAre("m.rowan"));
  EXPECT_THAT(Refusal("confirm {}", person_), HasSubstr("PERMISSION_DENIED"));
  ASSERT_TRUE(Work("confirm { note: 'seen' }", lead_).ok());
  const v1::Alert alert = Alert("A-1");
  EXPECT_EQ(alert.status(), v1::ALERT_STATUS_COMPLETED);
  EXPECT_EQ(alert.closing().by().name(), "r.sorrel");
  EXPECT_EQ(alert.closing().confirmed_by().name(), "t.linnet");
  EXPECT_FALSE(alert.has_proposed_closing());
}

TEST_F(LifecycleTest, NobodyConfirmsTheirOwnClosing) {
  EXPECT_THAT(Refusal("confirm {}", lead_), HasSubstr("nobody has closed A-1"));
  ASSERT_TRUE(Work(kClose, lead_).ok());
  EXPECT_THAT(Refusal("confirm {}", lead_),
              HasSubstr("t.linnet has closed A-1 and cannot confirm it too"));
  EXPECT_EQ(Alert("A-1").status(), v1::ALERT_STATUS_IN_PROGRESS);
}

TEST_F(LifecycleTest, ANewReasonUndoesAClosingThatWaits) {
  ASSERT_TRUE(Work(kClose, person_).ok());
  Submit(Phq9Total("e3", clock_.Now() + absl::Minutes(1), 12, 2));
  EXPECT_FALSE(Alert("A-1").has_proposed_closing());
  EXPECT_THAT(Refusal("confirm {}", lead_), HasSubstr("nobody has closed"));
}

TEST_F(LifecycleTest, CancellingIsForWhatIsNotLatched) {
  EXPECT_THAT(Refusal("cancel { reason: 'moved' }", person_, "A-2"),
              AllOf(HasSubstr("PERMISSION_DENIED"),
                    HasSubstr("these may: on-call-lead")));
  EXPECT_THAT(Refusal("cancel { reason: 'x' }", lead_),
              HasSubstr("it cannot be cancelled"));
  EXPECT_THAT(Refusal("cancel {}", lead_, "A-2"), HasSubstr("reason: missing"));
  ASSERT_TRUE(Work("cancel { reason: 'moved away' }", lead_, "A-2").ok());
  EXPECT_EQ(Alert("A-2").status(), v1::ALERT_STATUS_CANCELLED);
  EXPECT_FALSE(Alert("A-2").has_escalation());
}

TEST_F(LifecycleTest, ReopeningIsANewAlertLinkedToTheOld) {
  EXPECT_THAT(Refusal("reopen { reason: 'x' }", person_),
              HasSubstr("nothing to reopen"));
  ASSERT_TRUE(Work(kClose, person_, "A-2").ok());
  EXPECT_THAT(Refusal("reopen {}", person_, "A-2"), HasSubstr("reason"));
  const auto again = Work("reopen { reason: 'not done' }", person_, "A-2");
  ASSERT_TRUE(again.ok()) << again.status();
  EXPECT_EQ(again->alert_id(), "A-3");
  EXPECT_EQ(Alert("A-3").reopens(), "A-2");
  EXPECT_EQ(Alert("A-3").status(), v1::ALERT_STATUS_REQUESTED);
  EXPECT_EQ(Alert("A-3").occurrence(0).event_id(), "e2");
  EXPECT_FALSE(Alert("A-3").has_closing());
  EXPECT_EQ(Alert("A-2").reopened_as(), "A-3");
  EXPECT_EQ(Alert("A-2").status(), v1::ALERT_STATUS_COMPLETED);
  EXPECT_THAT(Refusal("reopen { reason: 'x' }", person_, "A-2"),
              HasSubstr("taken up again already, as A-3"));
}

TEST_F(LifecycleTest, OneOpenAlertForARuleEvenWhenReopened) {
  ASSERT_TRUE(Work(kClose, person_, "A-2").ok());
  clock_.MoveTo(clock_.Now() + absl::Hours(1));
  v1::Event later = Phq9Total("e3", clock_.Now(), 8);
  later.set_participant("p2");
  Submit(later);
  EXPECT_THAT(Refusal("reopen { reason: 'x' }", person_, "A-2"),
              HasSubstr("has raised A-3 for this participant"));
}

TEST_F(LifecycleTest, HoldNeedsAReasonAndAnEndInTime) {
  const auto hold = [&](absl::Duration from_now) {
    return absl::StrCat("hold { reason: 'away' until { seconds: ",
                        absl::ToUnixSeconds(clock_.Now() + from_now), " } }");
  };
  EXPECT_THAT(Refusal(hold(absl::Hours(1)), person_),
              HasSubstr("cannot be put on hold"));
  for (const absl::Duration wrong : {absl::ZeroDuration(), -absl::Hours(1),
                                     absl::Hours(14 * 24) + absl::Seconds(1)}) {
    EXPECT_THAT(Refusal(hold(wrong), person_, "A-2"),
                HasSubstr("at most 14 days from now"));
  }
  EXPECT_THAT(Refusal("hold { until { seconds: 2000000000 } }", person_, "A-2"),
              HasSubstr("reason: missing"));
  ASSERT_TRUE(Work(hold(absl::Hours(14 * 24)), person_, "A-2").ok());
  EXPECT_EQ(Alert("A-2").status(), v1::ALERT_STATUS_ON_HOLD);
  EXPECT_EQ(Alert("A-2").escalation().climbing(), v1::UNTIL_HOLD_ENDS);
  // Receiving it takes it off hold.
  ASSERT_TRUE(Work("receive {}", person_, "A-2").ok());
  EXPECT_FALSE(Alert("A-2").has_hold());
  EXPECT_EQ(Alert("A-2").escalation().climbing(), v1::UNTIL_CLOSED);
}

TEST_F(LifecycleTest, WhereWhoHasItHasLeftOthersAreTold) {
  ASSERT_TRUE(Work("receive {}", person_).ok());
  v1::Configuration configuration = WithoutSignOfLife();
  auto& people = *configuration.mutable_site(0)->mutable_person();
  for (int i = people.size() - 1; i >= 0; --i) {
    if (people.Get(i).id() == "r.sorrel") people.DeleteSubrange(i, 1);
  }
  ASSERT_TRUE(core_->Activate(configuration).ok());
  // The shipped ladder reminds whoever has it after four hours.
  MoveTo(clock_.Now() + absl::Hours(4));
  EXPECT_THAT(LastText("A-1"),
              HasSubstr("r.sorrel, who has it, is not one of the site's"));
  EXPECT_THAT(
      Alert("A-1").history().rbegin()->told(),
      testing::ElementsAre("a.fennel", "t.linnet", "m.rowan", "j.alder"));
}

TEST_F(LifecycleTest, ARuleMadeLatchedLatchesItsOpenAlert) {
  v1::Configuration configuration = WithoutSignOfLife();
  for (v1::Rule& rule : *configuration.mutable_rule_set(0)->mutable_rule()) {
    if (rule.id() == "score-below-range") rule.set_latched(true);
  }
  ASSERT_TRUE(core_->Activate(configuration).ok());
  clock_.MoveTo(clock_.Now() + absl::Hours(1));
  v1::Event again = Phq9Total("e3", clock_.Now(), 8);
  again.set_participant("p2");
  Submit(again);
  EXPECT_TRUE(Alert("A-2").latched());
  EXPECT_THAT(Refusal("cancel { reason: 'x' }", lead_, "A-2"),
              HasSubstr("cannot be cancelled"));
}

TEST_F(LifecycleTest, ABlankNoteIsNone) {
  EXPECT_THAT(Refusal("close { outcome: 'referred-on' note: ' ' }", person_),
              HasSubstr("note: missing"));
  EXPECT_THAT(Refusal("note { note: ' \\n ' }", person_),
              HasSubstr("note: missing"));
}

TEST_F(LifecycleTest, ANameMistypedTakesNothing) {
  v1::Actor mistyped = person_;
  mistyped.set_name("r.sorel");
  EXPECT_THAT(Refusal("receive {}", mistyped),
              AllOf(HasSubstr("PERMISSION_DENIED"),
                    HasSubstr("known there as clinician: r.sorrel, a.fennel")));
}

TEST_F(LifecycleTest, TheRoleMustFitTheSiteAndThePerson) {
  EXPECT_THAT(Refusal("receive {}", by_),
              AllOf(HasSubstr("PERMISSION_DENIED"),
                    HasSubstr("the role intake-system may not work alerts")));
  v1::Actor posing = person_;
  posing.set_role("on-call-lead");
  EXPECT_THAT(Refusal("receive {}", posing),
              HasSubstr("r.sorrel is clinician at pebble-bay, not"));
  v1::Actor planner = person_;
  planner.set_name("k.heron");
  planner.set_role("programme-lead");
  EXPECT_THAT(Refusal("note { note: 'x' }", planner),
              HasSubstr("these may: clinician, on-call-lead, supervisor"));
  EXPECT_THAT(Refusal("", person_), HasSubstr("action: missing"));
}

}  // namespace
}  // namespace turnstone
