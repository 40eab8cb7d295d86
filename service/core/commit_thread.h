// The one thread that owns the Core: takes work from a bounded queue and does
// it, a round at a time.
#pragma once

#include <condition_variable>
#include <functional>
#include <mutex>
#include <string>
#include <thread>
#include <utility>

#include "platform/clock.h"
#include "service/core/commit_round.h"
#include "service/core/fair_queue.h"
#include "service/core/round_share.h"

namespace turnstone {

struct CommitThreadOptions {
  // Work waiting, changes and reads each; beyond it they refuse whoever has an
  // even share of it or more.
  size_t queue_max = 4096;
  // Changes per commit, and as many reads before it; fewer where they take long
  // (RoundShare).
  size_t batch_max = 512;
};

// Thread-safe.
class CommitThread {
 public:
  // All three run on this thread.
  using Answer = CommitRound::Answer;
  using Change = CommitRound::Change;
  using Read = CommitRound::Read;

  // REQUIRES: core.Start() returned OK; `hub` outlives this.
  CommitThread(Core& core, ChangeHub& hub, CommitThreadOptions options);
  // Stops as Stop().
  ~CommitThread();
  CommitThread(const CommitThread&) = delete;
  CommitThread& operator=(const CommitThread&) = delete;

  void Start();
  // `source`: whose work it is, so that they are served in turn (FairQueue);
  // empty for the service's own. False: the queue is full or stopping, and the
  // work was not taken.
  [[nodiscard]] bool PushChange(Change change, const std::string& source = "");
  [[nodiscard]] bool PushRead(Read read, const std::string& source = "");
  // The read of one who follows. They need no bound but their own number: each
  // waits for one at most, and a change makes all of them read at once.
  [[nodiscard]] bool PushFollow(Read read, const std::string& source = "");
  // Wakes the thread to look at the time again.
  void Wake();
  // Takes nothing more, finishes what is queued, ends the thread.
  void Stop();

  // All are called on the commit thread; see CommitRound.
  void OnBroken(std::function<void()> callback) {
    round_.OnBroken(std::move(callback));
  }
  void OnRoom(std::function<void(Room)> callback) {
    round_.OnRoom(std::move(callback));
  }
  void OnClock(std::function<void(const Core::ClockNews&)> callback) {
    round_.OnClock(std::move(callback));
  }
  void OnCommit(std::function<void(size_t, absl::Duration)> callback) {
    round_.OnCommit(std::move(callback));
  }
  void OnRound(std::function<void(Core&)> callback) {
    round_.OnRound(std::move(callback));
  }
  void OnDue(std::function<void(const Core::DueReport&)> callback) {
    round_.OnDue(std::move(callback));
  }

 private:
  void Run();
  // Waits for work, for something to fall due, or for the end (then false).
  [[nodiscard]] bool TakeBatch(absl::Time next_due, CommitRound::Batch& batch);
  template <typename Work>
  [[nodiscard]] bool Push(FairQueue<Work>& queue, Work work,
                          const std::string& source, size_t max);

  Core& core_;
  CommitRound round_;
  const CommitThreadOptions options_;

  // Of the thread itself.
  RoundShare changes_share_;
  RoundShare reads_share_;

  std::mutex mutex_;
  std::condition_variable wake_;
  FairQueue<Change> changes_;
  FairQueue<Read> reads_;
  FairQueue<Read> follows_;
  bool stopping_ = false;
  bool woken_ = false;
  std::thread thread_;
};

}  // namespace turnstone
