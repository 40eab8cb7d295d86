#include "tests/bench/report.h"

#include <algorithm>
#include <cstdio>
#include <string>

namespace turnstone {
namespace {

using Json = nlohmann::ordered_json;

const Json& Cell(const Json& figures, const std::string& what, int callers) {
  const Json& cells = figures["cells"];
  return *std::find_if(cells.begin(), cells.end(), [&](const Json& cell) {
    return cell["what"] == what && cell["callers"] == callers;
  });
}

double Rate(const Json& figures, const std::string& what, int callers) {
  return Cell(figures, what, callers)["per_second"].get<double>();
}

// The largest by the smallest, less one.
double Spread(const Json& probes, const std::string& key) {
  double low = probes[0][key].get<double>();
  double high = low;
  for (const Json& probe : probes) {
    low = std::min(low, probe[key].get<double>());
    high = std::max(high, probe[key].get<double>());
  }
  return high / low - 1;
}

void PrintCell(const std::string& what, const std::string& how,
               const Json& cell) {
  const Json& micros = cell["micros"];
  std::printf(
      "%-28s %10s %9.0f %8.2f %8.2f %8.2f\n", what.c_str(), how.c_str(),
      cell["per_second"].get<double>(), micros["p50"].get<double>() / 1e3,
      micros["p99"].get<double>() / 1e3, micros["p99.9"].get<double>() / 1e3);
}

void PrintProbe(const std::string& what, const Json& probe) {
  std::printf("%-28s %10s %9.0f %8.0f\n", what.c_str(), "",
              probe["per_second"].get<double>(),
              probe["server_cpu_micros"].get<double>());
}

void PrintGrowth(const Json& figures) {
  std::printf("\n%-28s %10s %9s %8s\n", "as it grows", "", "events/s",
              "cpu, us");
  for (const Json& probe : figures["by_participants"]) {
    PrintProbe(
        std::to_string(probe["participants"].get<int>()) + " participants",
        probe);
    std::printf("%28s memory %.0f MiB\n", "",
                probe["memory_kib"].get<double>() / 1024);
  }
  for (const Json& probe : figures["by_history"]) {
    PrintProbe(std::to_string(probe["events_each"].get<int>()) + " events each",
               probe);
  }
}

}  // namespace

void AddRatios(Json& figures) {
  const int fewest = figures["cells"].front()["callers"].get<int>();
  const int most = figures["cells"].back()["callers"].get<int>();
  Json ratios;
  ratios["unary_to_echo"] = Rate(figures, "turnstone unary", most) /
                            Rate(figures, "echo unary", most);
  for (const Json& cell : figures["cells"]) {
    if (cell["what"] != "turnstone stream") continue;
    const int callers = cell["callers"].get<int>();
    ratios["stream_to_slower_floor"][std::to_string(callers)] =
        cell["per_second"].get<double>() /
        std::min(Rate(figures, "echo stream", callers),
                 Rate(figures, "disk", most));
  }
  ratios["lone_p50_to_commit"] =
      Cell(figures, "turnstone unary", fewest)["micros"]["p50"].get<double>() /
      Cell(figures, "disk", fewest)["micros"]["p50"].get<double>();
  for (const Json& cell : figures["cells"]) {
    if (!cell.contains("follower_micros")) continue;
    ratios["follower_p99_to_accept_p99"]
          [std::to_string(cell["callers"].get<int>())] =
              cell["follower_micros"]["p99"].get<double>() /
              cell["micros"]["p99"].get<double>();
  }
  ratios["cost_spread_by_participants"] =
      Spread(figures["by_participants"], "server_cpu_micros");
  ratios["cost_spread_by_history"] =
      Spread(figures["by_history"], "server_cpu_micros");
  const Json& sizes = figures["by_participants"];
  ratios["kib_per_participant"] = (sizes.back()["memory_kib"].get<double>() -
                                   sizes.front()["memory_kib"].get<double>()) /
                                  (sizes.back()["participants"].get<double>() -
                                   sizes.front()["participants"].get<double>());
  ratios["rules_to_clips"] =
      figures["rules_alone"]["events_per_second"].get<double>() /
      figures["rules_alone"]["events_per_second_clips"].get<double>();
  figures["ratios"] = std::move(ratios);
}

void Print(const Json& figures) {
  std::printf("%-28s %10s %9s %8s %8s %8s\n", "", "callers", "events/s",
              "p50, ms", "p99, ms", "p99.9");
  for (const Json& cell : figures["cells"]) {
    PrintCell(cell["what"].get<std::string>(),
              std::to_string(cell["callers"].get<int>()), cell);
  }
  const Json& site = figures["own_tables"];
  for (const Json& cell : site["cells"]) {
    PrintCell("own tables and queries",
              "batch " + std::to_string(cell["batch"].get<int>()), cell);
  }
  std::printf(
      "  every night: %.2f s; %d rules, %d prompts; only there %d, "
      "only with turnstone %d\n",
      site["cells"][0]["nightly_seconds"].get<double>(),
      site["rules"].get<int>(), site["prompts"].get<int>(),
      site["only_the_site"].get<int>(), site["only_turnstone"].get<int>());
  PrintGrowth(figures);
  const Json& rules = figures["rules_alone"];
  std::printf(
      "\nten rules alone: %.0f events/s, %.0f questions/s; CLIPS %.0f "
      "and %.0f; %d prompts, %d differ\n",
      rules["events_per_second"].get<double>(),
      rules["questions_per_second"].get<double>(),
      rules["events_per_second_clips"].get<double>(),
      rules["questions_per_second_clips"].get<double>(),
      rules["prompts"].get<int>(), rules["differ"].get<int>());
  std::printf("serves again %.2f s after being killed with %lld events\n",
              figures["start_after_kill"]["seconds"].get<double>(),
              figures["start_after_kill"]["events"].get<long long>());
  std::printf("\n%s\n", figures["ratios"].dump(2).c_str());
}

}  // namespace turnstone
