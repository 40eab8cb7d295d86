// A server in a process of its own, as a site would run it.
#pragma once

#include <grpcpp/channel.h>
#include <sys/types.h>

#include <cstdint>
#include <memory>
#include <string>
#include <thread>
#include <vector>

namespace turnstone {

// Thread-compatible. Ends the bench, with what the server said, where it does
// not start.
class ServerProcess {
 public:
  // Runs `command`; ready once it has logged that it serves, and where.
  explicit ServerProcess(std::vector<std::string> command);
  // Kills it, unless Stop was called.
  ~ServerProcess();
  ServerProcess(const ServerProcess&) = delete;
  ServerProcess& operator=(const ServerProcess&) = delete;

  // A connection of its own.
  [[nodiscard]] std::shared_ptr<grpc::Channel> Connect() const;
  // From the start of the process until it served.
  [[nodiscard]] double start_seconds() const { return start_seconds_; }
  // Memory in use now, in KiB.
  [[nodiscard]] int64_t MemoryKib() const;
  // Processor time used so far.
  [[nodiscard]] double CpuSeconds() const;
  // Asks it to end, and waits for it.
  void Stop() { End(15); }
  void Kill() { End(9); }

 private:
  void End(int signal);

  pid_t pid_ = 0;
  int log_ = -1;  // what it logs
  std::string port_;
  double start_seconds_ = 0;
  std::thread drain_;
};

// turnstoned on `folder`, with all that is shipped, at a simulated clock.
[[nodiscard]] std::unique_ptr<ServerProcess> StartTurnstone(
    const std::string& program, const std::string& folder);

}  // namespace turnstone
