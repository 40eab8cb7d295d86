// Plays every scenario of this folder. A test is named like its file.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <string>
#include <vector>

#include "platform/files.h"
#include "tests/scenarios/explained.h"
#include "tests/scenarios/play.h"

namespace turnstone::scenarios {
namespace {

std::vector<std::string> ScenarioFiles() {
  std::vector<std::string> files;
  const std::string folder = TURNSTONE_SOURCE_DIR "/tests/scenarios";
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".txt" &&
        entry.path().filename() != "CMakeLists.txt") {
      files.push_back(entry.path());
    }
  }
  std::sort(files.begin(), files.end());
  return files;
}

std::string NameOf(const std::string& file) {
  std::string name = std::filesystem::path(file).stem();
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
}

std::string Block(const std::vector<std::string>& lines) {
  if (lines.empty()) return "  (nothing)\n";
  return absl::StrCat("  | ", absl::StrJoin(lines, "\n  | "), "\n");
}

class Scenario : public testing::TestWithParam<std::string> {};

TEST_P(Scenario, GoesAsWritten) {
  const auto text = ReadFile(GetParam());
  ASSERT_TRUE(text.ok()) << text.status();
  const auto steps = ParseScript(*text);
  ASSERT_TRUE(steps.ok()) << GetParam() << ": " << steps.status();
  World world(testing::TempDir() + "scenario_" + NameOf(GetParam()));
  for (const Step& step : *steps) {
    const std::vector<std::string> answer = Play(step, world);
    if (answer == step.expected) continue;
    ADD_FAILURE_AT(GetParam().c_str(), step.line)
        << step.text << "\nwritten:\n"
        << Block(step.expected) << "answered:\n"
        << Block(answer);
    if (step.text.rfind("start ", 0) == 0) return;  // there is no world
  }
  EXPECT_EQ(Block(Unexplained(world)), Block({})) << GetParam();
  EXPECT_EQ(world.ShadowDiffers(), "");
}

INSTANTIATE_TEST_SUITE_P(All, Scenario, testing::ValuesIn(ScenarioFiles()),
                         [](const testing::TestParamInfo<std::string>& file) {
                           return NameOf(file.param);
                         });

}  // namespace
}  // namespace turnstone::scenarios
