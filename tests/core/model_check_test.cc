// Every state that an alert can reach, by whatever people, facts and time do to
// it in whatever order, is visited; nothing is sampled. Asked of each:
// - an open alert has a next deadline, and not a distant one (BrokeSilent);
// - when a deadline has passed, somebody was told, or a hold has ended
//   (BrokeOnTime);
// - a latched alert ends only by a person's outcome, and where the site asks
//   for it by a second person's as well;
// - priority never falls.
// The ladder has waits of whole hours and the clock moves by whole hours, so
// the states, with times counted from now, are finitely many.
#include <absl/strings/str_cat.h>
#include <gtest/gtest.h>

#include <deque>
#include <functional>
#include <map>
#include <set>

#include "rules/measure/proto_time.h"
#include "service/core/escalation.h"
#include "service/core/lifecycle.h"
#include "service/core/reopen.h"
#include "service/core/work.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

constexpr int kRungs = 2;
constexpr absl::Duration kLongestWait = absl::Hours(4);

v1::Wait Hours(int hours) {
  v1::Wait wait;
  wait.set_hours(hours);
  return wait;
}

void FillClimb(bool closing, v1::Climb& climb) {
  v1::Rung& first = *climb.add_rung();
  if (closing) *first.mutable_after() = Hours(2);
  if (closing) {
    first.add_tell()->set_holder(true);
  } else {
    first.add_tell()->set_own_clinician(true);
  }
  v1::Rung& second = *climb.add_rung();
  *second.mutable_after() = Hours(1);
  second.add_tell()->set_on_duty("on-call-lead");
  *climb.mutable_repeat_every() = Hours(3);
}

v1::Configuration WithShortLadder(bool second_person) {
  v1::Configuration configuration = WithoutSignOfLife();
  v1::SiteConfig& site = *configuration.mutable_site(0);
  site.clear_ladder();
  site.set_longest_hold_days(1);
  if (!second_person) site.clear_second_person();
  v1::Ladder& ladder = *site.add_ladder();
  ladder.set_id("short");
  for (int p = v1::PRIORITY_ROUTINE; p <= v1::PRIORITY_STAT; ++p) {
    ladder.add_priority(static_cast<v1::Priority>(p));
  }
  FillClimb(false, *ladder.mutable_until_received());
  FillClimb(true, *ladder.mutable_until_closed());
  return configuration;
}

v1::Actor Person(const std::string& name, const std::string& role) {
  v1::Actor actor;
  actor.set_name(name);
  actor.set_role(role);
  return actor;
}

struct State {
  v1::Alert alert;
  absl::Time now;
};

std::string From(const google::protobuf::Timestamp& time, absl::Time now) {
  return absl::FormatDuration(FromProto(time) - now);
}

// Two states of the same key go on alike.
std::string KeyOf(const State& state) {
  const v1::Alert& alert = state.alert;
  const v1::Escalation& escalation = alert.escalation();
  int standing = 0;
  for (const v1::Occurrence& occurrence : alert.occurrence()) {
    if (!occurrence.has_no_longer_since()) ++standing;
  }
  return absl::StrCat(
      alert.status(), "|", alert.priority(), "|", alert.holder().name(), "|",
      alert.has_hold() ? From(alert.hold().until(), state.now) : "", "|",
      alert.proposed_closing().by().name(), "|", escalation.climbing(), "|",
      std::min(escalation.rungs_reached(), kRungs), "|",
      From(escalation.counted_from(), state.now), "|",
      From(escalation.next_at(), state.now), "|", standing, "|",
      alert.has_withdrawal(), "|", alert.reopened_as());
}

class ModelCheck {
 public:
  ModelCheck(bool latched, v1::AlertKind kind, bool second_person)
      : setup_(WithShortLadder(second_person), "digest"),
        site_(*setup_.FindSite("pebble-bay")),
        around_{site_, swaps_, "r.sorrel"},
        needs_second_(latched && second_person &&
                      kind == v1::ALERT_KIND_SAFETY) {
    v1::Rule& rule = rule_;
    rule.set_id("some-rule");
    rule.set_kind(kind);
    rule.set_latched(latched);
    AddActions();
  }

