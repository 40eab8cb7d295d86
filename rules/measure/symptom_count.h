// The published symptom-count algorithm of an instrument (for the PHQ-9:
// Spitzer 1999, Kroenke 2001). A measure, never a diagnosis.
#pragma once

#include <optional>

#include "rules/measure/score.h"

namespace turnstone {

enum class SymptomPattern { kNone, kOther, kMajor };

struct SymptomCountResult {
  // Symptoms that count, at least and at most, given missing answers.
  Interval count;
  // Absent while missing answers could change the pattern.
  std::optional<SymptomPattern> pattern;
};

// Absent if the instrument has no such algorithm. Pure.
[[nodiscard]] std::optional<SymptomCountResult> CountSymptoms(
    const Scale& scale, const Score& score);

}  // namespace turnstone
