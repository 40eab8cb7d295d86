#include "tests/scenarios/show_alert.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_replace.h>
#include <absl/time/time.h>

#include "rules/measure/proto_time.h"
#include "tests/scenarios/show.h"

namespace turnstone::scenarios {
namespace {

// ALERT_STATUS_IN_PROGRESS behind "ALERT_STATUS_" is "in-progress".
std::string Plain(const std::string& name, const std::string& prefix) {
  return absl::StrReplaceAll(absl::AsciiStrToLower(name.substr(prefix.size())),
                             {{"_", "-"}});
}

std::string StatusOf(const v1::Alert& alert) {
  return Plain(v1::AlertStatus_Name(alert.status()), "ALERT_STATUS_");
}

std::string PriorityOf(const v1::Alert& alert) {
  return Plain(v1::Priority_Name(alert.priority()), "PRIORITY_");
}

absl::TimeZone ZoneOf(const v1::Alert& alert) {
  absl::TimeZone zone;
  absl::LoadTimeZone(alert.time_zone(), &zone);
  return zone;
}

std::string ChangeLine(const v1::AlertChange& change, absl::TimeZone zone) {
  std::string line = Moment(FromProto(change.at()), zone) + "  ";
  if (change.by().identity() != "service") {
    absl::StrAppend(&line, change.by().name(), ": ");
  }
  absl::StrAppend(&line, change.text());
  if (!change.told().empty()) {
    absl::StrAppend(&line, " -> ", absl::StrJoin(change.told(), ", "));
  }
  if (change.times() > 1)
    absl::StrAppend(&line, " (", change.times(), " times)");
  if (change.late_seconds() > 0) {
    absl::StrAppend(&line, " (",
                    absl::FormatDuration(absl::Seconds(change.late_seconds())),
                    " late)");
  }
  return line;
}

std::string NextLine(const v1::Alert& alert, absl::TimeZone zone) {
  const v1::Escalation& next = alert.escalation();
  switch (next.climbing()) {
    case v1::UNTIL_RECEIVED:
      return "to be received by " + Moment(FromProto(next.next_at()), zone);
    case v1::UNTIL_CLOSED:
      return "to be closed by " + Moment(FromProto(next.next_at()), zone);
    case v1::UNTIL_HOLD_ENDS:
      return "on hold until " + Moment(FromProto(next.next_at()), zone);
    default:
      return "no deadline";
  }
}

}  // namespace

std::vector<std::string> AlertLines(const v1::Alert& alert) {
  const absl::TimeZone zone = ZoneOf(alert);
  std::vector<std::string> lines = {AlertLine(alert, false)};
  for (const v1::AlertChange& change : alert.history()) {
    lines.push_back("  " + ChangeLine(change, zone));
  }
  lines.push_back("  " + NextLine(alert, zone));
  return lines;
}

std::string AlertLine(const v1::Alert& alert, bool with_site) {
  std::string line = absl::StrCat(alert.alert_id(), " ", PriorityOf(alert),
                                  ": ", alert.rule().rule(), " of ",
                                  with_site ? alert.site() + "/" : "",
                                  alert.participant(), ", ", StatusOf(alert));
  if (alert.has_holder())
    absl::StrAppend(&line, ", with ", alert.holder().name());
  if (alert.latched()) absl::StrAppend(&line, ", latched");
  if (!alert.reopens().empty()) {
    absl::StrAppend(&line, ", takes up ", alert.reopens());
  }
  if (!alert.reopened_as().empty()) {
    absl::StrAppend(&line, ", taken up as ", alert.reopened_as());
  }
  return line;
}

}  // namespace turnstone::scenarios
