#include "service/core/lifecycle.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <vector>

#include "rules/measure/proto_time.h"

namespace turnstone {
namespace {

constexpr size_t kNoteCharactersMax = 1000;

void Record(const v1::Actor& by, const std::string& text, absl::Time now,
            v1::Alert& alert) {
  v1::AlertChange& change = *alert.add_history();
  *change.mutable_at() = ToProto(now);
  *change.mutable_by() = by;
  change.set_status(alert.status());
  change.set_priority(alert.priority());
  change.set_text(text);
}

v1::Occurrence MakeOccurrence(const Answer& answer, absl::Time now) {
  v1::Occurrence occurrence;
  occurrence.set_event_source(answer.fact.source);
  occurrence.set_event_id(answer.fact.event_id);
  occurrence.set_corrected_by(answer.corrected_by);
  *occurrence.mutable_effective_time() = ToProto(answer.effective);
  *occurrence.mutable_due() = ToProto(answer.due);
  *occurrence.mutable_raised_at() = ToProto(now);
  occurrence.set_priority(answer.priority);
  occurrence.set_truth(answer.truth);
  occurrence.set_why(answer.why);
  *occurrence.mutable_trace() = answer.trace;
  // A rule asked at once is as late as the report; only a wait can overrun.
  if (answer.due > answer.effective) {
    occurrence.set_late_seconds(absl::ToInt64Seconds(now - answer.due));
  }
  return occurrence;
}

void FillRule(const v1::Rule& rule, const Site& site, const std::string& digest,
              v1::RuleReference& reference) {
  reference.set_rule_set(site.rules.id());
  reference.set_rule_set_version(site.rules.version());
  reference.set_rule(rule.id());
  reference.set_rule_version(rule.version());
  reference.set_title(rule.title());
  reference.set_owner(rule.owner());
  reference.set_rationale(rule.rationale());
  reference.set_source(rule.source());
  reference.set_configuration(digest);
}

void FillProtocol(const v1::Rule& rule, const Site& site, v1::Alert& alert) {
  const v1::Protocol* protocol = site.FindProtocol(rule.protocol());
  if (protocol == nullptr) return;  // ruled out at load
  v1::ProtocolReminder& reminder = *alert.mutable_protocol();
  reminder.set_id(protocol->id());
  reminder.set_title(protocol->title());
  reminder.set_text(protocol->text());
  reminder.set_version(protocol->version());
  reminder.set_review_by(protocol->review_by());
}

absl::Status RequireHuman(const v1::Actor& by) {
  if (by.role() != "intake-system") return absl::OkStatus();
  return absl::PermissionDeniedError(
      "an intake system cannot work alerts; call in the role of the person "
      "who has it, e.g. clinician");
}

absl::Status RequireOpen(const v1::Alert& alert) {
  if (IsOpen(alert)) return absl::OkStatus();
  std::string message = absl::StrCat(alert.alert_id(), " is not open any more");
  if (alert.has_closing()) {
    absl::StrAppend(&message, ": ", alert.closing().by().name(),
                    " closed it with the outcome \"", alert.closing().outcome(),
                    "\"");
  } else if (alert.has_withdrawal()) {
    absl::StrAppend(&message, ": its source was withdrawn");
  }
  return absl::FailedPreconditionError(message);
}

absl::Status CheckNote(const std::string& note) {
  if (note.size() <= kNoteCharactersMax) return absl::OkStatus();
  return absl::InvalidArgumentError(
      absl::StrCat("note: longer than ", kNoteCharactersMax,
                   " characters; keep it short and leave the rest to the "
                   "participant's record"));
}

std::string OutcomesOf(const Site& site) {
  std::vector<std::string> outcomes;
  for (const v1::ClosingOutcome& outcome : site.config.closing_outcome()) {
    outcomes.push_back(
        absl::StrCat("  ", outcome.id(), "  (", outcome.title(), ")"));
  }
  return absl::StrJoin(outcomes, "\n");
}

}  // namespace

bool IsOpen(const v1::Alert& alert) {
  return alert.status() == v1::ALERT_STATUS_REQUESTED ||
         alert.status() == v1::ALERT_STATUS_RECEIVED ||
         alert.status() == v1::ALERT_STATUS_IN_PROGRESS ||
         alert.status() == v1::ALERT_STATUS_ON_HOLD;
}

v1::Actor ServiceActor() {
  v1::Actor actor;
  actor.set_name("turnstoned");
  actor.set_role("service");
  actor.set_identity("service");
  return actor;
}

std::string CautionFor(const Site& site) {
  return absl::StrCat(
      "A prompt for clinical judgement, not a diagnosis and not an emergency "
      "service. Follow your site's protocol and the law where you are. In "
      "immediate danger: ",
      site.config.immediate_danger());
}

v1::Alert RaiseAlert(const std::string& alert_id,
                     const std::string& participant, const Answer& answer,
                     const Site& site, const std::string& configuration_digest,
                     absl::Time now) {
  const v1::Rule& rule = *answer.rule;
  v1::Alert alert;
  alert.set_alert_id(alert_id);
  alert.set_site(site.config.id());
  alert.set_participant(participant);
  alert.set_time_zone(site.config.time_zone());
  alert.set_kind(rule.kind());
  alert.set_priority(answer.priority);
  alert.set_status(v1::ALERT_STATUS_REQUESTED);
  alert.set_latched(rule.latched());
  FillRule(rule, site, configuration_digest, *alert.mutable_rule());
  FillProtocol(rule, site, alert);
  alert.set_caution(CautionFor(site));
  *alert.mutable_raised_at() = ToProto(now);
  *alert.add_occurrence() = MakeOccurrence(answer, now);
  Record(ServiceActor(), "raised", now, alert);
  return alert;
}

bool Holds(const v1::Alert& alert, const Answer& answer) {
  return std::any_of(
      alert.occurrence().begin(), alert.occurrence().end(),
      [&](const v1::Occurrence& occurrence) {
        return occurrence.event_source() == answer.fact.source &&
               occurrence.event_id() == answer.fact.event_id &&
               occurrence.corrected_by() == answer.corrected_by &&
               // An answer to another asking is another
               // reason: one may fall away while the other stays.
               occurrence.due().seconds() == ToProto(answer.due).seconds() &&
               occurrence.truth() >= answer.truth &&
               !occurrence.has_no_longer_since();
      });
}

void AddOccurrence(const Answer& answer, absl::Time now, v1::Alert& alert) {
  const bool rises = answer.priority > alert.priority();
  if (rises) alert.set_priority(answer.priority);
  *alert.add_occurrence() = MakeOccurrence(answer, now);
  // Whatever had fallen away, there is a reason again.
  alert.clear_withdrawal();
  Record(ServiceActor(),
         rises ? "one more reason; priority raised" : "one more reason", now,
         alert);
}

void WithdrawOccurrence(int index, const Cause& cause, absl::Time now,
                        v1::Alert& alert) {
  *alert.mutable_occurrence(index)->mutable_no_longer_since() = ToProto(now);
  const auto stands = [](const v1::Occurrence& occurrence) {
    return !occurrence.has_no_longer_since();
  };
  if (std::any_of(alert.occurrence().begin(), alert.occurrence().end(),
                  stands)) {
    Record(ServiceActor(), "one of the reasons no longer applies", now, alert);
    return;
  }
  const std::string reason = cause.correction
                                 ? "the source was withdrawn or corrected"
                                 : "facts that arrived late say otherwise";
  v1::Withdrawal& withdrawal = *alert.mutable_withdrawal();
  *withdrawal.mutable_at() = ToProto(now);
  withdrawal.set_event_source(cause.event.source);
  withdrawal.set_event_id(cause.event.event_id);
  withdrawal.set_reason(reason);
  if (cause.correction && !alert.latched()) {
    alert.set_status(v1::ALERT_STATUS_ENTERED_IN_ERROR);
    Record(ServiceActor(), absl::StrCat(reason, "; nobody need act on it"), now,
           alert);
    return;
  }
  Record(ServiceActor(), absl::StrCat(reason, "; a person must still close it"),
         now, alert);
}

absl::Status Receive(const v1::Actor& by, const std::string& note,
                     absl::Time now, v1::Alert& alert) {
  if (absl::Status status = RequireHuman(by); !status.ok()) return status;
  if (absl::Status status = RequireOpen(alert); !status.ok()) return status;
  if (absl::Status status = CheckNote(note); !status.ok()) return status;
  if (alert.status() != v1::ALERT_STATUS_REQUESTED) {
    const auto received =
        std::find_if(alert.history().begin(), alert.history().end(),
                     [](const v1::AlertChange& change) {
                       return change.status() == v1::ALERT_STATUS_RECEIVED;
                     });
    if (received->by().name() == by.name()) return absl::OkStatus();
    return absl::FailedPreconditionError(absl::StrCat(
        alert.alert_id(), " is already with ", received->by().name(), " (",
        received->by().role(), "); talk to them, or close it together"));
  }
  alert.set_status(v1::ALERT_STATUS_RECEIVED);
  Record(by, note.empty() ? "received" : absl::StrCat("received: ", note), now,
         alert);
  return absl::OkStatus();
}

absl::Status Close(const v1::Actor& by, const std::string& outcome,
                   const std::string& note, const Site& site, absl::Time now,
                   v1::Alert& alert) {
  if (absl::Status status = RequireHuman(by); !status.ok()) return status;
  if (absl::Status status = RequireOpen(alert); !status.ok()) return status;
  const auto& outcomes = site.config.closing_outcome();
  const bool known = std::any_of(
      outcomes.begin(), outcomes.end(),
      [&](const v1::ClosingOutcome& one) { return one.id() == outcome; });
  if (!known) {
    return absl::InvalidArgumentError(absl::StrCat(
        outcome.empty()
            ? absl::StrCat(alert.alert_id(), " closes only with an outcome")
            : absl::StrCat("outcome: \"", outcome, "\" is not one of ",
                           site.config.id(), "'s"),
        "; give one of\n", OutcomesOf(site)));
  }
  if (note.empty()) {
    return absl::InvalidArgumentError(
        "note: missing; say in a few words what was done");
  }
  if (absl::Status status = CheckNote(note); !status.ok()) return status;
  alert.set_status(v1::ALERT_STATUS_COMPLETED);
  v1::Closing& closing = *alert.mutable_closing();
  closing.set_outcome(outcome);
  closing.set_note(note);
  *closing.mutable_by() = by;
  *closing.mutable_at() = ToProto(now);
  Record(by, absl::StrCat("closed: ", outcome), now, alert);
  return absl::OkStatus();
}

}  // namespace turnstone
