#include "clients/cli/render/alert_page.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/time/civil_time.h>

#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/alert_record.h"
#include "clients/cli/render/alert_state.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

std::string WithText(const v1::Alert& alert) {
  const bool held = IsOpen(alert) && alert.has_holder();
  return held ? ActorText(alert.holder()) : HolderName(alert);
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
                         Age(now - FromProto(alert.raised_at())), " ago"));
  page.Fact("with", WithText(alert));
  page.Fact("on hold", alert.hold().reason());
  page.Fact("next", DeadlineText(alert));
  page.Fact("last told", absl::StrJoin(alert.escalation().told(), ", "));
  for (const std::string& mark : Marks(alert)) page.Fact("note", mark);
  if (!alert.reopened_as().empty()) {
    page.Fact("note", absl::StrCat("taken up again as ", alert.reopened_as()));
  }
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

void ClosingSection(const std::string& title, const v1::Closing& closing,
                    absl::TimeZone zone, Page& page) {
  page.Section(title);
  page.Fact("outcome", closing.outcome());
  page.Fact("note", closing.note());
  page.Fact("by", ActorText(closing.by()));
  page.Fact("when", DateTime(closing.at(), zone));
  if (closing.has_confirmed_by()) {
    page.Fact("confirmed by", ActorText(closing.confirmed_by()));
  }
}

void NextSection(const v1::Alert& alert, Page& page) {
  page.Section("Next");
  for (const std::string& command : NextCommands(alert)) page.Text(command);
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
  AppendRecord(alert, zone, page);
  if (alert.has_proposed_closing()) {
    ClosingSection("Closed, if a second person confirms it",
                   alert.proposed_closing(), zone, page);
  }
  if (alert.has_closing()) {
    ClosingSection("Closed", alert.closing(), zone, page);
  }
  NextSection(alert, page);
  return page.ToString();
}

}  // namespace turnstone::cli
