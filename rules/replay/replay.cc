#include "rules/replay/replay.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <utility>

namespace turnstone {

// A reason one side raised, in the record in which it did.
struct Raised {
  const Lane* lane;
  const History* history;
  Judgement judgement;
  absl::Time asked;

  [[nodiscard]] const v1::Rule& rule() const {
    return lane->site.rules.rule(judgement.rule);
  }
  [[nodiscard]] const Fact& fact() const {
    return history->facts()[judgement.at];
  }
};

namespace {

bool IsSame(const Raised& a, const Raised& b) {
  return a.rule().id() == b.rule().id() && a.rule().kind() == b.rule().kind() &&
         a.fact().key == b.fact().key &&
         a.fact().corrected_by == b.fact().corrected_by &&
         a.judgement.due == b.judgement.due &&
         a.judgement.truth == b.judgement.truth &&
         a.judgement.priority == b.judgement.priority;
}

Verdict ToVerdict(const std::string& participant, const Raised& raised) {
  Answer answer = InWords(raised.judgement, raised.lane->site, *raised.history);
  return {participant,         answer.rule->id(), answer.fact,
          answer.corrected_by, answer.effective,  answer.due,
          raised.asked,        answer.truth,      answer.rule->kind(),
          answer.priority,     answer.why};
}

absl::CivilDay MondayOf(absl::Time time, absl::TimeZone zone) {
  const absl::CivilDay day(absl::ToCivilSecond(time, zone));
  return absl::PrevWeekday(day + 1, absl::Weekday::monday);
}

void NoteUnread(const absl::Status& status, Unread& unread) {
  if (unread.events++ == 0) unread.first = std::string(status.message());
}

}  // namespace

struct Replay::Step {
  std::vector<Raised> before;
  std::vector<Raised> after;
};

Replay::Replay(const Setup& before, const Setup& after, const std::string& site,
               const ReplayWindow& window)
    : lanes_(MakeLanes(before, after, site)), window_(window) {}

absl::Status Replay::Take(const v1::Event& event, absl::Time recorded) {
  if (recorded >= window_.to) return absl::OkStatus();
  latest_ = std::max(latest_, recorded);
  const auto [entry, fresh] = people_.try_emplace(event.participant());
  Tracks& tracks = entry->second;
  if (fresh) tracks.resize(lanes_.size());
  PassTime(entry->first, tracks, recorded);
  ++difference_.events;
  Step step;
  absl::Status read[2];
  for (size_t i = 0; i < lanes_.size(); ++i) {
    const auto raised = tracks[i].Take(lanes_[i], event, recorded);
    read[i] = raised.status();
    if (raised.ok()) Count(*raised, i, tracks[i], recorded, step);
  }
  Tell(entry->first, step);
  const absl::Status& after = read[0];
  const absl::Status& before = read[lanes_.size() - 1];
  if (!after.ok()) NoteUnread(after, difference_.unread_after);
  if (!before.ok()) NoteUnread(before, difference_.unread_before);
  return before.ok() ? before : after;
}

void Replay::PassTime(const std::string& participant, Tracks& tracks,
                      absl::Time now) {
  Step step;
  for (size_t i = 0; i < lanes_.size(); ++i) {
    Count(tracks[i].PassTime(lanes_[i], now), i, tracks[i],
          absl::InfinitePast(), step);
  }
  Tell(participant, step);
}

void Replay::Count(const std::vector<Judgement>& raised, size_t lane,
                   const Track& track, absl::Time came_in, Step& step) {
  const Lane& here = lanes_[lane];
  for (const Judgement& judgement : raised) {
    const absl::Time asked =
        came_in == absl::InfinitePast() ? judgement.due : came_in;
    if (asked < window_.from) continue;
    const Sides sides = here.sides[static_cast<size_t>(judgement.rule)];
    const v1::Rule& rule = here.site.rules.rule(judgement.rule);
    Counts& week = difference_.weeks[MondayOf(
        asked, lanes_.front().site.calendar.zone())][rule.kind()];
    Counts& all = difference_.rules[rule.id()];
    week.before += static_cast<int>(sides.before);
    all.before += static_cast<int>(sides.before);
    week.after += static_cast<int>(sides.after);
    all.after += static_cast<int>(sides.after);
    if (sides.before && sides.after) continue;
    (sides.before ? step.before : step.after)
        .push_back({&here, &track.history(), judgement, asked});
  }
}

void Replay::Tell(const std::string& participant, const Step& step) {
  if (step.before.empty() && step.after.empty()) return;
  std::vector<Raised> after = step.after;
  for (const Raised& old : step.before) {
    const auto same =
        std::find_if(after.begin(), after.end(),
                     [&](const Raised& other) { return IsSame(old, other); });
    if (same == after.end()) {
      difference_.lost.push_back(ToVerdict(participant, old));
    } else {
      after.erase(same);
    }
  }
  for (const Raised& raised : after) {
    difference_.added.push_back(ToVerdict(participant, raised));
  }
}

Difference Replay::Finish() {
  const absl::Time end = window_.to == absl::InfiniteFuture()
                             ? latest_
                             : window_.to - absl::Nanoseconds(1);
  for (auto& [participant, tracks] : people_)
    PassTime(participant, tracks, end);
  difference_.participants = static_cast<int>(people_.size());
  PairUp(difference_);
  return std::move(difference_);
}

}  // namespace turnstone
