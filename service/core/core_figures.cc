// What Core tells of how it is doing.
#include <algorithm>

#include "service/core/core.h"

namespace turnstone {

void Core::Count(const absl::StatusOr<v1::SubmitResponse>& answer) {
  if (!answer.ok()) {
    ++submissions_.refused[answer.status().code()];
  } else if (answer->repeated_submission()) {
    ++submissions_.repeated;
  } else {
    ++submissions_.accepted;
  }
}

absl::StatusOr<Figures> Core::GetFigures() {
  Figures figures;
  figures.submissions = submissions_;
  figures.clock_behind = std::max(absl::ZeroDuration(), time_.Behind());
  if (broken_) return figures;
  figures.accepting = room() == Room::kEnough;
  figures.recording = room() != Room::kNone;
  const absl::StatusOr<absl::Time> due = NextDue();
  if (!due.ok()) return due.status();
  figures.late = std::max(absl::ZeroDuration(), Now() - *due);
  const absl::StatusOr<OpenCount> open = store_->CountOpen();
  if (!open.ok()) return Break(open.status());
  figures.open = *open;
  const absl::StatusOr<std::vector<OwedByChannel>> owed = store_->Owed();
  if (!owed.ok()) return Break(owed.status());
  for (const ChannelKey& channel : Channels()) {
    ChannelFigures& one = figures.channels.emplace_back();
    one.channel = channel;
    one.failures_in_a_row = health_[channel].failures_in_a_row();
    for (const OwedByChannel& some : *owed) {
      if (some.channel != channel) continue;
      one.owed = some.messages;
      one.oldest = Now() - some.oldest_since;
    }
  }
  return figures;
}

}  // namespace turnstone
