// One run of callers: what is shared among them.
#pragma once

#include <atomic>
#include <condition_variable>
#include <mutex>
#include <optional>
#include <utility>
#include <vector>

#include "tests/bench/callers.h"

namespace turnstone {

// Thread-safe.
class Run {
 public:
  Run(const Requests& requests, int callers)
      : requests_(requests),
        sent_(requests.size()),
        micros_(requests.size()),
        working_(callers) {}

  // The next one to post, which counts as sent now; absent: no more.
  [[nodiscard]] std::optional<size_t> Take() {
    const size_t next = next_.fetch_add(1);
    if (next >= requests_.size()) return std::nullopt;
    sent_[next].store(BenchClock::now());
    return next;
  }
  [[nodiscard]] const v1::SubmitRequest& Request(size_t which) const {
    return requests_[which];
  }
  void Answered(size_t which, bool accepted, int64_t sequence) {
    micros_[which] = Since(sent_[which].load());
    if (!accepted) ++refused_;
    int64_t last = last_sequence_.load();
    while (last < sequence &&
           !last_sequence_.compare_exchange_weak(last, sequence)) {
    }
  }
  [[nodiscard]] double SinceSent(size_t which) const {
    return Since(sent_[which].load());
  }
  void CallerDone() {
    const std::lock_guard<std::mutex> lock(mutex_);
    if (--working_ == 0) done_.notify_all();
  }
  // Waits for every caller.
  [[nodiscard]] Measured Finish() {
    std::unique_lock<std::mutex> lock(mutex_);
    done_.wait(lock, [this] { return working_ == 0; });
    Measured measured;
    measured.seconds = Since(begin_) / 1e6;
    measured.refused = refused_.load();
    measured.events = static_cast<int64_t>(requests_.size()) - measured.refused;
    measured.last_sequence = last_sequence_.load();
    measured.micros = std::move(micros_);
    return measured;
  }

 private:
  const Requests& requests_;
  std::vector<std::atomic<BenchClock::time_point>> sent_;
  std::vector<double> micros_;
  const BenchClock::time_point begin_ = BenchClock::now();
  std::atomic<size_t> next_{0};
  std::atomic<int64_t> refused_{0};
  std::atomic<int64_t> last_sequence_{0};
  std::mutex mutex_;
  std::condition_variable done_;
  int working_;
};

}  // namespace turnstone
