#include "clients/cli/render/why_page.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <vector>

#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/alert_page.h"
#include "clients/cli/render/alert_record.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/outcome_text.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

using Outcomes = google::protobuf::RepeatedPtrField<v1::RuleOutcome>;

// Null if the rule is not among them.
const v1::RuleOutcome* FindOutcome(const Outcomes& outcomes,
                                   const std::string& rule) {
  for (const v1::RuleOutcome& outcome : outcomes) {
    if (outcome.rule() == rule) return &outcome;
  }
  return nullptr;
}

const v1::Occurrence& ReasonOf(const v1::AlertExplanation& explanation) {
  return explanation.alert().occurrence(explanation.occurrence());
}

// What would be said of the alert itself now, if that is something else.
std::string OwnRuleNow(const v1::AlertExplanation& explanation,
                       absl::TimeZone zone) {
  const v1::RuleOutcome* now =
      FindOutcome(explanation.outcome_now(), explanation.alert().rule().rule());
  if (now == nullptr) return "";
  return absl::StrCat("By what is known now, and the rules in force now: ",
                      OutcomeText(*now, zone), ". ", now->why());
}

void EventFacts(const v1::AlertExplanation& explanation, absl::TimeZone zone,
                Page& page) {
  const v1::Alert& alert = explanation.alert();
  const v1::Occurrence& reason = ReasonOf(explanation);
  page.Fact("event", explanation.event());
  page.Fact("known as", EventName(reason.event_source(), reason.event_id()));
  page.Fact("corrected by", reason.corrected_by());
  page.Fact("happened", DateTime(reason.effective_time(), zone));
  page.Fact("raised", absl::StrCat(DateTime(reason.raised_at(), zone), " as ",
                                   Word(reason.priority())));
  if (reason.has_no_longer_since()) {
    page.Fact("taken away", DateTime(reason.no_longer_since(), zone));
  }
  page.Fact("configuration",
            (reason.configuration().empty() ? alert.rule().configuration()
                                            : reason.configuration())
                .substr(0, 16));
}

void RuleSaid(const v1::AlertExplanation& explanation,
              const v1::RuleOutcome& own, absl::TimeZone zone, Page& page) {
  page.Section("The rule");
  page.Fact("rule", absl::StrCat(own.rule(), ", version ", own.rule_version()));
  page.Fact("title", own.title());
  page.Fact("owner", explanation.alert().rule().owner());
  page.Fact("it said", OutcomeText(own, zone));
  page.Section("What it asked, and what it saw");
  page.Block(TraceTree(own.trace(), "this decided"));
}

void RuleList(const std::string& title, const v1::AlertExplanation& explanation,
              absl::TimeZone zone, const std::vector<v1::Outcome>& which,
              Page& page) {
  bool begun = false;
  for (const v1::Outcome wanted : which) {
    for (const v1::RuleOutcome& one : explanation.outcome()) {
      if (one.outcome() != wanted) continue;
      if (one.rule() == explanation.alert().rule().rule()) continue;
      if (!begun) page.Section(title);
      begun = true;
      page.Block(OutcomeEntry(one, zone));
    }
  }
}

void NotAskedList(const v1::AlertExplanation& explanation, Page& page) {
  std::vector<std::string> ids;
  for (const v1::RuleOutcome& one : explanation.outcome()) {
    if (one.outcome() == v1::OUTCOME_NOT_ASKED) ids.push_back(one.rule());
  }
  if (ids.empty()) return;
  page.Section("Not asked about events of this kind");
  page.Text(absl::StrJoin(ids, ", "));
}

void OtherRules(const v1::AlertExplanation& explanation, absl::TimeZone zone,
                Page& page) {
  RuleList("Other rules that raised too", explanation, zone,
           {v1::OUTCOME_RAISED, v1::OUTCOME_RAISED_FOR_REVIEW}, page);
  RuleList("Rules still to be asked then", explanation, zone,
           {v1::OUTCOME_WAITS, v1::OUTCOME_NOT_YET}, page);
  RuleList("Rules that did not raise", explanation, zone,
           {v1::OUTCOME_DID_NOT_RAISE}, page);
  NotAskedList(explanation, page);
  if (explanation.outcome_now().empty()) return;
  page.Section("What is otherwise now");
  for (const v1::RuleOutcome& one : explanation.outcome_now()) {
    page.Block(OutcomeEntry(one, zone));
  }
}

void Deeper(const v1::Alert& alert, Depth depth, Page& page) {
  if (depth == Depth::kAll) return;
  page.Line("");
  page.Line(absl::StrCat("More: turnstone alert ", alert.alert_id(), " --why=",
                         depth == Depth::kSentence ? "rule" : "all"));
}

}  // namespace

std::string WhyPage(const v1::AlertExplanation& raw, Depth depth) {
  const v1::AlertExplanation explanation = Cleaned(raw);
  const v1::Alert& alert = explanation.alert();
  const absl::TimeZone zone = Zone(alert.time_zone());
  const v1::RuleOutcome* own =
      FindOutcome(explanation.outcome(), alert.rule().rule());
  Page page;
  std::string sentence = absl::StrCat(alert.alert_id(), ": ");
  if (alert.occurrence_size() > 1) {
    absl::StrAppend(&sentence, "reason ", explanation.occurrence() + 1, " of ",
                    alert.occurrence_size(), ": ");
  }
  page.Block(WrapAfter("", sentence + ReasonOf(explanation).why(), 0));
  const std::string now = OwnRuleNow(explanation, zone);
  if (!now.empty()) page.Block(Wrap(now, 0));
  if (depth != Depth::kSentence) {
    page.Line("");
    EventFacts(explanation, zone, page);
    if (own != nullptr) RuleSaid(explanation, *own, zone, page);
  }
  if (depth == Depth::kAll) OtherRules(explanation, zone, page);
  Deeper(alert, depth, page);
  page.Section("Caution");
  page.Text(alert.caution().empty() ? kCaution : alert.caution());
  return page.ToString();
}

}  // namespace turnstone::cli
