#include "tests/bench/process.h"

#include <absl/strings/str_cat.h>
#include <fcntl.h>
#include <grpcpp/create_channel.h>
#include <grpcpp/security/credentials.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/bench/measured.h"

namespace turnstone {
namespace {

// All that the bench posts has happened by then.
constexpr char kClock[] = "2027-01-04T17:00:00Z";

// It ends when the bench does, however that comes.
pid_t Spawn(std::vector<std::string>& command, int* log) {
  int ends[2];
  if (pipe2(ends, O_CLOEXEC) != 0) std::abort();
  std::vector<char*> arguments;
  arguments.reserve(command.size() + 1);
  for (std::string& word : command) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  const pid_t pid = fork();
  if (pid == 0) {
    prctl(PR_SET_PDEATHSIG, SIGKILL);
    dup2(ends[1], STDERR_FILENO);
    execv(arguments[0], arguments.data());
    _exit(1);
  }
  close(ends[1]);
  *log = ends[0];
  return pid;
}

// The port of the line that says it serves; empty if it ended before.
std::string PortFromLog(int log) {
  std::string line;
  char next = 0;
  while (read(log, &next, 1) == 1) {
    line += next;
    if (next != '\n') continue;
    const auto fields = nlohmann::json::parse(line, nullptr, false);
    if (fields.is_object() && fields.value("event", "") == "serving") {
      return fields.value("port", "");
    }
    if (!fields.is_object() || fields.value("level", "") != "info") {
      std::fputs(line.c_str(), stderr);
    }
    line.clear();
  }
  return "";
}

// So that the process never waits for somebody to read its log.
void Drain(int log) {
  char unread[4096];
  while (read(log, unread, sizeof unread) > 0) {
  }
}

}  // namespace

ServerProcess::ServerProcess(std::vector<std::string> command) {
  const auto begin = BenchClock::now();
  pid_ = Spawn(command, &log_);
  port_ = PortFromLog(log_);
  if (port_.empty()) {
    std::fprintf(stderr, "bench: %s did not start\n", command[0].c_str());
    std::abort();
  }
  start_seconds_ = Since(begin) / 1e6;
  drain_ = std::thread([this] { Drain(log_); });
}

ServerProcess::~ServerProcess() { Kill(); }

void ServerProcess::End(int signal) {
  if (pid_ == 0) return;
  kill(pid_, signal);
  waitpid(pid_, nullptr, 0);
  pid_ = 0;
  drain_.join();
  close(log_);
}

std::shared_ptr<grpc::Channel> ServerProcess::Connect() const {
  grpc::ChannelArguments arguments;
  // Otherwise channels to one address share a connection.
  arguments.SetInt(GRPC_ARG_USE_LOCAL_SUBCHANNEL_POOL, 1);
  auto channel =
      grpc::CreateCustomChannel(absl::StrCat("127.0.0.1:", port_),
                                grpc::InsecureChannelCredentials(), arguments);
  if (!channel->WaitForConnected(std::chrono::system_clock::now() +
                                 std::chrono::seconds(10))) {
    std::abort();
  }
  return channel;
}

int64_t ServerProcess::MemoryKib() const {
  std::ifstream status(absl::StrCat("/proc/", pid_, "/status"));
  for (std::string line; std::getline(status, line);) {
    if (line.rfind("VmRSS:", 0) == 0) return std::stoll(line.substr(6));
  }
  return 0;
}

double ServerProcess::CpuSeconds() const {
  clockid_t clock = 0;
  timespec used{};
  if (clock_getcpuclockid(pid_, &clock) != 0) std::abort();
  clock_gettime(clock, &used);
  return static_cast<double>(used.tv_sec) +
         static_cast<double>(used.tv_nsec) / 1e9;
}

std::unique_ptr<ServerProcess> StartTurnstone(const std::string& program,
                                              const std::string& folder) {
  const std::string root = TURNSTONE_SOURCE_DIR;
  return std::make_unique<ServerProcess>(std::vector<std::string>{
      program, "--config", root + "/rules", root + "/deploy/config", "--data",
      folder, "--listen", "127.0.0.1:0", "--plain", "--clock", "simulated",
      "--start", kClock});
}

}  // namespace turnstone
