// Words shared by the explanations. Pure.
#pragma once

#include <string>

#include "rules/engine/history.h"
#include "rules/engine/truth.h"

namespace turnstone {

// "which is", "which is not", "which may or may not be".
[[nodiscard]] std::string Verdict(Truth truth);
// "1 point", "3 points".
[[nodiscard]] std::string Count(int count, const std::string& noun);
// "the PHQ-9 total is 22 (severe)", or "... lies between 18 and 21, 1 answer
// missing".
[[nodiscard]] std::string TotalInWords(const Screening& form);
// "PHQ-9 12 (moderate)", "visit-3: no answer": one line of a timeline.
[[nodiscard]] std::string FactInWords(const Fact& fact);
// "no answer", "refused at the door", ...
[[nodiscard]] std::string OutcomeInWords(v1::VisitOutcomeKind outcome);
// One sentence for a clinician: the parts that decided `trace`.
[[nodiscard]] std::string WhyInWords(const v1::ConditionTrace& trace);

}  // namespace turnstone
