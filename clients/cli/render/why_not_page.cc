#include "clients/cli/render/why_not_page.h"

#include <absl/strings/str_cat.h>

#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/alert_page.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/outcome_text.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

bool DidRaise(const v1::RuleOutcome& outcome) {
  return outcome.outcome() == v1::OUTCOME_RAISED ||
         outcome.outcome() == v1::OUTCOME_RAISED_FOR_REVIEW;
}

std::string RaisedText(const v1::RuleExplanation& explanation) {
  if (!explanation.alert_id().empty()) {
    return absl::StrCat("It did raise: see ", explanation.alert_id(), ". ");
  }
  return "It raises by the rules in force now, but there is no alert: when the "
         "event was looked at the rules were other ones, and what is on record "
         "is not decided anew. A person should look. ";
}

std::string SilentText(const v1::RuleExplanation& explanation) {
  if (explanation.alert_id().empty()) return "It was asked and did not raise. ";
  return absl::StrCat("It did raise once, see ", explanation.alert_id(),
                      "; by what is known now it does not. ");
}

// What it comes to.
std::string Answer(const v1::RuleExplanation& explanation,
                   absl::TimeZone zone) {
  const v1::RuleOutcome& outcome = explanation.outcome();
  switch (outcome.outcome()) {
    case v1::OUTCOME_RAISED:
    case v1::OUTCOME_RAISED_FOR_REVIEW:
      return RaisedText(explanation);
    case v1::OUTCOME_DID_NOT_RAISE:
      return SilentText(explanation);
    case v1::OUTCOME_WAITS:
      return absl::StrCat(
          "It cannot tell yet. It is asked again ",
          DateTime(outcome.due(), zone),
          ", and raises for review if it still cannot tell then. ");
    case v1::OUTCOME_NOT_YET:
      return absl::StrCat("It has not been asked yet: that is due ",
                          DateTime(outcome.due(), zone), ". ");
    default:
      return "It was never asked: nothing on record for this participant is "
             "what it is asked about. ";
  }
}

void AppendTrace(const v1::RuleOutcome& outcome, Page& page) {
  if (!outcome.has_trace()) return;
  const bool later = outcome.outcome() == v1::OUTCOME_NOT_YET;
  page.Section(later ? "What it would see now"
                     : "What it asked, and what it saw");
  const bool silent = outcome.outcome() == v1::OUTCOME_DID_NOT_RAISE;
  page.Block(TraceTree(outcome.trace(),
                       silent ? "this kept it silent" : "this decides"));
}

void AppendChange(const v1::RuleExplanation& explanation, Page& page) {
  if (explanation.outcome().outcome() != v1::OUTCOME_DID_NOT_RAISE) return;
  if (explanation.change().empty()) {
    page.Section("What it would have taken");
    page.Text("no one or two small changes were found that are enough");
    return;
  }
  page.Section("It would have raised");
  for (int i = 0; i < explanation.change_size(); ++i) {
    page.Text(absl::StrCat(i == 0 ? "" : "and ", explanation.change(i)));
  }
  page.Section("Then the alert would have said");
  page.Text(explanation.why_then());
}

}  // namespace

std::string WhyNotPage(const v1::RuleExplanation& raw) {
  const v1::RuleExplanation explanation = Cleaned(raw);
  const v1::RuleOutcome& outcome = explanation.outcome();
  const absl::TimeZone zone = Zone(explanation.time_zone());
  Page page;
  page.Line(absl::StrCat("Participant ", explanation.participant(), ", site ",
                         explanation.site()));
  page.Block(
      WrapAfter("",
                absl::StrCat("rule ", outcome.rule(), ", version ",
                             outcome.rule_version(), ": ", outcome.title()),
                2));
  page.Section(DidRaise(outcome) ? "It is not silent" : "Why it is silent");
  page.Text(absl::StrCat(Answer(explanation, zone), outcome.why()));
  page.Section("What it is about");
  page.Fact("event", explanation.event());
  if (explanation.has_event_time()) {
    page.Fact("happened", DateTime(explanation.event_time(), zone));
  }
  page.Fact("the rule is", explanation.asks());
  AppendTrace(outcome, page);
  AppendChange(explanation, page);
  page.Section("Caution");
  page.Text(explanation.caution().empty() ? kCaution : explanation.caution());
  return page.ToString();
}

}  // namespace turnstone::cli
