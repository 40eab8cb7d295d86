#include "tests/faults/reason_watch.h"

#include <algorithm>

#include "tests/faults/rules_model.h"

namespace turnstone::faults {

void ReasonWatch::Take(const v1::Event& event) {
  for (const Standing& standing : StandingOf(event)) {
    for (const std::string& rule : MustRaise(standing.fact)) {
      const Reason reason{event.site(),
                          event.participant(),
                          rule,
                          standing.fact.source(),
                          standing.fact.event_id(),
                          standing.corrected_by};
      if (!wanted_.insert(reason).second) continue;
      strange_.erase(reason);
      if (!found_.contains(reason)) missing_.insert(reason);
    }
  }
}

void ReasonWatch::Take(const v1::Alert& alert) {
  const auto& known = KnownRules();
  if (shadows_.contains(alert.rule().configuration())) {
    findings_.Add("BrokeShadow", alert.alert_id(),
                  " was raised by a version in shadow");
  }
  if (std::find(known.begin(), known.end(), alert.rule().rule()) ==
      known.end()) {
    return;
  }
  for (const v1::Occurrence& one : alert.occurrence()) {
    if (shadows_.contains(one.configuration())) {
      findings_.Add("BrokeShadow", alert.alert_id(),
                    " has a reason of a version in shadow");
    }
    const Reason reason{alert.site(),        alert.participant(),
                        alert.rule().rule(), one.event_source(),
                        one.event_id(),      one.corrected_by()};
    if (!found_.insert(reason).second) continue;
    missing_.erase(reason);
    if (!wanted_.contains(reason)) strange_.insert(reason);
  }
}

void ReasonWatch::Check() {
  for (const auto& [site, participant, rule, source, id, correction] :
       missing_) {
    findings_.Add("BrokeRaises", "no alert of ", rule, " for ", source, " ", id,
                  " (", correction, ") of ", site, "/", participant);
  }
  for (const auto& [site, participant, rule, source, id, correction] :
       strange_) {
    findings_.Add(shadows_.empty() ? "BrokeRaises" : "BrokeShadow",
                  "an alert of ", rule, " for ", id, " (", correction, ") of ",
                  site, "/", participant, ", which gives no reason for it");
  }
}

}  // namespace turnstone::faults
