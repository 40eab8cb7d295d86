#include "service/core/lifecycle.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/measure/proto_time.h"
#include "service/core/escalation.h"

namespace turnstone {
namespace {

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

}  // namespace

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
  alert.set_site_version(site.config.version());
  Record(ServiceActor(), "raised", now, alert);
  BeginClimb(v1::UNTIL_RECEIVED, now, site, alert);
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

bool AddOccurrence(const Answer& answer, const Site& site, absl::Time now,
                   v1::Alert& alert) {
  const bool rises = answer.priority > alert.priority();
  if (rises) alert.set_priority(answer.priority);
  *alert.add_occurrence() = MakeOccurrence(answer, now);
  // The rule may have been made latched since; never the other way.
  if (answer.rule->latched()) alert.set_latched(true);
  // Whatever had fallen away, there is a reason again.
  alert.clear_withdrawal();
  std::string text = "one more reason";
  if (alert.has_proposed_closing()) {
    alert.clear_proposed_closing();
    text += "; the closing that waited for a second person no longer stands";
  }
  if (!rises) {
    Record(ServiceActor(), text, now, alert);
    return alert.has_holder();
  }
  text += "; priority raised";
  if (alert.status() != v1::ALERT_STATUS_REQUESTED) {
    text += ", so somebody must receive it anew";
    alert.set_status(v1::ALERT_STATUS_REQUESTED);
    alert.clear_holder();
    alert.clear_hold();
  }
  Record(ServiceActor(), text, now, alert);
  BeginClimb(v1::UNTIL_RECEIVED, now, site, alert);
  return false;
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
    End(v1::ALERT_STATUS_ENTERED_IN_ERROR, alert);
    Record(ServiceActor(), absl::StrCat(reason, "; nobody need act on it"), now,
           alert);
    return;
  }
  Record(ServiceActor(), absl::StrCat(reason, "; a person must still close it"),
         now, alert);
}

}  // namespace turnstone
