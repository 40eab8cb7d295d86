#include "rules/check/check_rule.h"

#include <absl/strings/str_cat.h>

#include <limits>

#include "rules/check/check_condition.h"
#include "rules/check/require.h"

namespace turnstone {
namespace {

void CheckHeader(const Place& place) {
  RequireId(place, "id");
  RequireNumber(place, "version", {1, std::numeric_limits<int>::max()});
  RequireText(place, "title", "what an alert of this rule is headed");
  RequireText(place, "owner", "who answers for the rule: a role");
  RequireText(place, "rationale", "why the rule exists");
  RequireText(place, "source",
              "a publication, \"common practice, no source\" or \"safety "
              "inference\"");
}

void CheckWhen(const v1::Rule& rule, const Place& place, const Known& known,
               const SettingsByName& settings) {
  const Place when = place.At("when");
  const v1::Occasion& occasion = rule.when();
  if (occasion.event_case() == v1::Occasion::EVENT_NOT_SET) {
    when.Report("rule-without-event",
                "the rule does not say which event it is asked about",
                absl::StrCat("write when { ... {} } with one of ",
                             OneOf(MembersOf(occasion, "event"))));
  }
  if (occasion.has_screening()) {
    CheckInstruments(occasion.screening().instrument(), when.At("screening"),
                     known);
  }
  if (occasion.has_after_working_days()) {
    CheckNumber(when, "after_working_days", {"days", Interval{1, 250}},
                settings);
  }
  if (!occasion.has_after_days()) return;
  CheckNumber(when, "after_days", {"days", Interval{1, 1000}}, settings);
  if (occasion.has_after_working_days()) {
    when.At("after_days")
        .Report("fields-exclude-each-other",
                "both after_working_days and after_days are written",
                "keep one of them");
  }
}

void CheckOnUnknown(const v1::Rule& rule, const Place& place,
                    const SettingsByName& settings) {
  if (!rule.has_on_unknown()) return;
  const Place unknown = place.At("on_unknown");
  if (rule.on_unknown().action_case() == v1::OnUnknown::ACTION_NOT_SET) {
    unknown.Report("on-unknown-empty", "on_unknown does not say what to do",
                   absl::StrCat("write one of ",
                                OneOf(MembersOf(rule.on_unknown(), "action")),
                                ", or leave on_unknown out to raise at once"));
  }
  if (rule.on_unknown().has_wait_then_raise()) {
    CheckNumber(unknown.At("wait_then_raise"), "working_days",
                {"days", Interval{1, 250}}, settings);
  }
}

// It reaches people at once, whatever is not known yet, and stays until one of
// them has closed it.
void CheckSafety(const v1::Rule& rule, bool has_priority, const Place& place) {
  if (rule.on_unknown().has_wait_then_raise()) {
    place.At("on_unknown")
        .At("wait_then_raise")
        .Report("safety-alert-must-not-wait",
                "a safety alert cannot wait until more is known",
                "leave on_unknown out to raise at once");
  }
  if (has_priority && rule.priority() != v1::PRIORITY_ASAP &&
      rule.priority() != v1::PRIORITY_STAT) {
    place.At("priority")
        .Report("safety-alert-must-not-wait",
                "a safety alert cannot wait as long as this priority lets it",
                "write PRIORITY_ASAP or PRIORITY_STAT");
  }
  if (!rule.latched()) {
    place.At("latched").Report(
        "safety-alert-not-latched",
        "a safety alert must stay until a person closes it",
        "write latched: true");
  }
}

void CheckAlert(const v1::Rule& rule, const Place& place) {
  RequireChoice(place, "kind");
  if (RequireText(place, "protocol",
                  "the id of the site's protocol reminder")) {
    RequireId(place, "protocol");
  }
  const bool has_priority = RequireChoice(place, "priority");
  if (rule.kind() == v1::ALERT_KIND_SAFETY) {
    CheckSafety(rule, has_priority, place);
  }
  if (rule.kind() == v1::ALERT_KIND_COACHING && rule.latched()) {
    place.At("latched").Report("coaching-alert-latched",
                               "a coaching alert cannot be latched",
                               "remove latched: true, or choose another kind");
  }
}

}  // namespace

void CheckRule(const v1::Rule& rule, const Place& place, const Known& known,
               const SettingsByName& settings) {
  CheckHeader(place);
  CheckWhen(rule, place, known, settings);
  if (rule.has_condition()) {
    CheckCondition(rule.condition(), place.At("condition"),
                   {known, settings, rule.when()});
  } else {
    place.Report("rule-without-condition", "the rule has no condition",
                 "write condition { ... }");
  }
  CheckOnUnknown(rule, place, settings);
  CheckAlert(rule, place);
}

}  // namespace turnstone