  void Run() {
    State first{RaiseAlert("A-1", "p1", AnswerOf(v1::PRIORITY_URGENT), site_,
                           "digest", begin_),
                begin_};
    Settle(first);
    Visit(first);
    while (!waiting_.empty() && !testing::Test::HasFailure()) {
      const State state = waiting_.front();
      waiting_.pop_front();
      for (const auto& [name, act] : actions_) {
        State next = state;
        if (!act(next)) continue;
        const int64_t tellings = next.alert.escalation().tellings();
        const bool was_due =
            IsOpen(next.alert) &&
            FromProto(next.alert.escalation().next_at()) <= next.now;
        const v1::AlertStatus status = next.alert.status();
        Settle(next);
        if (was_due) {
          EXPECT_TRUE(next.alert.escalation().tellings() > tellings ||
                      status != next.alert.status())
              << name << " from " << KeyOf(state);
        }
        CheckStep(name, state, next);
        Visit(next);
      }
    }
  }

  [[nodiscard]] size_t states() const { return seen_.size(); }
  [[nodiscard]] const std::set<int>& statuses() const { return statuses_; }

 private:
  using Act = std::function<bool(State&)>;

  Answer AnswerOf(v1::Priority priority) {
    Answer answer;
    answer.rule = &rule_;
    answer.fact = {"urn:model", absl::StrCat("e", ++events_)};
    answer.effective = begin_;
    answer.due = begin_;
    answer.priority = priority;
    answer.truth = v1::TRUTH_TRUE;
    answer.raise = true;
    return answer;
  }

  Act ByPerson(const v1::Actor& by, const v1::WorkAlertRequest& request) {
    return [=, this](State& state) {
      const Desk desk{by, state.now, around_};
      const absl::StatusOr<WorkDone> done = Work(request, desk, state.alert);
      return done.ok() && !done->action.empty();
    };
  }

  void AddPeople() {
    const v1::Actor clinician = Person("r.sorrel", "clinician");
    const v1::Actor lead = Person("t.linnet", "on-call-lead");
    for (const v1::Actor& by : {clinician, lead}) {
      v1::WorkAlertRequest request;
      request.mutable_receive()->set_note("taking over");
      Add("receive", by, request);
      request.mutable_start()->set_note("at it");
      Add("start", by, request);
      request.mutable_close()->set_outcome("referred-on");
      request.mutable_close()->set_note("done");
      Add("close", by, request);
      request.mutable_confirm();
      Add("confirm", by, request);
      request.mutable_cancel()->set_reason("moved");
      Add("cancel", by, request);
    }
    actions_["hold"] = [this, clinician](State& state) {
      v1::WorkAlertRequest request;
      *request.mutable_hold()->mutable_until() =
          ToProto(state.now + absl::Hours(4));
      request.mutable_hold()->set_reason("away");
      return ByPerson(clinician, request)(state);
    };
    actions_["reopen"] = [this, lead](State& state) {
      v1::Reopen request;
      request.set_reason("not over");
      const Desk desk{lead, state.now, around_};
      if (!CheckReopen(request, desk, state.alert).ok()) return false;
      state.alert = Reopen(request, desk, "A-2", state.alert);
      return true;
    };
  }

  void Add(const std::string& verb, const v1::Actor& by,
           const v1::WorkAlertRequest& request) {
    actions_[absl::StrCat(verb, " by ", by.name())] = ByPerson(by, request);
  }

  void AddFacts() {
    for (const auto priority : {v1::PRIORITY_URGENT, v1::PRIORITY_STAT}) {
      actions_[absl::StrCat("reason ", priority)] = [=, this](State& state) {
        if (!IsOpen(state.alert)) return false;
        // Two standing reasons behave as three would.
        if (state.alert.occurrence_size() > 2) {
          state.alert.mutable_occurrence()->DeleteSubrange(
              2, state.alert.occurrence_size() - 2);
        }
        if (AddOccurrence(AnswerOf(priority), site_, state.now, state.alert)) {
          (void)TellApart({state.alert.holder().name()}, "one more reason",
                          state.now, around_, state.alert);
        }
        state.alert.mutable_occurrence()->DeleteSubrange(
            0, std::max(0, state.alert.occurrence_size() - 2));
        return true;
      };
    }
    for (const bool correction : {true, false}) {
      actions_[absl::StrCat("taken away ", correction)] =
          [correction](State& state) {
            if (!IsOpen(state.alert)) return false;
            for (int i = 0; i < state.alert.occurrence_size(); ++i) {
              if (state.alert.occurrence(i).has_no_longer_since()) continue;
              WithdrawOccurrence(i, {{"urn:model", "c"}, correction}, state.now,
                                 state.alert);
              return true;
            }
            return false;
          };
    }
  }

