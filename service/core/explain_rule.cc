#include <absl/strings/str_cat.h>

#include <algorithm>
#include <utility>

#include "rules/engine/rule_words.h"
#include "rules/engine/wording.h"
#include "rules/examples/ask_rule.h"
#include "rules/explain/as_corrected.h"
#include "rules/explain/smallest_change.h"
#include "rules/measure/proto_time.h"
#include "service/core/explain.h"
#include "service/core/lifecycle.h"

namespace turnstone {
namespace {

std::optional<size_t> LastAskedAbout(int rule, const Knowledge& now) {
  for (size_t at = now.history.facts().size(); at-- > 0;) {
    if (IsAskedAbout(now.site, rule, now.history.facts()[at])) return at;
  }
  return std::nullopt;
}

std::string Asks(int rule, const Knowledge& now) {
  const RuleWords words = DescribeRule(
      now.site.rules.rule(rule), now.setup.catalogue(), now.site.settings);
  return absl::StrCat("asked ", words.asked, "; raised when ",
                      words.raises_when);
}

// It is asked later: what it would say already.
void FillAsIfAskedNow(int rule, size_t at, const Knowledge& now,
                      v1::RuleOutcome& outcome) {
  *outcome.mutable_trace() = TraceAt(rule, at, now.moment, now);
  const Truth truth = outcome.trace().truth();
  const std::string answer = truth == v1::TRUTH_TRUE    ? "would raise"
                             : truth == v1::TRUTH_FALSE ? "would not raise"
                                                        : "could not tell";
  outcome.set_why(absl::StrCat("If it were asked now it ", answer, ". ",
                               WhyInWords(outcome.trace())));
}

// The latest one.
std::string AlertAbout(const EventKey& event, const std::string& rule,
                       const std::vector<v1::Alert>& alerts) {
  std::string found;
  for (const v1::Alert& alert : alerts) {
    if (alert.rule().rule() != rule) continue;
    const bool about =
        std::any_of(alert.occurrence().begin(), alert.occurrence().end(),
                    [&event](const v1::Occurrence& reason) {
                      return reason.event_source() == event.source &&
                             reason.event_id() == event.event_id;
                    });
    if (about) found = alert.alert_id();
  }
  return found;
}

std::vector<v1::Event> Accepted(const std::vector<StoredEvent>& events) {
  std::vector<v1::Event> accepted;
  accepted.reserve(events.size());
  for (const StoredEvent& stored : events) accepted.push_back(stored.event);
  return accepted;
}

void FillChange(const RuleAsked& asked, const EventKey& event,
                const Knowledge& now, v1::RuleExplanation& explanation) {
  const std::optional<Change> change = SmallestChange(
      asked.rule, event, AsCorrected(Accepted(asked.events)), now);
  if (!change) return;
  explanation.mutable_change()->Assign(change->steps.begin(),
                                       change->steps.end());
  explanation.set_why_then(change->why);
}

void FillOutcome(const RuleAsked& asked, size_t at, const Knowledge& now,
                 v1::RuleExplanation& explanation) {
  const Fact& fact = now.history.facts()[at];
  explanation.set_event(FactInWords(fact));
  *explanation.mutable_event_time() = ToProto(fact.effective);
  v1::RuleOutcome& outcome = *explanation.mutable_outcome();
  outcome = OutcomeOf(asked.rule, at, now);
  explanation.set_alert_id(AlertAbout(fact.key, outcome.rule(), asked.alerts));
  if (outcome.outcome() == v1::OUTCOME_NOT_YET) {
    FillAsIfAskedNow(asked.rule, at, now, outcome);
  } else if (outcome.outcome() == v1::OUTCOME_DID_NOT_RAISE) {
    FillChange(asked, fact.key, now, explanation);
  }
}

}  // namespace

absl::StatusOr<v1::RuleExplanation> ExplainSilence(const RuleAsked& asked) {
  const Site& site = *asked.setup->FindSite(asked.whom.site);
  const absl::StatusOr<History> history =
      HistoryOf(asked.events, asked.setup->catalogue());
  if (!history.ok()) return history.status();
  const Knowledge now{*asked.setup, site, *history, asked.now};
  v1::RuleExplanation explanation;
  explanation.set_site(asked.whom.site);
  explanation.set_participant(asked.whom.participant);
  explanation.set_time_zone(site.config.time_zone());
  explanation.set_caution(CautionFor(site));
  explanation.set_asks(Asks(asked.rule, now));
  const std::optional<size_t> at = LastAskedAbout(asked.rule, now);
  if (at) {
    FillOutcome(asked, *at, now, explanation);
  } else {
    *explanation.mutable_outcome() = NotAsked(asked.rule, now.setup, site);
  }
  return explanation;
}

}  // namespace turnstone
