// Words shared by the explanations. Pure.
#pragma once

#include <string>

#include "rules/engine/history.h"
#include "rules/measure/truth.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// "which is", "which is not", "which may or may not be".
[[nodiscard]] std::string Verdict(Truth truth);
// "1 point", "3 points".
[[nodiscard]] std::string Count(int count, const std::string& noun);
// "the PHQ-9 total is 22 (severe)", or "... lies between 18 and 21, 1 answer
// missing".
[[nodiscard]] std::string TotalInWords(const Screening& form);
// "12", or "8-14" where answers are missing. REQUIRES: a screening.
[[nodiscard]] std::string ShortTotal(const Fact& fact);
// "there is no earlier phq-9 to compare with".
[[nodiscard]] std::string NothingEarlier(const std::string& instrument);
// "PHQ-9 12 (moderate)", "visit-3: no answer": one line of a timeline.
[[nodiscard]] std::string FactInWords(const Fact& fact);
// "no answer", "refused at the door", ...
[[nodiscard]] std::string OutcomeInWords(v1::VisitOutcomeKind outcome);
// "completed", "lost contact", ...
[[nodiscard]] std::string DischargeInWords(v1::DischargeReason reason);
// "reliably worse", "in remission", ...
[[nodiscard]] std::string CourseInWords(v1::CourseOutcome outcome);
// "the Cognitive screen result is: positive". REQUIRES: the form has a result.
[[nodiscard]] std::string ResultInWords(const Screening& form);
// One sentence for a clinician: the parts that decided `trace`.
[[nodiscard]] std::string WhyInWords(const v1::ConditionTrace& trace);

}  // namespace turnstone
