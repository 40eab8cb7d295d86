// One round of the service's work: stage a batch, commit it with one fsync, and
// only then answer. CommitThread runs it for ever; a simulation runs it step by
// step.
#pragma once

#include <absl/time/time.h>

#include <cstdint>
#include <functional>
#include <utility>
#include <vector>

#include "service/core/change_hub.h"
#include "service/core/core.h"

namespace turnstone {

// Single-thread: the thread that owns the Core.
class CommitRound {
 public:
  // Called with the outcome of the commit; must not block.
  using Answer = std::function<void(const absl::Status& committed)>;
  // Stages a change and says how to answer once it is durable.
  using Change = std::function<Answer(Core& core)>;
  // Reads what is durable and answers at once; may commit by itself.
  using Read = std::function<void(Core& core)>;
  struct Batch {
    std::vector<Change> changes;
    std::vector<Read> reads;
  };

  // REQUIRES: core.Start() returned OK; both outlive this.
  CommitRound(Core& core, ChangeHub& hub) : core_(core), hub_(hub) {}

  // What was durable before is no news.
  void Begin() { announced_position_ = core_.position(); }
  // How long the work of a batch took, without the commit.
  struct Spent {
    absl::Duration on_changes;
    absl::Duration on_reads;
  };
  // An empty batch: there is time to record who looked.
  Spent Do(const Batch& batch);
  // Looks at the machine, asks what has fallen due, and commits it. False: not
  // all of it could be recorded; try again, but not at once.
  bool AskWhatIsDue();

  // Called when the core has broken.
  void OnBroken(std::function<void()> callback) {
    on_broken_ = std::move(callback);
  }
  // Called after a commit, with the changes that were in it and the time from
  // the first of them.
  void OnCommit(std::function<void(size_t, absl::Duration)> callback) {
    on_commit_ = std::move(callback);
  }
  // Called when there is more or less room than before; see Core::room().
  void OnRoom(std::function<void(Room)> callback) {
    on_room_ = std::move(callback);
  }
  // Called when the machine's clock falls behind by more than a minute, and
  // when it was set ahead by more than an hour.
  void OnClock(std::function<void(const Core::ClockNews&)> callback) {
    on_clock_ = std::move(callback);
  }
  // Called once a round, with nothing staged; must not block.
  void OnRound(std::function<void(Core&)> callback) {
    on_round_ = std::move(callback);
  }
  // Called after questions were asked because their time had come.
  void OnDue(std::function<void(const Core::DueReport&)> callback) {
    on_due_ = std::move(callback);
  }

 private:
  void AfterCommit();
  void TellOfClock();

  Core& core_;
  ChangeHub& hub_;
  std::function<void()> on_broken_;
  std::function<void(size_t, absl::Duration)> on_commit_;
  std::function<void(const Core::DueReport&)> on_due_;
  std::function<void(Room)> on_room_;
  std::function<void(Core&)> on_round_;
  std::function<void(const Core::ClockNews&)> on_clock_;
  int64_t announced_position_ = 0;
  Room told_room_ = Room::kEnough;
  bool told_behind_ = false;
  bool told_broken_ = false;
};

}  // namespace turnstone
