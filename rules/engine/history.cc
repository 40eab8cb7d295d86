#include "rules/engine/history.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <utility>

#include "rules/engine/fact_content.h"
#include "rules/measure/proto_time.h"

namespace turnstone {

bool WasDone(const Screening& form) {
  if (form.score.result) {
    return !form.scale->FindResult(*form.score.result)->not_done();
  }
  return form.score.answered_items > 0 || form.score.reported.has_value();
}

std::optional<Truth> SelfHarmOf(const Screening& form) {
  if (form.score.result) {
    if (!form.scale->FindResult(*form.score.result)->self_harm()) {
      return std::nullopt;
    }
    return v1::TRUTH_TRUE;
  }
  const std::optional<size_t> item = form.scale->SelfHarmItem();
  if (!item) return std::nullopt;
  const std::optional<int> points = form.score.points[*item];
  return points ? TruthOf(*points >= 1) : v1::TRUTH_UNKNOWN;
}

bool IsContact(const Fact& fact) {
  if (const auto* visit = fact.As<VisitResult>()) {
    return visit->outcome == v1::VISIT_OUTCOME_KIND_ATTENDED;
  }
  if (const auto* form = fact.As<Screening>()) return WasDone(*form);
  return fact.As<Practice>() != nullptr || fact.As<EnrolmentFact>() != nullptr;
}

std::string History::Clinician() const {
  for (auto fact = facts_.rbegin(); fact != facts_.rend(); ++fact) {
    if (const auto* visit = fact->As<PlannedVisit>()) {
      if (!visit->clinician.empty()) return visit->clinician;
    }
    if (const auto* enrolment = fact->As<EnrolmentFact>()) {
      if (!enrolment->clinician.empty()) return enrolment->clinician;
    }
  }
  return "";
}

absl::StatusOr<HistoryChange> History::Apply(const v1::Event& event,
                                             const Catalogue& catalogue) {
  if (event.has_correction()) return Correct(event, catalogue);
  absl::StatusOr<FactContent> content = MakeContent(event, catalogue);
  if (!content.ok()) return content.status();
  const absl::Time effective = FromProto(event.effective_time());
  Insert(
      {{event.source(), event.event_id()}, "", effective, *std::move(content)});
  return HistoryChange{effective, std::nullopt};
}

absl::StatusOr<HistoryChange> History::Correct(const v1::Event& event,
                                               const Catalogue& catalogue) {
  const v1::Correction& correction = event.correction();
  const EventKey key{correction.corrected_source(),
                     correction.corrected_event_id()};
  const std::optional<size_t> kind = KindOf(key);
  if (!kind) {
    return absl::InvalidArgumentError(absl::StrCat(
        "correction.correctedEventId: this participant has no event \"",
        key.event_id, "\" from source \"", key.source,
        "\" that can be corrected; send the source and id of an accepted event "
        "that is not itself a correction"));
  }
  std::optional<absl::Time> before;
  std::optional<absl::Time> after;
  std::optional<Fact> replacement;
  if (correction.has_replacement()) {
    absl::StatusOr<FactContent> content =
        MakeContent(correction.replacement(), catalogue);
    if (!content.ok()) return content.status();
    if (content->index() != *kind) {
      return absl::InvalidArgumentError(
          "correction.replacement: it is of another kind than the event it "
          "replaces; withdraw the event and send a new one instead");
    }
    after = FromProto(correction.replacement().effective_time());
    replacement = Fact{key, absl::StrCat(event.source(), " ", event.event_id()),
                       *after, *std::move(content)};
  }
  if (const std::optional<size_t> at = Find(key)) {
    before = facts_[*at].effective;
    facts_.erase(facts_.begin() + static_cast<std::ptrdiff_t>(*at));
  }
  if (replacement) {
    withdrawn_.erase(key);
    Insert(*std::move(replacement));
  } else {
    withdrawn_[key] = *kind;
  }
  const absl::Time from = std::min(before.value_or(absl::InfiniteFuture()),
                                   after.value_or(absl::InfiniteFuture()));
  return HistoryChange{from, key};
}

void History::Insert(Fact fact) {
  fact.arrival = ++arrivals_;
  auto place = facts_.begin() +
               static_cast<std::ptrdiff_t>(FirstAtOrAfter(fact.effective));
  while (place != facts_.end() && place->effective == fact.effective &&
         place->key < fact.key) {
    ++place;
  }
  facts_.insert(place, std::move(fact));
}

size_t History::FirstAtOrAfter(absl::Time time) const {
  // As it is most often: nothing is as late.
  if (facts_.empty() || facts_.back().effective < time) return facts_.size();
  const auto place = std::lower_bound(
      facts_.begin(), facts_.end(), time,
      [](const Fact& fact, absl::Time t) { return fact.effective < t; });
  return static_cast<size_t>(place - facts_.begin());
}

std::optional<size_t> History::KindOf(const EventKey& key) const {
  if (const std::optional<size_t> at = Find(key)) {
    return facts_[*at].content.index();
  }
  const auto withdrawn = withdrawn_.find(key);
  if (withdrawn == withdrawn_.end()) return std::nullopt;
  return withdrawn->second;
}

// From the latest back: what is looked for is seldom old, and nobody has so
// many facts that keeping every key twice would pay.
std::optional<size_t> History::Find(const EventKey& key) const {
  for (size_t i = facts_.size(); i-- > 0;) {
    if (facts_[i].key == key) return i;
  }
  return std::nullopt;
}

std::optional<size_t> History::FindArrival(int64_t arrival,
                                           absl::Time effective) const {
  for (size_t i = FirstAtOrAfter(effective);
       i < facts_.size() && facts_[i].effective == effective; ++i) {
    if (facts_[i].arrival == arrival) return i;
  }
  return std::nullopt;
}

}  // namespace turnstone
