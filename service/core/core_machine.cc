// What Core does where the machine is not as it should be: a disk that is full,
// a clock that is set.
#include <absl/strings/str_cat.h>

#include <utility>

#include "service/core/alert_record.h"
#include "service/core/core.h"

namespace turnstone {
namespace {

// While the clock is behind, the service's time is known from here alone: so
// much of it a crash may take, and put every deadline off by it.
constexpr absl::Duration kRecordTimeEvery = absl::Minutes(1);
constexpr absl::Duration kBehindTolerated = absl::Minutes(1);

}  // namespace

void Core::LookAtMachine() {
  space_.Look();
  if (broken_) return;
  const bool time_may_be_lost = time_.Behind() > kBehindTolerated &&
                                Now() - recorded_now_ >= kRecordTimeEvery;
  if (time_may_be_lost) RecordTime();
  if (room() != Room::kNone) return;
  // Finds out whether something can be recorded again. It must be more than the
  // time: where that stands still, SQLite has nothing to write.
  Audit(ServiceActor(), "recording again after a full disk", "", "");
  (void)Commit();
}

void Core::RecordTime() {
  WriteBatch only_the_time;
  only_the_time.now = Now();
  const absl::Status status = store_->Commit(only_the_time);
  if (status.ok()) {
    recorded_now_ = only_the_time.now;
    space_.Recorded();
  } else if (absl::IsResourceExhausted(status)) {
    space_.Refused();
  } else {
    (void)Break(status);
  }
}

Core::ClockNews Core::TakeClockNews() {
  return {.behind = time_.Behind(), .jump = time_.TakeJump()};
}

std::vector<std::string> Core::MachineConcerns() {
  std::vector<std::string> all;
  const absl::Duration behind = time_.Behind();
  if (behind > kBehindTolerated) {
    all.push_back(absl::StrCat(
        "the machine's clock is ",
        absl::FormatDuration(absl::Trunc(behind, absl::Seconds(1))),
        " behind the service's time, which goes on at an even pace and keeps "
        "every deadline: set the clock right"));
  }
  if (room() == Room::kShort) {
    all.push_back(
        "short of disk space: new events are refused; alerts are worked and "
        "escalated as before: free space where the service keeps its data");
  } else if (room() == Room::kNone) {
    all.push_back(
        "the disk is full: nothing can be recorded, no alert goes up its "
        "ladder: free space where the service keeps its data at once");
  }
  return all;
}

absl::Status Core::TakeBack() {
  space_.Refused();
  for (Sending& sending : staged_sendings_) KeepInMind(std::move(sending));
  ClearStaged();
  const absl::StatusOr<Recovered> recovered = ReadState();
  if (!recovered.ok()) return Break(recovered.status());
  // Participants are read anew when next needed.
  if (setup_ != nullptr) Use(setup_, shadow_);
  return absl::ResourceExhaustedError(
      "not accepted: the disk is full, and nothing of this was recorded. Free "
      "space where the service keeps its data, then repeat the call");
}

void Core::KeepInMind(Sending sending) {
  for (const v1::OwedMessage& message : sending.envelope.messages) {
    sent_unrecorded_.insert(message.key());
  }
  unrecorded_.push_back(std::move(sending));
}

// One at a time: where there is little room, one may fit where all do not.
absl::Status Core::RecordSendings() {
  std::vector<Sending> waiting = std::exchange(unrecorded_, {});
  sent_unrecorded_.clear();
  absl::Status status = absl::OkStatus();
  for (Sending& sending : waiting) {
    if (status.ok()) {
      StageDelivery(sending.envelope, sending.result);
      status = Commit();
    } else {
      KeepInMind(std::move(sending));
    }
  }
  return status;
}

}  // namespace turnstone
