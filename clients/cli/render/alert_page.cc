#include "clients/cli/render/alert_page.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/time/civil_time.h>

#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

std::string EventName(const std::string& source, const std::string& id) {
  return absl::StrCat(id, " from ", source);
}

std::string ActorText(const v1::Actor& actor) {
  if (actor.identity() == "service") return "the service";
  return absl::StrCat(actor.name(), ", ", actor.role(), " (", actor.identity(),
                      ")");
}

void Heading(const v1::Alert& alert, absl::Time now, absl::TimeZone zone,
             Page& page) {
  page.Line(absl::StrJoin({alert.alert_id(), Word(alert.priority()),
                           Word(alert.kind()), Word(alert.status())},
                          "   "));
  page.Block(Wrap(alert.rule().title(), 0));
  page.Line("");
  page.Fact("participant",
            absl::StrCat(alert.participant(), ", site ", alert.site()));
  page.Fact("raised",
            absl::StrCat(DateTime(alert.raised_at(), zone), ", ",
                         Age(now - ToTime(alert.raised_at())), " ago"));
  for (const std::string& mark : Marks(alert)) page.Fact("note", mark);
}

void WithdrawalSection(const v1::Alert& alert, absl::TimeZone zone,
                       Page& page) {
  if (!alert.has_withdrawal()) return;
  const v1::Withdrawal& withdrawal = alert.withdrawal();
  page.Section("No longer applies");
  page.Text(withdrawal.reason());
  page.Fact("when", DateTime(withdrawal.at(), zone));
  page.Fact("by event",
            EventName(withdrawal.event_source(), withdrawal.event_id()));
}

std::string ReviewText(const v1::ProtocolReminder& protocol, absl::Time now,
                       absl::TimeZone zone) {
  absl::CivilDay day;
  if (!absl::ParseCivilTime(protocol.review_by(), &day)) {
    return "no review date";
  }
  const std::string date = Date(absl::FromCivil(day, zone), zone);
  if (day < absl::ToCivilDay(now, zone)) {
    return absl::StrCat("its review is OVERDUE since ", date);
  }
  return absl::StrCat("to be reviewed by ", date);
}

void ProtocolSection(const v1::Alert& alert, absl::Time now,
                     absl::TimeZone zone, Page& page) {
  if (alert.has_protocol()) {
    const v1::ProtocolReminder& protocol = alert.protocol();
    page.Section("What your site's protocol says");
    page.Text(absl::StrCat(protocol.title(), " (version ", protocol.version(),
                           "; ", ReviewText(protocol, now, zone), ")"));
    page.Line("");
    page.Block(PlainMarkdown(protocol.text(), 4));
  }
  page.Section("Caution");
  page.Text(alert.caution().empty() ? kCaution : alert.caution());
}

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

void RuleSection(const v1::RuleReference& rule, Page& page) {
  page.Section("Which rule");
  page.Fact("rule",
            absl::StrCat(rule.rule(), ", version ", rule.rule_version()));
  page.Fact("rule set", absl::StrCat(rule.rule_set(), ", version ",
                                     rule.rule_set_version()));
  page.Fact("owner", rule.owner());
  page.Fact("rationale", rule.rationale());
  page.Fact("source", rule.source());
  page.Fact("configuration", rule.configuration().substr(0, 16));
}

void HistorySection(const v1::Alert& alert, absl::TimeZone zone, Page& page) {
  page.Section("What happened since");
  for (const v1::AlertChange& change : alert.history()) {
    page.Text(
        absl::StrJoin({DateTime(change.at(), zone), Word(change.status()),
                       Word(change.priority()), "by " + ActorText(change.by())},
                      ", "));
    if (!change.text().empty()) page.Block(Wrap(change.text(), 6));
  }
}

void ClosingSection(const v1::Alert& alert, absl::TimeZone zone, Page& page) {
  if (!alert.has_closing()) return;
  const v1::Closing& closing = alert.closing();
  page.Section("Closed");
  page.Fact("outcome", closing.outcome());
  page.Fact("note", closing.note());
  page.Fact("by", ActorText(closing.by()));
  page.Fact("when", DateTime(closing.at(), zone));
}

void NextSection(const v1::Alert& alert, Page& page) {
  if (!IsOpen(alert)) return;
  page.Section("Next");
  if (alert.status() == v1::ALERT_STATUS_REQUESTED) {
    page.Text("turnstone receive " + alert.alert_id());
  }
  page.Text(absl::StrCat("turnstone close ", alert.alert_id(),
                         " --outcome OUTCOME --note \"WHAT WAS DONE\""));
}

}  // namespace

std::string AlertPage(const v1::Alert& raw, absl::Time now) {
  const v1::Alert alert = Cleaned(raw);
  const absl::TimeZone zone = Zone(alert.time_zone());
  Page page;
  Heading(alert, now, zone, page);
  if (alert.occurrence_size() > 0) {
    page.Section("Why");
    page.Text(alert.occurrence(0).why());
  }
  WithdrawalSection(alert, zone, page);
  ProtocolSection(alert, now, zone, page);
  WhySections(alert, zone, page);
  RuleSection(alert.rule(), page);
  HistorySection(alert, zone, page);
  ClosingSection(alert, zone, page);
  NextSection(alert, page);
  return page.ToString();
}

}  // namespace turnstone::cli
