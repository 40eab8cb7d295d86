#include "tests/bench/soak.h"

#include <cstdio>
#include <filesystem>

#include "tests/bench/process.h"

namespace turnstone {
namespace {

using PostAll = Measured (*)(const std::shared_ptr<grpc::Channel>& channel,
                             const Requests& requests);

constexpr int kCallers = 256;

Measured ByCalls(const std::shared_ptr<grpc::Channel>& channel,
                 const Requests& requests) {
  return PostUnary(channel, requests, kCallers);
}

Measured ByStreams(const std::shared_ptr<grpc::Channel>& channel,
                   const Requests& requests) {
  return PostStreams(channel, requests, kCallers);
}

}  // namespace

void Soak(const std::string& program, const std::string& folder,
          const Requests& requests, const GrowthPlan& growth) {
  for (const PostAll post : {&ByCalls, &ByStreams}) {
    const std::string data = folder + "/soak";
    const auto server = StartTurnstone(program, data);
    const Measured measured = post(server->Connect(), requests);
    std::printf(
        "%.0f events a second, %.0f us of the server each\n",
        measured.PerSecond(),
        server->CpuSeconds() * 1e6 / static_cast<double>(measured.events));
    std::fflush(stdout);
    server->Kill();
    std::filesystem::remove_all(data);
  }
  std::puts(
      GrowByHistory(growth, program, folder + "/history").dump(1).c_str());
  std::puts(
      GrowByParticipants(growth, program, folder + "/people").dump(1).c_str());
}

}  // namespace turnstone
