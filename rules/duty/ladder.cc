#include "rules/duty/ladder.h"

#include <algorithm>

namespace turnstone {
namespace {

bool HasChoice(const google::protobuf::RepeatedField<int>& choices, int value) {
  return std::find(choices.begin(), choices.end(), value) != choices.end();
}

}  // namespace

std::vector<int> FittingLadders(const v1::SiteConfig& site, v1::AlertKind kind,
                                v1::Priority priority) {
  std::vector<int> by_name;
  std::vector<int> for_the_rest;
  for (int i = 0; i < site.ladder_size(); ++i) {
    const v1::Ladder& ladder = site.ladder(i);
    if (!HasChoice(ladder.priority(), priority)) continue;
    if (ladder.kind().empty()) for_the_rest.push_back(i);
    if (HasChoice(ladder.kind(), kind)) by_name.push_back(i);
  }
  return by_name.empty() ? for_the_rest : by_name;
}

absl::Time AddWait(const v1::Wait& wait, absl::Time from,
                   const WorkCalendar& calendar) {
  switch (wait.wait_case()) {
    case v1::Wait::kMinutes:
      return from + absl::Minutes(wait.minutes());
    case v1::Wait::kHours:
      return from + absl::Hours(wait.hours());
    case v1::Wait::kWorkingHours:
      return calendar.AfterWorkingTime(from, absl::Hours(wait.working_hours()));
    case v1::Wait::kWorkingDays:
      return calendar.EndOfWorkingDay(from, wait.working_days());
    case v1::Wait::WAIT_NOT_SET:
      break;
  }
  return from;
}

const v1::Rung& RungAfter(const v1::Climb& climb, int reached) {
  return climb.rung(std::min(reached, climb.rung_size() - 1));
}

absl::Time RungDue(const v1::Climb& climb, int reached, absl::Time counted_from,
                   const WorkCalendar& calendar) {
  const v1::Wait& wait = reached < climb.rung_size()
                             ? climb.rung(reached).after()
                             : climb.repeat_every();
  return AddWait(wait, counted_from, calendar);
}

}  // namespace turnstone
