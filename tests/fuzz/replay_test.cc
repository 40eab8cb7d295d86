// Every kept input again, in every build: seeds made by hand and whatever a
// fuzzer once found. A test is named like its target.
#include <gtest/gtest.h>

#include <filesystem>
#include <string>
#include <vector>

#include "platform/files.h"
#include "tests/fuzz/targets.h"

namespace turnstone::fuzz {
namespace {

class Corpus : public testing::TestWithParam<Target> {};

TEST_P(Corpus, HarmsNothing) {
  const std::string folder =
      std::string(TURNSTONE_SOURCE_DIR "/tests/fuzz/corpus/") + GetParam().name;
  int inputs = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    SCOPED_TRACE(entry.path());
    const auto bytes = ReadFile(entry.path());
    ASSERT_TRUE(bytes.ok()) << bytes.status();
    // In memory of just its size: a step too far is seen.
    const std::vector<uint8_t> exact(bytes->begin(), bytes->end());
    EXPECT_EQ(GetParam().run(exact.data(), exact.size()), 0);
    ++inputs;
  }
  EXPECT_GE(inputs, 5);
}

// Also what no file holds.
TEST_P(Corpus, NothingAtAllHarmsNothing) {
  EXPECT_EQ(GetParam().run(nullptr, 0), 0);
}

INSTANTIATE_TEST_SUITE_P(All, Corpus, testing::ValuesIn(Targets()),
                         [](const auto& target) {
                           return std::string(target.param.name);
                         });

}  // namespace
}  // namespace turnstone::fuzz
