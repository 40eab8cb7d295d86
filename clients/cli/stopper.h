// Ending a call that does not end by itself.
#pragma once

#include <grpcpp/grpcpp.h>

#include <mutex>

namespace turnstone::cli {

// Ends the call under way and prevents any later one. Thread-safe.
class Stopper {
 public:
  void Stop() {
    const std::lock_guard lock(mutex_);
    stopped_ = true;
    if (call_ != nullptr) call_->TryCancel();
  }
  [[nodiscard]] bool stopped() {
    const std::lock_guard lock(mutex_);
    return stopped_;
  }
  // Null: there is no call to end.
  void Watch(grpc::ClientContext* call) {
    const std::lock_guard lock(mutex_);
    call_ = call;
    if (stopped_ && call_ != nullptr) call_->TryCancel();
  }

 private:
  std::mutex mutex_;
  bool stopped_ = false;
  grpc::ClientContext* call_ = nullptr;
};

}  // namespace turnstone::cli
