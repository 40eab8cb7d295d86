#include "clients/cli/render/outcome_text.h"

#include <absl/strings/str_cat.h>

#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"

namespace turnstone::cli {

std::string OutcomeText(const v1::RuleOutcome& outcome, absl::TimeZone zone) {
  switch (outcome.outcome()) {
    case v1::OUTCOME_RAISED:
      return absl::StrCat("raised as ", Word(outcome.priority()));
    case v1::OUTCOME_RAISED_FOR_REVIEW:
      return absl::StrCat("could not tell, so raised for review as ",
                          Word(outcome.priority()));
    case v1::OUTCOME_DID_NOT_RAISE:
      return "did not raise";
    case v1::OUTCOME_WAITS:
      return absl::StrCat("cannot tell yet, and is asked again ",
                          DateTime(outcome.due(), zone));
    case v1::OUTCOME_NOT_YET:
      return absl::StrCat("not asked before ", DateTime(outcome.due(), zone));
    default:
      return "not asked";
  }
}

std::string OutcomeEntry(const v1::RuleOutcome& outcome, absl::TimeZone zone) {
  return absl::StrCat(
      WrapAfter("  ", absl::StrCat(outcome.rule(), ": ", outcome.title()), 4),
      Wrap(absl::StrCat(OutcomeText(outcome, zone), ". ", outcome.why()), 6));
}

}  // namespace turnstone::cli
