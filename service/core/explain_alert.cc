#include <absl/strings/str_cat.h>
#include <google/protobuf/util/message_differencer.h>

#include <algorithm>
#include <utility>

#include "rules/engine/wording.h"
#include "rules/measure/proto_time.h"
#include "service/core/explain.h"

namespace turnstone {
namespace {

using google::protobuf::util::MessageDifferencer;

EventKey KeyOf(const v1::Occurrence& reason) {
  return {reason.event_source(), reason.event_id()};
}

absl::Status TakeIn(const StoredEvent& stored, const Catalogue& catalogue,
                    History& history) {
  const auto change = history.Apply(stored.event, catalogue);
  if (change.ok()) return absl::OkStatus();
  return absl::DataLossError(
      absl::StrCat("stored event number ", stored.sequence,
                   " is not understood: ", change.status().message()));
}

// By what is known, the rule says of the event what it said when the reason was
// raised.
bool SaysTheSame(const v1::Occurrence& reason, int rule,
                 const Knowledge& known) {
  const std::optional<size_t> at = known.history.Find(KeyOf(reason));
  if (!at) return false;
  if (known.history.facts()[*at].corrected_by != reason.corrected_by()) {
    return false;
  }
  const v1::RuleOutcome outcome = OutcomeOf(rule, *at, known);
  return Raises(outcome.outcome()) &&
         outcome.due().seconds() == reason.due().seconds() &&
         MessageDifferencer::Equals(outcome.trace(), reason.trace());
}

// What was known when the reason was raised. Of what was accepted at that very
// moment, no more than made the rule speak.
absl::StatusOr<History> KnownThen(const v1::Occurrence& reason, int rule,
                                  const std::vector<StoredEvent>& events,
                                  const Setup& setup, const Site& site) {
  History history;
  const absl::Time raised = FromProto(reason.raised_at());
  for (const StoredEvent& stored : events) {
    if (stored.recorded > raised) break;
    if (stored.recorded == raised &&
        SaysTheSame(reason, rule, {setup, site, history, raised})) {
      break;
    }
    absl::Status status = TakeIn(stored, setup.catalogue(), history);
    if (!status.ok()) return status;
  }
  return history;
}

bool IsSilent(v1::Outcome outcome) {
  return outcome == v1::OUTCOME_DID_NOT_RAISE ||
         outcome == v1::OUTCOME_NOT_ASKED;
}

bool Differ(v1::Outcome a, v1::Outcome b) {
  return a != b && !(IsSilent(a) && IsSilent(b));
}

v1::RuleOutcome OutcomeNow(int rule, const EventKey& event,
                           const Knowledge& now) {
  const std::optional<size_t> at = now.history.Find(event);
  if (at) return OutcomeOf(rule, *at, now);
  v1::RuleOutcome outcome = NotAsked(rule, now.setup, now.site);
  outcome.set_why(
      "A correction withdrew the event, so nothing is asked of it.");
  return outcome;
}

v1::RuleOutcome NoLongerInForce(v1::RuleOutcome outcome) {
  outcome.set_outcome(v1::OUTCOME_NOT_ASKED);
  outcome.clear_due();
  outcome.clear_trace();
  outcome.set_why("The rule is no longer in force at this site.");
  return outcome;
}

void AddWhatIsOtherwiseNow(const EventKey& event, const Knowledge& now,
                           v1::AlertExplanation& explanation) {
  const auto before = [&explanation](const std::string& id) {
    for (const v1::RuleOutcome& outcome : explanation.outcome()) {
      if (outcome.rule() == id) return outcome.outcome();
    }
    return v1::OUTCOME_NOT_ASKED;
  };
  for (int rule = 0; rule < now.site.rules.rule_size(); ++rule) {
    v1::RuleOutcome outcome = OutcomeNow(rule, event, now);
    if (!Differ(before(outcome.rule()), outcome.outcome())) continue;
    *explanation.add_outcome_now() = std::move(outcome);
  }
  for (const v1::RuleOutcome& then : explanation.outcome()) {
    if (IsSilent(then.outcome()) || FindRule(then.rule(), now.site)) continue;
    *explanation.add_outcome_now() = NoLongerInForce(then);
  }
}

absl::Status NotOnRecord(const v1::Alert& alert, const std::string& what) {
  return absl::DataLossError(absl::StrCat(
      alert.alert_id(), " cannot be explained: ", what,
      " is not in the configuration it was raised by; keep a copy of the "
      "store, then restore a backup"));
}

}  // namespace

std::optional<int> FindRule(const std::string& id, const Site& site) {
  for (int i = 0; i < site.rules.rule_size(); ++i) {
    if (site.rules.rule(i).id() == id) return i;
  }
  return std::nullopt;
}

absl::StatusOr<History> HistoryOf(const std::vector<StoredEvent>& events,
                                  const Catalogue& catalogue) {
  History history;
  for (const StoredEvent& stored : events) {
    absl::Status status = TakeIn(stored, catalogue, history);
    if (!status.ok()) return status;
  }
  return history;
}

std::string ConfigurationOf(const v1::Alert& alert, int index) {
  const std::string& own = alert.occurrence(index).configuration();
  return own.empty() ? alert.rule().configuration() : own;
}

absl::StatusOr<v1::AlertExplanation> ExplainReason(
    const v1::Alert& alert, int index, const std::vector<StoredEvent>& events,
    const Setup& then, const Knowledge& now) {
  const v1::Occurrence& reason = alert.occurrence(index);
  const Site* const site = then.FindSite(alert.site());
  if (site == nullptr) return NotOnRecord(alert, "its site");
  const std::optional<int> rule = FindRule(alert.rule().rule(), *site);
  if (!rule) return NotOnRecord(alert, "its rule");
  const absl::StatusOr<History> history =
      KnownThen(reason, *rule, events, then, *site);
  if (!history.ok()) return history.status();
  const std::optional<size_t> at = history->Find(KeyOf(reason));
  if (!at) {
    return absl::DataLossError(
        absl::StrCat(alert.alert_id(), " cannot be explained: its event ",
                     reason.event_id(), " is not on record"));
  }
  const Knowledge known{then, *site, *history, FromProto(reason.raised_at())};
  v1::AlertExplanation explanation;
  *explanation.mutable_alert() = alert;
  explanation.set_occurrence(index);
  explanation.set_event(FactInWords(history->facts()[*at]));
  for (v1::RuleOutcome& outcome : OutcomesOf(*at, known)) {
    *explanation.add_outcome() = std::move(outcome);
  }
  AddWhatIsOtherwiseNow(KeyOf(reason), now, explanation);
  return explanation;
}

}  // namespace turnstone
