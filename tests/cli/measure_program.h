// The program measuring what a test writes.
#pragma once

#include <absl/strings/str_cat.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/cli/program.h"

namespace turnstone::cli {

inline const std::string kRoot = TURNSTONE_SOURCE_DIR;
inline const std::string kHeader =
    "participant,date,instrument,answers,total\n";

class Measure : public testing::Test {
 protected:
  // Four instruments only, so that messages list no others.
  Outcome Run(const std::string& input,
              const std::vector<std::string>& more = {}) {
    program_.input = input;
    std::vector<std::string> words = {"measure", "-"};
    for (const std::string id :
         {"cognitive-screen", "gds-15", "phq-9", "who-5"}) {
      words.insert(words.end(),
                   {"--config", absl::StrCat(kRoot, "/rules/instruments/", id,
                                             ".textproto")});
    }
    words.insert(words.end(), more.begin(), more.end());
    return program_.RunAsWritten(words);
  }

  Program program_;
};

// Totals and dates of a participant's series, in JSON.
inline nlohmann::json Measured(const std::string& out) {
  return nlohmann::json::parse(out, nullptr, /*allow_exceptions=*/false);
}

}  // namespace turnstone::cli
