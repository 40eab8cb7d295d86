// The engine against the second evaluator, on histories made by chance. Neither
// is the expected value of the other: both are read from the comments in
// proto/, by two hands, and where they differ the contract decides.
//
// SECOND_HISTORIES: how many; SECOND_SEED: the seed of the first.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <iostream>

#include "tests/second/agreement.h"
#include "tests/second/random_history.h"

namespace turnstone::second {
namespace {

using ::testing::IsSupersetOf;

uint64_t FromEnvironment(const char* name, uint64_t otherwise) {
  const char* text = std::getenv(name);
  return text == nullptr ? otherwise : std::strtoull(text, nullptr, 10);
}

TEST_F(Agreement, OnHistoriesMadeByChance) {
  const uint64_t histories = FromEnvironment("SECOND_HISTORIES", 5000);
  const uint64_t seed = FromEnvironment("SECOND_SEED", 20270104);
  std::cout << histories << " histories from seed " << seed << "\n";
  for (uint64_t i = 0; i < histories && !HasFailure(); ++i) {
    Hold(RandomHistory(configuration_, seed + i), i % 10 == 0,
         "SECOND_SEED=" + std::to_string(seed + i) + " SECOND_HISTORIES=1");
  }
}

// Else the two could agree in silence.
TEST_F(Agreement, IsAboutEveryRule) {
  for (const Pair* pair : {&shipped_, &odd_}) {
    std::set<std::string> spoke;
    for (uint64_t seed = 0; seed < 4000; ++seed) {
      const auto history = RandomHistory(configuration_, seed);
      spoke.merge(pair->Speak(history, LongAfter(history)));
    }
    EXPECT_THAT(spoke, IsSupersetOf(pair->Rules()));
  }
}

}  // namespace
}  // namespace turnstone::second