  void AddActions() {
    AddPeople();
    AddFacts();
    actions_["an hour"] = [](State& state) {
      if (!IsOpen(state.alert)) return false;
      state.now += absl::Hours(1);
      return true;
    };
    // As when the service was down.
    actions_["nine hours"] = [](State& state) {
      if (!IsOpen(state.alert)) return false;
      state.now += absl::Hours(9);
      return true;
    };
    actions_["nobody reached"] = [this](State& state) {
      return IsOpen(state.alert) &&
             !ClimbAtOnce("undeliverable", state.now, around_, state.alert)
                  .empty();
    };
  }

  void Settle(State& state) {
    if (!IsOpen(state.alert)) return;
    (void)ClimbTo(state.now, around_, state.alert);
  }

  void CheckState(const State& state) {
    const v1::Alert& alert = state.alert;
    if (!IsOpen(alert)) {
      EXPECT_FALSE(alert.has_escalation() || alert.has_holder());
      return;
    }
    const absl::Time next = FromProto(alert.escalation().next_at());
    ASSERT_TRUE(alert.escalation().has_next_at()) << KeyOf(state);
    EXPECT_GT(next, state.now) << KeyOf(state);
    EXPECT_LE(next, state.now + kLongestWait) << KeyOf(state);
    EXPECT_EQ(alert.has_holder(), alert.status() != v1::ALERT_STATUS_REQUESTED)
        << KeyOf(state);
    EXPECT_EQ(alert.has_hold(), alert.status() == v1::ALERT_STATUS_ON_HOLD);
  }

  void CheckStep(const std::string& name, const State& before,
                 const State& after) {
    EXPECT_GE(after.alert.priority(), before.alert.priority());
    if (!IsOpen(before.alert) || IsOpen(after.alert) || !rule_.latched())
      return;
    EXPECT_TRUE(name.starts_with("close") || name.starts_with("confirm"))
        << name << " ended it, from " << KeyOf(before);
    const v1::Closing& closing = after.alert.closing();
    EXPECT_EQ(after.alert.status(), v1::ALERT_STATUS_COMPLETED);
    EXPECT_FALSE(closing.outcome().empty() || closing.by().name().empty());
    EXPECT_EQ(closing.has_confirmed_by(), needs_second_);
    EXPECT_NE(closing.by().name(), closing.confirmed_by().name());
  }

  void Visit(State& state) {
    // What has happened before does not matter to what may happen.
    if (state.alert.history_size() > 1) {
      state.alert.mutable_history()->DeleteSubrange(
          0, state.alert.history_size() - 1);
    }
    if (!seen_.insert(KeyOf(state)).second) return;
    statuses_.insert(state.alert.status());
    CheckState(state);
    waiting_.push_back(state);
  }

  const absl::Time begin_ = At("2027-01-04T10:00:00Z");
  Setup setup_;
  const Site& site_;
  const std::vector<Swap> swaps_;
  const Around around_;
  const bool needs_second_;
  v1::Rule rule_;
  int events_ = 0;
  std::map<std::string, Act> actions_;
  std::set<std::string> seen_;
  std::set<int> statuses_;
  std::deque<State> waiting_;
};

void ExpectSound(bool latched, v1::AlertKind kind, bool second_person,
                 const std::set<int>& statuses) {
  ModelCheck check(latched, kind, second_person);
  check.Run();
  EXPECT_EQ(check.statuses(), statuses);
  testing::Test::RecordProperty("states", static_cast<int>(check.states()));
}

TEST(ModelCheckTest, NotLatched) {
  ExpectSound(false, v1::ALERT_KIND_OUTREACH, true, {1, 2, 3, 4, 5, 6, 7});
}

TEST(ModelCheckTest, Latched) {
  ExpectSound(true, v1::ALERT_KIND_REFERRAL, true, {1, 2, 3, 4, 5});
}

TEST(ModelCheckTest, LatchedWithASecondPerson) {
  ExpectSound(true, v1::ALERT_KIND_SAFETY, true, {1, 2, 3, 4, 5});
}

TEST(ModelCheckTest, LatchedWhereTheSiteAsksForNoSecondPerson) {
  ExpectSound(true, v1::ALERT_KIND_SAFETY, false, {1, 2, 3, 4, 5});
}

}  // namespace
}  // namespace turnstone
