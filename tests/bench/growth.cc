#include "tests/bench/growth.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <cstdlib>
#include <random>

#include "tests/bench/callers.h"
#include "tests/bench/growth_events.h"
#include "tests/bench/process.h"
#include "tests/bench/progress.h"

namespace turnstone {
namespace {

constexpr int kRepeats = 3;
constexpr int kPostedAtOnce = 50000;

class Programme {
 public:
  Programme(const std::string& program, const std::string& folder)
      : server_(StartTurnstone(program, folder)),
        channel_(server_->Connect()) {}

  // Gives each participant from `from` up to `to` `events` more.
  void Fill(int from, int to, int events) {
    for (int round = 0; round < events; ++round) {
      for (int participant = from; participant < to; ++participant) {
        waiting_.push_back(events_of_.Next(participant));
        if (waiting_.size() == kPostedAtOnce) Post();
      }
    }
    Post();
  }

  // Events about participants drawn from the first `participants`.
  nlohmann::ordered_json Probe(int participants, int probes) {
    std::vector<Measured> repeats;
    for (int repeat = 0; repeat < kRepeats; ++repeat) {
      Requests requests;
      for (int i = 0; i < probes / kRepeats; ++i) {
        requests.push_back(events_of_.Next(
            static_cast<int>(random_() % static_cast<unsigned>(participants))));
      }
      const double cpu = server_->CpuSeconds();
      Measured measured = PostStreams(channel_, requests, 1);
      measured.server_cpu_seconds = server_->CpuSeconds() - cpu;
      events_ += measured.events;
      repeats.push_back(std::move(measured));
    }
    return Summary(repeats);
  }

  [[nodiscard]] ServerProcess& server() { return *server_; }
  [[nodiscard]] int64_t events() const { return events_; }

 private:
  void Post() {
    const Measured measured = PostStreams(channel_, waiting_, 1);
    if (measured.refused > 0) std::abort();
    events_ += measured.events;
    waiting_.clear();
  }

  std::unique_ptr<ServerProcess> server_;
  std::shared_ptr<grpc::Channel> channel_;
  GrowthEvents events_of_;
  Requests waiting_;
  std::mt19937 random_{20270104};
  int64_t events_ = 0;
};

}  // namespace

nlohmann::ordered_json GrowByParticipants(const GrowthPlan& plan,
                                          const std::string& program,
                                          const std::string& folder) {
  nlohmann::ordered_json found;
  Programme programme(program, folder);
  int filled = 0;
  for (const int size : plan.participants) {
    Progress(absl::StrCat("cost per event with ", size, " participants"));
    programme.Fill(filled, size, 2);
    filled = size;
    nlohmann::ordered_json probe = programme.Probe(size, plan.probes);
    probe["participants"] = size;
    probe["memory_kib"] = programme.server().MemoryKib();
    found["by_participants"].push_back(std::move(probe));
  }
  const int64_t events = programme.events();
  programme.server().Kill();
  const auto again = StartTurnstone(program, folder);
  found["start_after_kill"] = {{"events", events},
                               {"seconds", again->start_seconds()}};
  return found;
}

nlohmann::ordered_json GrowByHistory(const GrowthPlan& plan,
                                     const std::string& program,
                                     const std::string& folder) {
  nlohmann::ordered_json found;
  Programme programme(program, folder);
  int filled = 0;
  for (const int size : plan.histories) {
    Progress(absl::StrCat("cost per event with ", size, " events each"));
    programme.Fill(0, plan.history_participants, size - filled);
    filled = size;
    nlohmann::ordered_json probe =
        programme.Probe(plan.history_participants, plan.probes);
    probe["events_each"] = size;
    found.push_back(std::move(probe));
  }
  return found;
}

}  // namespace turnstone
