#include "clients/cli/render/alert_state.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>

#include <algorithm>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

std::string Awaited(const v1::Alert& alert) {
  if (alert.has_proposed_closing()) return "confirmed";
  return alert.escalation().climbing() == v1::UNTIL_CLOSED ? "closed"
                                                           : "received";
}

std::string Sentence(std::string text) {
  if (text.empty()) return "";
  text[0] = absl::ascii_toupper(static_cast<unsigned char>(text[0]));
  return text + ".";
}

std::string OpenStanding(const v1::Alert& alert) {
  std::string text =
      alert.reopens().empty()
          ? absl::StrCat(alert.alert_id(), " is ", Word(alert.status()))
          : absl::StrCat(alert.alert_id(), " takes up ", alert.reopens(),
                         " again: ", Word(alert.status()));
  absl::StrAppend(&text, ", with ", HolderName(alert), ".");
  if (alert.has_proposed_closing()) {
    absl::StrAppend(&text, " Closed by ", alert.proposed_closing().by().name(),
                    "; a second person still has to confirm it.");
  }
  return absl::StrCat(text, " ", Sentence(DeadlineText(alert)));
}

std::string EndedStanding(const v1::Alert& alert) {
  std::string text =
      absl::StrCat(alert.alert_id(), " is ", Word(alert.status()));
  const v1::Closing& closing = alert.closing();
  if (!closing.outcome().empty()) {
    absl::StrAppend(&text, ": ", closing.outcome());
  }
  if (closing.has_confirmed_by()) {
    absl::StrAppend(&text, ", confirmed by ", closing.confirmed_by().name());
  }
  return text + ". Nobody is told of it any more.";
}

}  // namespace

bool IsOpen(const v1::Alert& alert) {
  switch (alert.status()) {
    case v1::ALERT_STATUS_COMPLETED:
    case v1::ALERT_STATUS_CANCELLED:
    case v1::ALERT_STATUS_ENTERED_IN_ERROR:
      return false;
    default:
      return true;
  }
}

bool IsUnknown(const v1::Alert& alert) {
  const auto& all = alert.occurrence();
  const bool any_stands = std::any_of(
      all.begin(), all.end(),
      [](const v1::Occurrence& o) { return !o.has_no_longer_since(); });
  bool unknown = false;
  for (const v1::Occurrence& occurrence : all) {
    if (any_stands && occurrence.has_no_longer_since()) continue;
    if (occurrence.truth() == v1::TRUTH_TRUE) return false;
    unknown = unknown || occurrence.truth() == v1::TRUTH_UNKNOWN;
  }
  return unknown;
}

std::vector<std::string> Marks(const v1::Alert& alert) {
  std::vector<std::string> marks;
  if (IsUnknown(alert)) {
    marks.emplace_back("to be checked: information missing");
  }
  if (alert.has_withdrawal()) marks.emplace_back("no longer applies");
  if (!alert.reopens().empty()) {
    marks.push_back(absl::StrCat("takes up ", alert.reopens(), " again"));
  }
  if (alert.has_proposed_closing()) {
    marks.push_back(absl::StrCat("waits for a second person (closed by ",
                                 alert.proposed_closing().by().name(), ")"));
  } else if (alert.latched() && IsOpen(alert)) {
    marks.emplace_back("must be closed by a person");
  }
  return marks;
}

std::string HolderName(const v1::Alert& alert) {
  if (!IsOpen(alert)) return "";
  return alert.holder().name().empty() ? "nobody" : alert.holder().name();
}

std::optional<absl::Time> NextAt(const v1::Alert& alert) {
  if (!IsOpen(alert)) return std::nullopt;
  if (alert.escalation().has_next_at()) {
    return FromProto(alert.escalation().next_at());
  }
  if (alert.has_hold()) return FromProto(alert.hold().until());
  return std::nullopt;
}

std::string NextText(const v1::Alert& alert) {
  if (!NextAt(alert).has_value()) return "";
  return alert.escalation().next().empty() ? "whoever comes next is told"
                                           : alert.escalation().next();
}

std::string DeadlineText(const v1::Alert& alert) {
  const std::optional<absl::Time> next = NextAt(alert);
  if (!next.has_value()) return "";
  const std::string at = DateTime(*next, Zone(alert.time_zone()));
  if (alert.status() == v1::ALERT_STATUS_ON_HOLD) {
    return absl::StrCat("comes back by itself at ", at,
                        "; then somebody has to receive it again");
  }
  return absl::StrCat("to be ", Awaited(alert), " by ", at, ", or ",
                      NextText(alert));
}

std::string Standing(const v1::Alert& raw) {
  const v1::Alert alert = Cleaned(raw);
  return WrapAfter(
      "", IsOpen(alert) ? OpenStanding(alert) : EndedStanding(alert), 0);
}

std::vector<std::string> NextCommands(const v1::Alert& alert) {
  const auto command = [&alert](const char* verb, const char* more = "") {
    return absl::StrCat("turnstone ", verb, " ", alert.alert_id(), more);
  };
  if (!IsOpen(alert)) {
    if (!alert.reopened_as().empty()) {
      return {"turnstone alert " + alert.reopened_as()};
    }
    return {command("reopen", " --reason \"WHY\"")};
  }
  std::vector<std::string> commands;
  if (alert.has_proposed_closing()) commands.push_back(command("confirm"));
  if (alert.status() == v1::ALERT_STATUS_REQUESTED) {
    commands.push_back(command("receive"));
  }
  if (alert.status() != v1::ALERT_STATUS_IN_PROGRESS) {
    commands.push_back(command("start"));
  }
  const bool holdable =
      !(alert.latched() && alert.priority() == v1::PRIORITY_STAT);
  if (holdable && alert.status() != v1::ALERT_STATUS_ON_HOLD) {
    commands.push_back(command("hold", " --until TIME --reason \"WHY\""));
  }
  commands.push_back(command("note", " \"WHAT OTHERS SHOULD KNOW\""));
  if (!alert.has_proposed_closing()) {
    commands.push_back(
        command("close", " --outcome OUTCOME --note \"WHAT WAS DONE\""));
  }
  if (!alert.latched()) {
    commands.push_back(command("cancel", " --reason \"WHY\""));
  }
  return commands;
}

}  // namespace turnstone::cli
