#include "clients/cli/render/alert_record.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include "clients/cli/render/alert_page.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

void OccurrenceFacts(const v1::Occurrence& occurrence, absl::TimeZone zone,
                     Page& page) {
  page.Fact("event",
            EventName(occurrence.event_source(), occurrence.event_id()));
  page.Fact("corrected by", occurrence.corrected_by());
  page.Fact("happened", DateTime(occurrence.effective_time(), zone));
  page.Fact("raised", absl::StrCat(DateTime(occurrence.raised_at(), zone),
                                   " as ", Word(occurrence.priority())));
  if (occurrence.late_seconds() > 0) {
    page.Fact("late",
              absl::StrCat(Age(absl::Seconds(occurrence.late_seconds())),
                           " after it was due"));
  }
  if (occurrence.has_no_longer_since()) {
    page.Fact("taken away", DateTime(occurrence.no_longer_since(), zone));
  }
  page.Fact("the answer", Word(occurrence.truth()));
  page.Block(TraceTree(occurrence.trace()));
}

void WhySections(const v1::Alert& alert, absl::TimeZone zone, Page& page) {
  for (int i = 0; i < alert.occurrence_size(); ++i) {
    const v1::Occurrence& occurrence = alert.occurrence(i);
    page.Section(i == 0 ? "What was known" : absl::StrCat("Repeat ", i));
    // That of the first stands at the top of the page.
    if (i > 0) page.Text(occurrence.why());
    OccurrenceFacts(occurrence, zone, page);
  }
}

void RuleSection(const v1::Alert& alert, Page& page) {
  const v1::RuleReference& rule = alert.rule();
  page.Section("Which rule");
  page.Fact("rule",
            absl::StrCat(rule.rule(), ", version ", rule.rule_version()));
  page.Fact("rule set", absl::StrCat(rule.rule_set(), ", version ",
                                     rule.rule_set_version()));
  page.Fact("site's file",
            absl::StrCat(alert.site(), ", version ", alert.site_version()));
  page.Fact("owner", rule.owner());
  page.Fact("rationale", rule.rationale());
  page.Fact("source", rule.source());
  page.Fact("configuration", rule.configuration().substr(0, 16));
}

std::string ChangeText(const v1::AlertChange& change, absl::TimeZone zone) {
  std::string text =
      absl::StrJoin({DateTime(change.at(), zone), Word(change.status()),
                     Word(change.priority()), "by " + ActorText(change.by())},
                    ", ");
  if (change.late_seconds() > 0) {
    absl::StrAppend(&text, ", ", Age(absl::Seconds(change.late_seconds())),
                    " late");
  }
  return text;
}

// Of the last rung, which repeats, one entry stands for all.
std::string ToldText(const v1::AlertChange& change) {
  std::string text;
  if (!change.told().empty()) {
    text = "told: " + absl::StrJoin(change.told(), ", ");
  }
  if (change.times() > 1) {
    absl::StrAppend(&text, "; ", change.times(),
                    " times so far, the latest at this time");
  }
  return text;
}

void HistorySection(const v1::Alert& alert, absl::TimeZone zone, Page& page) {
  page.Section("What happened since");
  for (const v1::AlertChange& change : alert.history()) {
    page.Text(ChangeText(change, zone));
    for (const std::string& text : {change.text(), ToldText(change)}) {
      if (!text.empty()) page.Block(Wrap(text, 6));
    }
  }
}

}  // namespace

std::string EventName(const std::string& source, const std::string& id) {
  return absl::StrCat(id, " from ", source);
}

std::string ActorText(const v1::Actor& actor) {
  if (actor.identity() == "service") return "the service";
  return absl::StrCat(actor.name(), ", ", actor.role(), " (", actor.identity(),
                      ")");
}

void AppendRecord(const v1::Alert& alert, absl::TimeZone zone, Page& page) {
  WhySections(alert, zone, page);
  RuleSection(alert, page);
  HistorySection(alert, zone, page);
}

}  // namespace turnstone::cli
