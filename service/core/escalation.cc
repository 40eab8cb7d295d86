#include "service/core/escalation.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <iterator>
#include <utility>

#include "rules/duty/ladder.h"
#include "rules/measure/proto_time.h"
#include "service/core/alert_record.h"
#include "service/core/owed.h"
#include "service/core/tell.h"

namespace turnstone {
namespace {

const v1::Climb& ClimbOf(const v1::Ladder& ladder, const v1::Alert& alert) {
  return alert.escalation().climbing() == v1::UNTIL_CLOSED
             ? ladder.until_closed()
             : ladder.until_received();
}

const v1::Ladder& LadderOf(const Site& site, const v1::Alert& alert) {
  return site.team.LadderFor(alert.kind(), alert.priority());
}

void SetDeadline(const Site& site, v1::Alert& alert) {
  v1::Escalation& escalation = *alert.mutable_escalation();
  if (escalation.climbing() == v1::UNTIL_HOLD_ENDS) {
    *escalation.mutable_next_at() = alert.hold().until();
    escalation.set_next("the hold ends");
    return;
  }
  const v1::Ladder& ladder = LadderOf(site, alert);
  const v1::Climb& climb = ClimbOf(ladder, alert);
  escalation.set_ladder(ladder.id());
  *escalation.mutable_next_at() =
      ToProto(RungDue(climb, escalation.rungs_reached(),
                      FromProto(escalation.counted_from()), site.calendar));
  escalation.set_next(absl::StrCat(
      WhomInWords(RungAfter(climb, escalation.rungs_reached()), alert),
      " will be told"));
}

std::string WaitingFor(const v1::Alert& alert) {
  if (alert.has_proposed_closing()) {
    return absl::StrCat("a second person is still to confirm what ",
                        alert.proposed_closing().by().name(), " has closed");
  }
  if (alert.escalation().climbing() == v1::UNTIL_CLOSED) {
    return absl::StrCat("not closed yet; ", alert.holder().name(), " has it");
  }
  return alert.escalation().rungs_reached() == 0 ? "somebody must receive it"
                                                 : "nobody has received it";
}

// The entry before is the same rung again.
bool IsRepeat(const v1::AlertChange& before, const std::string& text,
              const std::vector<std::string>& people) {
  return before.text() == text &&
         std::equal(before.told().begin(), before.told().end(), people.begin(),
                    people.end());
}

// Of the last rung, which repeats for ever, one entry tells how often: a story
// of thousands of lines tells nobody anything.
void RecordTelling(const std::string& text,
                   const std::vector<std::string>& people, absl::Duration late,
                   absl::Time now, v1::Alert& alert) {
  v1::AlertChange* entry = alert.mutable_history(alert.history_size() - 1);
  if (IsRepeat(*entry, text, people)) {
    *entry->mutable_at() = ToProto(now);
    entry->set_times(std::max(entry->times(), 1) + 1);
  } else {
    entry = &Record(ServiceActor(), text, now, alert);
    entry->mutable_told()->Assign(people.begin(), people.end());
  }
  entry->set_late_seconds(
      std::max(entry->late_seconds(), absl::ToInt64Seconds(late)));
}

std::vector<v1::OwedMessage> OwedTo(const std::vector<std::string>& people,
                                    const std::string& why, absl::Time now,
                                    bool in_digest, const Site& site,
                                    const v1::Alert& alert) {
  std::vector<v1::OwedMessage> all;
  const std::string key =
      absl::StrCat(alert.alert_id(), "/", alert.escalation().tellings());
  for (const std::string& person : people) {
    std::vector<v1::OwedMessage> some = MessagesTo(site, person, key, now);
    for (v1::OwedMessage& message : some) {
      message.set_alert_id(alert.alert_id());
      message.set_telling(alert.escalation().tellings());
      message.set_priority(alert.priority());
      message.set_reason(why);
      *message.mutable_deadline() = alert.escalation().next_at();
      if (in_digest) {
        message.set_in_digest(true);
        *message.mutable_next_attempt_at() =
            ToProto(NextDaily(site, *site.team.FindPerson(person), now));
      }
    }
    std::move(some.begin(), some.end(), std::back_inserter(all));
  }
  return all;
}

// Passes over the repeats that were missed; how many.
int SkipMissed(absl::Time now, const Site& site, v1::Alert& alert) {
  v1::Escalation& escalation = *alert.mutable_escalation();
  int missed = 0;
  while (FromProto(escalation.next_at()) <= now) {
    *escalation.mutable_counted_from() = escalation.next_at();
    SetDeadline(site, alert);
    ++missed;
  }
  return missed;
}

Telling ReachRung(absl::Time due, absl::Time now, const std::string& remark,
                  const Around& around, v1::Alert& alert) {
  const v1::Ladder& ladder = LadderOf(around.site, alert);
  const v1::Climb& climb = ClimbOf(ladder, alert);
  v1::Escalation& escalation = *alert.mutable_escalation();
  const v1::Rung& rung = RungAfter(climb, escalation.rungs_reached());
  const std::string why = WaitingFor(alert);
  const Told told = PeopleFor(rung, now, around, alert);
  const int number =
      std::min(escalation.rungs_reached() + 1, climb.rung_size());
  const bool last = number == climb.rung_size();
  std::string text = absl::StrCat("rung ", number, last ? ", the last," : "",
                                  " of ", ladder.id(), ": ", why);
  for (const std::string& more : {told.remark, remark}) {
    if (!more.empty()) absl::StrAppend(&text, "; ", more);
  }
  // No further than there are rungs: one that is added later comes next.
  escalation.set_rungs_reached(number);
  escalation.set_tellings(escalation.tellings() + 1);
  escalation.set_rung_telling(escalation.tellings());
  *escalation.mutable_counted_from() = ToProto(due);
  escalation.mutable_told()->Assign(told.people.begin(), told.people.end());
  SetDeadline(around.site, alert);
  if (last) {
    const int missed = SkipMissed(now, around.site, alert);
    if (missed > 0) {
      absl::StrAppend(&text, "; ", missed,
                      " repeats were due while the service was down");
    }
  }
  std::vector<v1::OwedMessage> messages =
      OwedTo(told.people, why, now, ladder.in_digest(), around.site, alert);
  if (messages.empty() && !around.site.config.channel().empty()) {
    text += "; no message can reach any of them";
  }
  RecordTelling(text, told.people, now - due, now, alert);
  return {alert.alert_id(),
          absl::StrCat(text, "; told ", absl::StrJoin(told.people, ", ")),
          std::move(messages)};
}

// A rung that no message can reach is as one whose messages were all refused,
// save where everybody follows the alerts live.
void AddWhereUnreachable(absl::Time now, const Around& around, v1::Alert& alert,
                         std::vector<Telling>& tellings) {
  if (around.site.config.channel().empty()) return;
  while (tellings.back().messages.empty()) {
    std::vector<Telling> more = ClimbAtOnce(
        "at once, for no message can reach those of the rung before", now,
        around, alert);
    if (more.empty()) return;
    tellings.push_back(std::move(more.front()));
  }
}

void EndHold(absl::Time now, const Site& site, v1::Alert& alert) {
  const absl::Time until = FromProto(alert.hold().until());
  const std::string text = absl::StrCat(
      "the hold has ended; it was on hold for: ", alert.hold().reason());
  alert.set_status(v1::ALERT_STATUS_REQUESTED);
  alert.clear_hold();
  alert.clear_holder();
  Record(ServiceActor(), text, now, alert)
      .set_late_seconds(absl::ToInt64Seconds(now - until));
  BeginClimb(v1::UNTIL_RECEIVED, until, site, alert);
}

}  // namespace

void BeginClimb(v1::Climbing climbing, absl::Time begin, const Site& site,
                v1::Alert& alert) {
  v1::Escalation& escalation = *alert.mutable_escalation();
  escalation.set_climbing(climbing);
  escalation.set_rungs_reached(0);
  *escalation.mutable_counted_from() = ToProto(begin);
  escalation.clear_told();
  SetDeadline(site, alert);
}

std::vector<Telling> ClimbTo(absl::Time now, const Around& around,
                             v1::Alert& alert) {
  std::vector<Telling> tellings;
  // The site's ladder may be another than the last time.
  SetDeadline(around.site, alert);
  while (FromProto(alert.escalation().next_at()) <= now) {
    if (alert.escalation().climbing() == v1::UNTIL_HOLD_ENDS) {
      EndHold(now, around.site, alert);
    } else {
      tellings.push_back(ReachRung(FromProto(alert.escalation().next_at()), now,
                                   "", around, alert));
      AddWhereUnreachable(now, around, alert, tellings);
    }
  }
  return tellings;
}

std::vector<Telling> ClimbAtOnce(const std::string& why, absl::Time now,
                                 const Around& around, v1::Alert& alert) {
  const v1::Escalation& escalation = alert.escalation();
  if (escalation.climbing() == v1::UNTIL_HOLD_ENDS) return {};
  const v1::Climb& climb = ClimbOf(LadderOf(around.site, alert), alert);
  if (escalation.rungs_reached() >= climb.rung_size()) return {};
  return {ReachRung(now, now, why, around, alert)};
}

Telling TellApart(const std::vector<std::string>& people,
                  const std::string& why, absl::Time now, const Around& around,
                  v1::Alert& alert) {
  v1::Escalation& escalation = *alert.mutable_escalation();
  escalation.set_tellings(escalation.tellings() + 1);
  RecordTelling(why, people, absl::ZeroDuration(), now, alert);
  const bool in_digest = LadderOf(around.site, alert).in_digest();
  return {alert.alert_id(),
          absl::StrCat(why, "; told ", absl::StrJoin(people, ", ")),
          OwedTo(people, why, now, in_digest, around.site, alert)};
}

}  // namespace turnstone
