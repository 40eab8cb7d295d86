// Ending on SIGINT or SIGTERM without doing anything inside a signal handler.
#pragma once

#include <functional>
#include <thread>

namespace turnstone::cli {

// From construction on, the first of the two signals calls `stop`, once, on a
// thread of its own. Construct it before anything that starts threads: those
// must not take the signals.
class StopOnSignal {
 public:
  explicit StopOnSignal(std::function<void()> stop);
  ~StopOnSignal();

  StopOnSignal(const StopOnSignal&) = delete;
  StopOnSignal& operator=(const StopOnSignal&) = delete;

 private:
  std::thread watcher_;
};

}  // namespace turnstone::cli
