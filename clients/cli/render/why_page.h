// Why an alert exists, at three depths.
#pragma once

#include <string>

#include "turnstone/v1/explain.pb.h"

namespace turnstone::cli {

enum class Depth {
  kSentence,
  kRule,  // its rule, condition by condition
  kAll,   // and what every other rule said of the same event
};

// Times in the site's zone. Whatever the depth, it says where the alert would
// not be raised by what is known now.
[[nodiscard]] std::string WhyPage(const v1::AlertExplanation& explanation,
                                  Depth depth);

}  // namespace turnstone::cli
