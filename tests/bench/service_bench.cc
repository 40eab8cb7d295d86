// The whole service beside the floors it stands on, in one run: the disk alone,
// the wire alone, and what a site would do instead.
//
// service_bench --server PATH [--json FILE] [--folder DIR] [--long]
// service_bench --server PATH --tiny    a few events, and whether all is there
// service_bench --server PATH --soak N  the events of N people, by calls, then
//                                       by streams; then a growing programme:
//                                       something to profile
#include <absl/strings/str_cat.h>

#include <CLI/CLI.hpp>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <thread>
#include <utility>

#include "tests/bench/comparison.h"
#include "tests/bench/echo.h"
#include "tests/bench/growth.h"
#include "tests/bench/invented_events.h"
#include "tests/bench/progress.h"
#include "tests/bench/report.h"
#include "tests/bench/rules_alone.h"
#include "tests/bench/site_comparison.h"
#include "tests/bench/soak.h"

namespace turnstone {
namespace {

struct Options {
  std::string server;
  std::string folder = ".";
  std::string json;
  bool tiny = false;
  bool with_million = false;
  bool echo = false;
  int soak = 0;
};

// How much of everything.
struct Extent {
  int people;
  std::vector<int> callers;
  std::vector<size_t> events;
  int repeats;
  std::vector<size_t> batches;
  GrowthPlan growth;
  int courses;  // for the rules alone
};

Extent ExtentOf(const Options& options) {
  if (options.tiny) {
    return {12, {8}, {300}, 1, {16, 256}, {{20, 60}, {4, 12}, 5, 60}, 12};
  }
  Extent extent{
      1000, {1, 16, 256}, {600, 4000, 20000},
      3,    {1, 256},     {{1000, 10000, 100000}, {10, 100, 1000}, 300, 3000},
      1000};
  if (options.with_million) extent.growth.participants.push_back(1000000);
  return extent;
}

Requests Invent(int people, size_t most) {
  Requests requests;
  for (InventedEvent& invented : InventEvents(people, WithinADay())) {
    if (requests.size() == most) break;
    *requests.emplace_back().mutable_event() = std::move(invented.event);
  }
  return requests;
}

std::string LoadAverage() {
  std::ifstream file("/proc/loadavg");
  std::string one;
  file >> one;
  return one;
}

nlohmann::ordered_json MeasureAll(const Options& options,
                                  const std::string& folder) {
  const Extent extent = ExtentOf(options);
  nlohmann::ordered_json figures;
  figures["machine"] = {{"processors", std::thread::hardware_concurrency()},
                        {"load_before", LoadAverage()}};
  const Requests requests = Invent(extent.people, extent.events.back());
  FillStore(options.server, folder + "/site", requests);
  const WrittenRows rows(folder + "/site/turnstone.db");
  const ComparisonPlan plan{options.server, "/proc/self/exe", folder,
                            extent.callers, extent.events,    extent.repeats};
  figures["cells"] = CompareWithFloors(plan, requests, rows);
  figures["own_tables"] = CompareWithSite(options.server, folder + "/site",
                                          requests, extent.batches);
  figures.update(
      GrowByParticipants(extent.growth, options.server, folder + "/many"));
  figures["by_history"] =
      GrowByHistory(extent.growth, options.server, folder + "/long");
  figures["rules_alone"] = CompareRulesAlone(extent.courses, extent.repeats);
  figures["machine"]["load_after"] = LoadAverage();
  AddRatios(figures);
  return figures;
}

// Whether a tiny run did real work: answers agree, and no figure is missing or
// nothing.
bool IsWhole(const nlohmann::ordered_json& figures) {
  const auto& site = figures["own_tables"];
  const auto& rules = figures["rules_alone"];
  bool whole = site["prompts"] > 0 && site["only_the_site"] == 0 &&
               site["only_turnstone"] == 0 && rules["prompts"] > 0 &&
               rules["differ"] == 0;
  for (const auto& cell : figures["cells"]) {
    whole = whole && cell["per_second"] > 0 && cell["micros"]["p99.9"] > 0;
  }
  for (const auto& [name, ratio] : figures["ratios"].items()) {
    if (name.rfind("cost_", 0) == 0) continue;  // too short to be measured
    whole = whole && !ratio.is_null();
  }
  return whole;
}

Options Parse(int argc, char** argv) {
  Options options;
  CLI::App app("Measures turnstoned beside the disk alone and the wire alone.");
  app.add_option("--server", options.server, "turnstoned, built for release");
  app.add_option("--folder", options.folder,
                 "on the disk to be measured; cleaned up afterwards");
  app.add_option("--json", options.json, "file for the figures");
  app.add_flag("--long", options.with_million,
               "also with a million participants");
  app.add_flag("--tiny", options.tiny, "only whether everything works");
  app.add_option("--soak", options.soak, "people whose events to post");
  app.add_flag("--echo", options.echo, "be the wire's floor");
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    std::exit(app.exit(error));
  }
  return options;
}

int Main(int argc, char** argv) {
  const Options options = Parse(argc, argv);
  if (options.echo) return ServeEcho();
  std::string folder = options.folder + "/service_bench.XXXXXX";
  if (mkdtemp(folder.data()) == nullptr) return 1;
  if (options.soak > 0) {
    Soak(options.server, folder, Invent(options.soak, SIZE_MAX),
         ExtentOf(options).growth);
    std::filesystem::remove_all(folder);
    return 0;
  }
  const nlohmann::ordered_json figures = MeasureAll(options, folder);
  std::filesystem::remove_all(folder);
  Progress("");
  Print(figures);
  if (!options.json.empty()) {
    std::ofstream(options.json) << figures.dump(2) << "\n";
  }
  if (!options.tiny) return 0;
  std::puts(IsWhole(figures) ? "all is there" : "something is MISSING");
  return IsWhole(figures) ? 0 : 1;
}

}  // namespace
}  // namespace turnstone

// NOLINTNEXTLINE(bugprone-exception-escape): because what throws here ends it.
int main(int argc, char** argv) { return turnstone::Main(argc, argv); }
