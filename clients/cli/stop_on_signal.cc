#include "clients/cli/stop_on_signal.h"

#include <csignal>
#include <utility>

namespace turnstone::cli {
namespace {

sigset_t StopSignals() {
  sigset_t signals;
  sigemptyset(&signals);
  sigaddset(&signals, SIGINT);
  sigaddset(&signals, SIGTERM);
  return signals;
}

}  // namespace

StopOnSignal::StopOnSignal(std::function<void()> stop) {
  const sigset_t signals = StopSignals();
  pthread_sigmask(SIG_BLOCK, &signals, nullptr);
  watcher_ = std::thread([signals, stop = std::move(stop)] {
    int signal = 0;
    sigwait(&signals, &signal);
    stop();
  });
}

StopOnSignal::~StopOnSignal() {
  // Wakes the watcher if no signal came; `stop` then does no harm.
  pthread_kill(watcher_.native_handle(), SIGINT);
  watcher_.join();
}

}  // namespace turnstone::cli
