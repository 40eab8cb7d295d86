#include "service/core/commit_thread.h"

#include <algorithm>
#include <chrono>
#include <utility>

namespace turnstone {
namespace {

// The longest sleep: a clock that jumps is noticed within it.
constexpr std::chrono::milliseconds kNapMax{1000};

template <typename Queue, typename Items>
void Move(Queue& from, size_t max, Items& to) {
  while (!from.empty() && to.size() < max) {
    to.push_back(std::move(from.front()));
    from.pop_front();
  }
}

}  // namespace

CommitThread::CommitThread(Core& core, ChangeHub& hub,
                           CommitThreadOptions options)
    : core_(core), round_(core, hub), options_(options) {}

CommitThread::~CommitThread() { Stop(); }

void CommitThread::Start() {
  round_.Begin();
  thread_ = std::thread([this] { Run(); });
}

bool CommitThread::PushChange(Change change) {
  const std::lock_guard<std::mutex> lock(mutex_);
  if (stopping_ || changes_.size() >= options_.queue_max) return false;
  changes_.push_back(std::move(change));
  wake_.notify_one();
  return true;
}

bool CommitThread::PushRead(Read read) {
  const std::lock_guard<std::mutex> lock(mutex_);
  if (stopping_ || reads_.size() >= options_.queue_max) return false;
  reads_.push_back(std::move(read));
  wake_.notify_one();
  return true;
}

bool CommitThread::PushFollow(Read read) {
  const std::lock_guard<std::mutex> lock(mutex_);
  if (stopping_) return false;
  follows_.push_back(std::move(read));
  wake_.notify_one();
  return true;
}

void CommitThread::Wake() {
  const std::lock_guard<std::mutex> lock(mutex_);
  woken_ = true;
  wake_.notify_one();
}

void CommitThread::Stop() {
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    stopping_ = true;
    wake_.notify_one();
  }
  if (thread_.joinable()) thread_.join();
}

bool CommitThread::TakeBatch(absl::Time next_due, CommitRound::Batch& batch) {
  std::unique_lock<std::mutex> lock(mutex_);
  const auto has_work = [this] {
    return stopping_ || woken_ || !changes_.empty() || !reads_.empty() ||
           !follows_.empty();
  };
  const absl::Duration until_due =
      std::max(absl::ZeroDuration(), next_due - core_.Now());
  const auto nap = std::min<std::chrono::nanoseconds>(
      kNapMax, absl::ToChronoNanoseconds(
                   std::min(until_due, absl::FromChrono(kNapMax))));
  wake_.wait_for(lock, nap, has_work);
  woken_ = false;
  Move(changes_, options_.batch_max, batch.changes);
  Move(reads_, options_.batch_max, batch.reads);
  // Those who wait for an answer come first.
  Move(follows_, options_.batch_max, batch.reads);
  return !(stopping_ && batch.changes.empty() && batch.reads.empty());
}

void CommitThread::Run() {
  while (true) {
    const bool all_asked = round_.AskWhatIsDue();
    // What could not be recorded is tried again after the longest sleep.
    const absl::StatusOr<absl::Time> next_due =
        all_asked ? core_.NextDue() : absl::InfiniteFuture();
    CommitRound::Batch batch;
    const bool goes_on =
        TakeBatch(next_due.ok() ? *next_due : absl::InfiniteFuture(), batch);
    round_.Do(batch);
    if (!goes_on) return;
  }
}

}  // namespace turnstone
