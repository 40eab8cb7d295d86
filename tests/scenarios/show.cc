#include "tests/scenarios/show.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <map>
#include <regex>

#include "rules/measure/proto_time.h"
#include "tests/scenarios/show_alert.h"
#include "tests/scenarios/show_burden.h"

namespace turnstone::scenarios {
namespace {

absl::StatusOr<Lines> Board(const std::string&, World& world) {
  v1::ListAlertsRequest request;
  for (const v1::AlertStatus open :
       {v1::ALERT_STATUS_REQUESTED, v1::ALERT_STATUS_RECEIVED,
        v1::ALERT_STATUS_IN_PROGRESS, v1::ALERT_STATUS_ON_HOLD}) {
    request.add_status(open);
  }
  const auto alerts = world.core().ListAlerts(request, SiteScope::All());
  if (!alerts.ok()) return alerts.status();
  Lines lines;
  for (const v1::Alert& alert : alerts->alert()) {
    lines.push_back(AlertLine(alert, world.has_sites()));
  }
  return lines;
}

absl::StatusOr<Lines> OnCall(const std::string& site, World& world) {
  v1::GetOnCallRequest request;
  request.set_site(site);
  const auto on_call = world.core().GetOnCall(request);
  if (!on_call.ok()) return on_call.status();
  Lines lines;
  for (const v1::Duty& duty : on_call->duty()) {
    lines.push_back(absl::StrCat(
        duty.role(), ": ",
        duty.person().empty() ? "nobody"
                              : absl::StrCat(absl::StrJoin(duty.person(), ", "),
                                             " (", duty.why(), ")"),
        " until ", Moment(FromProto(duty.until()), world.zone()), ", then ",
        duty.next_person().empty() ? "nobody"
                                   : absl::StrJoin(duty.next_person(), ", ")));
  }
  for (const std::string& concern : on_call->concern()) {
    lines.push_back("mind: " + concern);
  }
  return lines;
}

absl::StatusOr<Lines> HandOver(const std::string& site, World& world) {
  v1::GetHandoverRequest request;
  request.set_site(site);
  const auto handover = world.core().GetHandover(request, SiteScope::All());
  if (!handover.ok()) return handover.status();
  Lines lines;
  if (handover->has_offer()) {
    lines.push_back(absl::StrCat(handover->offer().from(), " offers it to ",
                                 handover->offer().to(), ": ",
                                 handover->offer().note()));
  }
  for (const v1::Alert& alert : handover->alert()) {
    lines.push_back(AlertLine(alert, false));
  }
  return lines;
}

absl::StatusOr<Lines> SentLines(const std::string&, World& world) {
  Lines lines;
  for (const Sent& sent : world.channels().TakeSent()) {
    const v1::OwedMessage& first = sent.envelope.messages.front();
    std::vector<std::string> parts;
    for (const v1::OwedMessage& message : sent.envelope.messages) {
      parts.push_back(absl::StrCat(
          message.alert_id().empty() ? "" : message.alert_id() + " ",
          message.reason()));
    }
    lines.push_back(absl::StrCat(
        // How long a channel rests after failures is spread by chance.
        first.attempts() > 0 ? "later" : Moment(sent.at, world.zone()), "  ",
        first.channel(), " to ", sent.envelope.person,
        first.in_digest() ? ", daily: " : ": ", absl::StrJoin(parts, "; ")));
  }
  return lines;
}

absl::StatusOr<Lines> Owed(const std::string& site, World& world) {
  v1::ListOutboxRequest request;
  request.set_site(site);
  const auto outbox = world.core().ListOutbox(request, SiteScope::All());
  if (!outbox.ok()) return outbox.status();
  Lines lines;
  for (const v1::OwedMessage& message : outbox->message()) {
    std::string line = absl::StrCat(
        message.channel(), " to ", message.person(), ": ", message.alert_id(),
        message.status() == v1::MESSAGE_STATUS_GIVEN_UP ? ", given up"
                                                        : ", owed since ");
    if (message.status() == v1::MESSAGE_STATUS_OWED) {
      line += Moment(FromProto(message.owed_since()), world.zone());
    }
    if (!message.last_error().empty()) {
      absl::StrAppend(&line, ": ", message.last_error());
    }
    lines.push_back(line);
  }
  return lines;
}

absl::StatusOr<Lines> Due(const std::string& site, absl::Duration within,
                          World& world) {
  v1::ListDueRequest request;
  request.set_site(site);
  *request.mutable_until() = ToProto(world.core().Now() + within);
  const auto due = world.core().ListDue(request, SiteScope::All());
  if (!due.ok()) return due.status();
  Lines lines;
  for (const v1::DueItem& item : due->item()) {
    lines.push_back(absl::StrCat(
        Moment(FromProto(item.at()), world.zone()), "  ", item.participant(),
        item.alert_id().empty() ? "" : " " + item.alert_id(), ": ",
        item.text()));
  }
  return lines;
}

absl::StatusOr<Lines> BurdenOfLast(const std::string& site, absl::Duration span,
                                   World& world) {
  v1::GetBurdenRequest request;
  request.set_site(site);
  *request.mutable_from() = ToProto(world.core().Now() - span);
  *request.mutable_to() = ToProto(world.core().Now());
  const auto burden = world.core().GetBurden(request, SiteScope::All());
  if (!burden.ok()) return burden.status();
  return BurdenLines(*burden);
}

}  // namespace

std::string Moment(absl::Time time, absl::TimeZone zone) {
  return absl::StrCat(absl::FormatTime("%a ", time, zone),
                      absl::ToCivilDay(time, zone).day(),
                      absl::FormatTime(" %b %H:%M %Z", time, zone));
}

absl::StatusOr<Lines> Show(const std::string& what, World& world) {
  using Shower = absl::StatusOr<Lines> (*)(const std::string&, World&);
  static const std::map<std::string, Shower> plain = {{"board", Board},
                                                      {"on-call", OnCall},
                                                      {"sent", SentLines},
                                                      {"hand-over", HandOver},
                                                      {"owed", Owed}};
  static const std::regex asked("(.+?)(?: at (\\S+))?");
  static const std::regex span("(due within|burden of) ([0-9]{1,5}) days?");
  std::smatch match;
  if (!std::regex_match(what, match, asked)) {
    return absl::InvalidArgumentError("show what?");
  }
  const std::string thing = match[1];
  const std::string site =
      match[2].matched ? match[2].str() : world.Place("").first;
  if (thing.rfind("A-", 0) == 0) {
    const auto alert = world.core().GetAlert(thing, SiteScope::All());
    if (!alert.ok()) return alert.status();
    return AlertLines(*alert);
  }
  const auto shower = plain.find(thing);
  if (shower != plain.end()) return shower->second(site, world);
  if (!std::regex_match(thing, match, span)) {
    return absl::InvalidArgumentError("there is no \"" + thing + "\" to show");
  }
  const absl::Duration days = absl::Hours(24) * std::stoi(match[2]);
  return match[1] == "due within" ? Due(site, days, world)
                                  : BurdenOfLast(site, days, world);
}

}  // namespace turnstone::scenarios
