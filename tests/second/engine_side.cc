#include "tests/second/engine_side.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>

namespace turnstone::second {
namespace {

HistoryChange Apply(const Setup& setup, const v1::Event& event,
                    History& history) {
  absl::StatusOr<HistoryChange> change =
      history.Apply(event, setup.catalogue());
  if (change.ok()) return *std::move(change);
  std::fprintf(stderr, "not a history: %s\n%s\n",
               change.status().ToString().c_str(), event.DebugString().c_str());
  std::abort();
}

}  // namespace

std::vector<Verdict> AskedAtOnce(const Setup& setup, const Site& site,
                                 const std::vector<Recorded>& history,
                                 absl::Time now) {
  History known;
  for (const Recorded& recorded : history) {
    (void)Apply(setup, recorded.event, known);
  }
  Agenda agenda;
  agenda.Refresh(known, absl::InfinitePast(), std::nullopt, site);
  const Asking asking{absl::InfinitePast(), absl::InfinitePast(), now};
  std::vector<Verdict> raised;
  for (const Judgement& one : Judge(site, known, agenda, asking)) {
    if (!one.raise) continue;
    const EventKey& key = known.facts()[one.at].key;
    raised.push_back({site.rules.rule(one.rule).id(), key.source, key.event_id,
                      one.due, one.truth, one.priority});
  }
  std::sort(raised.begin(), raised.end());
  return raised;
}

void StepByStep::TakeIn(const Recorded& recorded) {
  const HistoryChange change = Apply(*setup_, recorded.event, history_);
  agenda_.Refresh(history_, change.from, change.corrected, *site_);
  Settle({change.from, asked_until_, recorded.at});
}

void StepByStep::PassTime(absl::Time now) {
  for (absl::Time next = agenda_.NextAfter(asked_until_); next <= now;
       next = agenda_.NextAfter(asked_until_)) {
    Settle({absl::InfiniteFuture(), asked_until_, next});
  }
}

void StepByStep::Settle(const Asking& asking) {
  for (const Answer& answer : Decide(*site_, history_, agenda_, asking)) {
    const Question question{answer.rule->id(), answer.fact, answer.due};
    raised_.erase(question);
    if (answer.raise) raised_.emplace(question, answer);
  }
  asked_until_ = std::max(asked_until_, asking.now);
  // What rested on an event that was withdrawn, or says something else now.
  for (auto at = raised_.begin(); at != raised_.end();) {
    const std::optional<size_t> fact = history_.Find(at->second.fact);
    const bool stands =
        fact && history_.facts()[*fact].corrected_by == at->second.corrected_by;
    at = stands ? std::next(at) : raised_.erase(at);
  }
}

std::vector<Verdict> StepByStep::Raised() const {
  std::vector<Verdict> raised;
  for (const auto& [question, answer] : raised_) {
    raised.push_back({answer.rule->id(), answer.fact.source,
                      answer.fact.event_id, answer.due, answer.truth,
                      answer.priority});
  }
  std::sort(raised.begin(), raised.end());
  return raised;
}

}  // namespace turnstone::second
