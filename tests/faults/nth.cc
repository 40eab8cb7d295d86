#include "tests/faults/nth.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <filesystem>
#include <optional>
#include <utility>

#include "platform/files.h"
#include "tests/faults/nth_checks.h"
#include "tests/faults/sim_disk.h"
#include "tests/scenarios/play.h"

namespace turnstone::faults {
namespace {

using scenarios::Play;
using scenarios::Step;
using scenarios::World;

absl::StatusOr<std::vector<Step>> ReadSteps(const std::string& file) {
  const auto text = ReadFile(file);
  if (!text.ok()) return text.status();
  return scenarios::ParseScript(*text);
}

void Arm(Trouble trouble, int64_t nth, SimDisk& disk) {
  switch (trouble) {
    case Trouble::kFailsOnce:
      return disk.Fail({.nth = nth});
    case Trouble::kFailsForEver:
      return disk.Fail({.nth = nth, .for_ever = true});
    case Trouble::kProcessDies:
    case Trouble::kPowerGoes:
      return disk.StopAt(nth);
  }
}

// The service starts again, and everything must be as it should.
std::string Again(bool power_goes, SimDisk& disk, World& world) {
  if (power_goes) disk.CutPower();
  disk.Start();
  const absl::Status started = world.Restart();
  if (!started.ok()) {
    return absl::StrCat("BrokeDurable: it does not start again: ",
                        started.ToString());
  }
  return WhatBroke(world);
}

// After trouble in `step`: start, make good what was not done, and see that the
// outcome is as if nothing had been.
std::string Recover(Trouble trouble, const Step& step,
                    const std::string& alerts, SimDisk& disk, World& world) {
  std::string broke = Again(trouble == Trouble::kPowerGoes, disk, world);
  if (!broke.empty()) return absl::StrCat("at once: ", broke);
  (void)Play(step, world);
  broke = Again(/*power_goes=*/true, disk, world);
  if (!broke.empty()) return absl::StrCat("after a power cut later: ", broke);
  const std::string now = AlertsInShort(world);
  if (now == alerts) return "";
  return absl::StrCat("BrokeRaises: the alerts are\n", now,
                      "and without trouble they were\n", alerts);
}

}  // namespace

NthTrouble::NthTrouble(std::string file, std::string folder, uint64_t seed)
    : file_(std::move(file)), folder_(std::move(folder)), seed_(seed) {}

std::string NthTrouble::LiveUndisturbed() {
  const auto steps = ReadSteps(file_);
  if (!steps.ok()) return steps.status().ToString();
  // Where the service is to refuse to start there is no life.
  if (!steps->front().expected.empty()) return "";
  SimDisk disk(seed_);
  World world(folder_);
  for (const Step& step : *steps) {
    if (Play(step, world) != step.expected) {
      return absl::StrCat(file_, ":", step.line, ": not as written");
    }
    course_.alerts.push_back(AlertsInShort(world));
  }
  course_.operations = disk.operations();
  return WhatBroke(world);
}

std::string NthTrouble::Live(Trouble trouble, int64_t nth) const {
  const auto steps = ReadSteps(file_);
  if (!steps.ok()) return steps.status().ToString();
  SimDisk disk(seed_);
  World world(folder_);
  Arm(trouble, nth, disk);
  for (size_t i = 0; i < steps->size(); ++i) {
    const Step& step = (*steps)[i];
    (void)Play(step, world);
    if (!disk.failed() && !disk.stopped()) continue;
    const std::string broke =
        Recover(trouble, step, course_.alerts[i], disk, world);
    if (broke.empty()) return "";
    return absl::StrCat("in line ", step.line, " (", step.text, "), ",
                        disk.hit(), ": ", broke);
  }
  return "the operation was not reached";
}

std::vector<std::string> ScenarioPaths() {
  std::vector<std::string> paths;
  const std::string folder = TURNSTONE_SOURCE_DIR "/tests/scenarios";
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".txt" &&
        entry.path().filename() != "CMakeLists.txt") {
      paths.push_back(entry.path());
    }
  }
  std::sort(paths.begin(), paths.end());
  return paths;
}

}  // namespace turnstone::faults
