// turnstoned: reads its options, serves, and obeys signals. SIGTERM and SIGINT
// stop it, SIGHUP makes it read its configuration again.
#include <absl/strings/str_cat.h>

#include <csignal>
#include <cstdio>
#include <memory>

#include "platform/log.h"
#include "platform/process.h"
#include "service/offline.h"
#include "service/options.h"
#include "service/server.h"

namespace turnstone {
namespace {

constexpr int kExitUsage = 2;
constexpr int kExitFailed = 1;

// Blocked in every thread, so that only main() takes them.
sigset_t BlockSignals() {
  sigset_t signals;
  sigemptyset(&signals);
  sigaddset(&signals, SIGTERM);
  sigaddset(&signals, SIGINT);
  sigaddset(&signals, SIGHUP);
  pthread_sigmask(SIG_BLOCK, &signals, nullptr);
  return signals;
}

int Run(int argc, const char** argv) {
  KeepToOurselves();
  if (IsOffline(argc, argv)) return RunOffline(argc, argv);
  const absl::StatusOr<ServerOptions> options = ParseOptions(argc, argv);
  if (absl::IsOutOfRange(options.status())) {
    std::puts(std::string(options.status().message()).c_str());
    return 0;
  }
  if (!options.ok()) {
    std::fprintf(stderr, "turnstoned: %s\n",
                 std::string(options.status().message()).c_str());
    return kExitUsage;
  }
  const sigset_t signals = BlockSignals();
  // A file that may not grow is a full disk, not a reason to die.
  std::signal(SIGXFSZ, SIG_IGN);
  absl::StatusOr<std::unique_ptr<Server>> server = Server::Open(*options);
  if (!server.ok()) {
    Log(LogLevel::kError, "cannot start",
        {{"why", std::string(server.status().message())}});
    return kExitFailed;
  }
  int signal = 0;
  while (sigwait(&signals, &signal) == 0 && signal == SIGHUP) {
    (*server)->Reload();
  }
  (*server)->Stop();
  return 0;
}

}  // namespace
}  // namespace turnstone

// NOLINTNEXTLINE(bugprone-exception-escape): because out of memory ends it.
int main(int argc, const char** argv) { return turnstone::Run(argc, argv); }
