// How many recorded events a second a replay takes in, beside what it costs
// only to look at the same events.
//
// replay_bench            measures; options are Google Benchmark's
// replay_bench --check    a few people, and whether the counts agree with
//                         those of the plain way, question by question
#include <benchmark/benchmark.h>

#include <cstdint>
#include <cstdio>
#include <map>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "rules/engine/decide.h"
#include "rules/replay/replay.h"
#include "tests/bench/invented_events.h"

namespace turnstone {
namespace {

constexpr int kPeople = 3000;
constexpr int kFew = 40;
constexpr char kSite[] = "pebble-bay";

const std::vector<InventedEvent>& Events() {
  static const std::vector<InventedEvent> events = InventEvents(kPeople);
  return events;
}

void CountEvents(benchmark::State& state) {
  state.SetItemsProcessed(state.iterations() *
                          static_cast<int64_t>(Events().size()));
}

Difference ReplayAll(const std::vector<InventedEvent>& events,
                     const Setup& before, const Setup& after) {
  Replay replay(before, after, kSite, {});
  for (const InventedEvent& each : events) {
    if (!replay.Take(each.event, each.recorded).ok()) std::abort();
  }
  return replay.Finish();
}

void ReplayTenRules(benchmark::State& state) {
  const Setup before(TenRules(), "");
  const Setup after(Candidate(TenRules()), "");
  (void)Events();
  while (state.KeepRunning()) {
    benchmark::DoNotOptimize(ReplayAll(Events(), before, after));
  }
  CountEvents(state);
}
BENCHMARK(ReplayTenRules)->Unit(benchmark::kMillisecond);

// The floor: every event, as it lies in memory, is written out and every byte
// of it hashed (FNV-1a).
void HashEvents(benchmark::State& state) {
  std::string bytes;
  (void)Events();
  while (state.KeepRunning()) {
    uint64_t hash = 14695981039346656037U;
    for (const InventedEvent& each : Events()) {
      each.event.SerializeToString(&bytes);
      for (const char byte : bytes) {
        hash = (hash ^ static_cast<unsigned char>(byte)) * 1099511628211U;
      }
    }
    benchmark::DoNotOptimize(hash);
  }
  CountEvents(state);
}
BENCHMARK(HashEvents)->Unit(benchmark::kMillisecond);

std::vector<std::string> AsBytes() {
  std::vector<std::string> bytes;
  bytes.reserve(Events().size());
  for (const InventedEvent& each : Events()) {
    bytes.push_back(each.event.SerializeAsString());
  }
  return bytes;
}

// What reading them from a store takes before anything is asked.
void ParseBytes(benchmark::State& state) {
  const std::vector<std::string> all = AsBytes();
  v1::Event event;
  while (state.KeepRunning()) {
    for (const std::string& bytes : all) {
      benchmark::DoNotOptimize(event.ParseFromString(bytes));
    }
  }
  CountEvents(state);
}
BENCHMARK(ParseBytes)->Unit(benchmark::kMillisecond);

// Reasons by rule of one set of rules, the way the service asks: Decide, after
// every event and for all that fell due before it.
std::map<std::string, int> Plainly(const std::vector<InventedEvent>& events,
                                   const Setup& setup) {
  struct Known {
    History history;
    Agenda agenda;
    absl::Time asked_until = absl::InfinitePast();
    std::set<std::tuple<std::string, std::string, absl::Time, Truth>> raised;
  };
  const Site& site = *setup.FindSite(kSite);
  std::map<std::string, Known> people;
  std::map<std::string, int> counts;
  const auto ask = [&](Known& known, absl::Time changed, absl::Time now) {
    const Asking asking{changed, known.asked_until, now};
    for (const Answer& answer :
         Decide(site, known.history, known.agenda, asking)) {
      if (!answer.raise) continue;
      const bool fresh = known.raised
                             .emplace(answer.rule->id(), answer.fact.event_id,
                                      answer.due, answer.truth)
                             .second;
      counts[answer.rule->id()] += static_cast<int>(fresh);
    }
    known.asked_until = now;
  };
  for (const auto& [recorded, event] : events) {
    Known& known = people[event.participant()];
    ask(known, absl::InfiniteFuture(), recorded);
    const auto change = known.history.Apply(event, setup.catalogue());
    known.agenda.Refresh(known.history, change->from, std::nullopt, site);
    ask(known, change->from, recorded);
  }
  for (auto& [participant, known] : people) {
    ask(known, absl::InfiniteFuture(), events.back().recorded);
  }
  return counts;
}

int Check() {
  const std::vector<InventedEvent> events = InventEvents(kFew);
  const Setup before(TenRules(), "");
  const Setup after(Candidate(TenRules()), "");
  std::map<std::string, int> old_counts = Plainly(events, before);
  std::map<std::string, int> new_counts = Plainly(events, after);
  const Difference difference = ReplayAll(events, before, after);
  int wrong = 0;
  for (const auto& [rule, counts] : difference.rules) {
    wrong += static_cast<int>(counts.before != old_counts[rule] ||
                              counts.after != new_counts[rule]);
    std::printf("%-28s %5d %5d\n", rule.c_str(), counts.before, counts.after);
  }
  const auto more = static_cast<int>(difference.added.size());
  const bool referrals_alone =
      more > 0 && difference.lost.empty() &&
      new_counts["score-above-range"] == old_counts["score-above-range"] + more;
  const bool good = wrong == 0 && referrals_alone &&
                    difference.rules.size() == old_counts.size();
  std::printf("%s\n", good ? "the counts agree" : "the counts do NOT agree");
  return good ? 0 : 1;
}

}  // namespace
}  // namespace turnstone

int main(int argc, char** argv) {
  if (argc > 1 && std::string(argv[1]) == "--check") {
    return turnstone::Check();
  }
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
