#include "service/core/commit_round.h"

namespace turnstone {
namespace {

constexpr absl::Duration kBehindTold = absl::Minutes(1);
constexpr absl::Duration kJumpTold = absl::Hours(1);

}  // namespace

CommitRound::Spent CommitRound::Do(const Batch& batch) {
  const absl::Duration first = core_.Elapsed();
  // First, for what is asked about is durable already: whoever follows the
  // alerts need not wait for the next commit.
  for (const Read& read : batch.reads) read(core_);
  const absl::Duration begin = core_.Elapsed();
  std::vector<Answer> answers;
  answers.reserve(batch.changes.size());
  for (const Change& change : batch.changes) answers.push_back(change(core_));
  const Spent spent{core_.Elapsed() - begin, begin - first};
  if (!answers.empty()) {
    const absl::Status committed = core_.Commit();
    AfterCommit();
    for (const Answer& answer : answers) answer(committed);
    if (on_commit_) on_commit_(answers.size(), core_.Elapsed() - begin);
  }
  // Nobody waits: the sync that it takes is nobody's.
  if (batch.changes.empty() && batch.reads.empty()) core_.RecordLooks();
  AfterCommit();
  return spent;
}

bool CommitRound::AskWhatIsDue() {
  core_.LookAtMachine();
  TellOfClock();
  // A broken store is noticed in AfterCommit.
  const absl::StatusOr<Core::DueReport> report = core_.AskAllDue();
  AfterCommit();
  if (on_round_) on_round_(core_);
  if (report.ok() && report->participants > 0 && on_due_) on_due_(*report);
  return report.ok();
}

void CommitRound::TellOfClock() {
  const Core::ClockNews news = core_.TakeClockNews();
  const bool behind = news.behind > kBehindTold;
  const bool is_news = (behind && !told_behind_) || news.jump > kJumpTold;
  told_behind_ = behind;
  if (is_news && on_clock_) on_clock_(news);
}

void CommitRound::AfterCommit() {
  if (core_.broken()) {
    if (!told_broken_ && on_broken_) on_broken_();
    told_broken_ = true;
    return;
  }
  if (core_.room() != told_room_) {
    told_room_ = core_.room();
    if (on_room_) on_room_(told_room_);
  }
  if (core_.position() == announced_position_) return;
  announced_position_ = core_.position();
  hub_.Announce();
}

}  // namespace turnstone
