#include "service/core/work_checks.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>

#include "service/core/alert_record.h"

namespace turnstone {
namespace {

constexpr size_t kNoteCharactersMax = 1000;

std::string OutcomesOf(const Site& site) {
  std::vector<std::string> outcomes;
  for (const v1::ClosingOutcome& outcome : site.config.closing_outcome()) {
    outcomes.push_back(
        absl::StrCat("  ", outcome.id(), "  (", outcome.title(), ")"));
  }
  return absl::StrJoin(outcomes, "\n");
}

bool IsBlank(const std::string& text) {
  return text.find_first_not_of(" \t\r\n") == std::string::npos;
}

}  // namespace

absl::Status RequireOpen(const v1::Alert& alert) {
  if (IsOpen(alert)) return absl::OkStatus();
  std::string message = absl::StrCat(alert.alert_id(), " is not open any more");
  if (alert.has_closing()) {
    absl::StrAppend(&message, ": ", alert.closing().by().name(),
                    " closed it with the outcome \"", alert.closing().outcome(),
                    "\"");
  } else if (alert.status() == v1::ALERT_STATUS_CANCELLED) {
    absl::StrAppend(&message, ": it was cancelled");
  } else if (alert.has_withdrawal()) {
    absl::StrAppend(&message, ": its source was withdrawn");
  }
  return absl::FailedPreconditionError(message);
}

absl::Status CheckNote(const std::string& field, const std::string& note) {
  if (note.size() <= kNoteCharactersMax) return absl::OkStatus();
  return absl::InvalidArgumentError(
      absl::StrCat(field, ": longer than ", kNoteCharactersMax,
                   " characters; keep it short and leave the rest to the "
                   "participant's record"));
}

absl::Status RequireNote(const std::string& field, const std::string& note,
                         const std::string& what) {
  if (!IsBlank(note)) return CheckNote(field, note);
  return absl::InvalidArgumentError(
      absl::StrCat(field, ": missing; say in a few words ", what));
}

absl::Status RequireOutcome(const std::string& outcome, const v1::Alert& alert,
                            const Site& site) {
  const auto& outcomes = site.config.closing_outcome();
  const bool known = std::any_of(
      outcomes.begin(), outcomes.end(),
      [&](const v1::ClosingOutcome& one) { return one.id() == outcome; });
  if (known) return absl::OkStatus();
  return absl::InvalidArgumentError(absl::StrCat(
      outcome.empty()
          ? absl::StrCat(alert.alert_id(), " closes only with an outcome")
          : absl::StrCat("outcome: \"", outcome, "\" is not one of ",
                         site.config.id(), "'s"),
      "; give one of\n", OutcomesOf(site)));
}

absl::Status CheckTakeOver(const v1::Actor& by, const std::string& note,
                           const v1::Alert& alert) {
  if (!alert.has_holder() || alert.holder().name() == by.name() ||
      !IsBlank(note)) {
    return absl::OkStatus();
  }
  return absl::FailedPreconditionError(
      absl::StrCat(alert.alert_id(), " is already with ", alert.holder().name(),
                   " (", alert.holder().role(),
                   "); talk to them, close it together, or say in a note why "
                   "you take it over"));
}

}  // namespace turnstone
