#include "service/core/commit_thread.h"

#include <algorithm>
#include <chrono>
#include <limits>
#include <utility>

namespace turnstone {
namespace {

// The longest sleep: a clock that jumps is noticed within it.
constexpr std::chrono::milliseconds kNapMax{1000};

}  // namespace

CommitThread::CommitThread(Core& core, ChangeHub& hub,
                           CommitThreadOptions options)
    : core_(core),
      round_(core, hub),
      options_(options),
      changes_share_(options.batch_max),
      reads_share_(options.batch_max) {}

CommitThread::~CommitThread() { Stop(); }

void CommitThread::Start() {
  round_.Begin();
  thread_ = std::thread([this] { Run(); });
}

template <typename Work>
bool CommitThread::Push(FairQueue<Work>& queue, Work work,
                        const std::string& source, size_t max) {
  const std::lock_guard<std::mutex> lock(mutex_);
  if (stopping_ || !queue.Push(source, std::move(work), max)) return false;
  wake_.notify_one();
  return true;
}

bool CommitThread::PushChange(Change change, const std::string& source) {
  return Push(changes_, std::move(change), source, options_.queue_max);
}

bool CommitThread::PushRead(Read read, const std::string& source) {
  return Push(reads_, std::move(read), source, options_.queue_max);
}

bool CommitThread::PushFollow(Read read, const std::string& source) {
  return Push(follows_, std::move(read), source,
              std::numeric_limits<size_t>::max());
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
  changes_.Take(changes_share_.pieces(), batch.changes);
  reads_.Take(reads_share_.pieces(), batch.reads);
  // Those who wait for an answer come first, but not instead.
  follows_.Take(reads_share_.pieces(), batch.reads);
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
    const CommitRound::Spent spent = round_.Do(batch);
    changes_share_.Learn(batch.changes.size(), spent.on_changes);
    reads_share_.Learn(batch.reads.size(), spent.on_reads);
    if (!goes_on) return;
  }
}

}  // namespace turnstone
