// The one thread that owns the Core: takes work from a bounded queue, stages a
// batch, commits it with one fsync, and only then answers.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

#include "platform/clock.h"
#include "service/core/change_hub.h"
#include "service/core/core.h"

namespace turnstone {

struct CommitThreadOptions {
  // Work waiting; beyond it Push refuses.
  size_t queue_max = 4096;
  // Changes per commit.
  size_t batch_max = 512;
};

// Thread-safe.
class CommitThread {
 public:
  // Called with the outcome of the commit; runs on the commit thread, must not
  // block.
  using Answer = std::function<void(const absl::Status& committed)>;
  // Stages a change and says how to answer once it is durable.
  using Change = std::function<Answer(Core& core)>;
  // Reads what is durable and answers at once; may commit by itself.
  using Read = std::function<void(Core& core)>;

  // REQUIRES: core.Start() returned OK; `hub` outlives this.
  CommitThread(Core& core, ChangeHub& hub, CommitThreadOptions options);
  // Stops as Stop().
  ~CommitThread();
  CommitThread(const CommitThread&) = delete;
  CommitThread& operator=(const CommitThread&) = delete;

  void Start();
  // False: the queue is full or stopping, and the work was not taken.
  [[nodiscard]] bool PushChange(Change change);
  [[nodiscard]] bool PushRead(Read read);
  // Wakes the thread to look at the time again.
  void Wake();
  // Takes nothing more, finishes what is queued, ends the thread.
  void Stop();

  // Called on the commit thread when the core has broken.
  void OnBroken(std::function<void()> callback) {
    on_broken_ = std::move(callback);
  }
  // Called on the commit thread after questions were asked because their time
  // had come.
  void OnDue(std::function<void(const Core::DueReport&)> callback) {
    on_due_ = std::move(callback);
  }

 private:
  struct Batch {
    std::vector<Change> changes;
    std::vector<Read> reads;
  };
  void Run();
  // Waits for work, for something to fall due, or for the end (then false).
  [[nodiscard]] bool TakeBatch(absl::Time next_due, Batch& batch);
  void DoBatch(Batch& batch);
  void AskWhatIsDue();
  void AfterCommit();

  Core& core_;
  ChangeHub& hub_;
  const CommitThreadOptions options_;
  std::function<void()> on_broken_;
  std::function<void(const Core::DueReport&)> on_due_;
  int64_t announced_position_ = 0;
  bool told_broken_ = false;

  std::mutex mutex_;
  std::condition_variable wake_;
  std::deque<Change> changes_;
  std::deque<Read> reads_;
  bool stopping_ = false;
  bool woken_ = false;
  std::thread thread_;
};

}  // namespace turnstone
