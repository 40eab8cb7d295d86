#include "service/rpc/background.h"

#include <utility>

namespace turnstone {

Background::Background() : thread_([this] { Run(); }) {}

Background::~Background() { Stop(); }

bool Background::Push(std::function<void()> work) {
  const std::lock_guard<std::mutex> lock(mutex_);
  if (stopping_) return false;
  work_.push_back(std::move(work));
  wake_.notify_one();
  return true;
}

void Background::Stop() {
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    stopping_ = true;
    wake_.notify_one();
  }
  if (thread_.joinable()) thread_.join();
}

void Background::Run() {
  while (true) {
    std::function<void()> work;
    {
      std::unique_lock<std::mutex> lock(mutex_);
      wake_.wait(lock, [this] { return stopping_ || !work_.empty(); });
      if (work_.empty()) return;
      work = std::move(work_.front());
      work_.pop_front();
    }
    work();
  }
}

}  // namespace turnstone
