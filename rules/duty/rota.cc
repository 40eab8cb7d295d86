#include "rules/duty/rota.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <set>
#include <utility>

#include "rules/duty/rotation.h"
#include "rules/duty/written_time.h"
#include "rules/measure/work_calendar.h"

namespace turnstone {
namespace {

struct OnDuty {
  std::vector<std::string> persons;
  std::string why;
};

// A person is on duty once, however often they are named.
void AddOnce(const std::string& person, std::vector<std::string>& persons) {
  if (std::find(persons.begin(), persons.end(), person) == persons.end()) {
    persons.push_back(person);
  }
}

absl::Time ReadMoment(const std::string& text, absl::TimeZone zone) {
  return LocalToAbsolute(absl::CivilSecond(ReadLocalTime(text).value()), zone);
}

OnDuty AsWritten(const v1::Rota& rota, absl::TimeZone zone, absl::Time time) {
  OnDuty duty;
  for (const v1::DatedOverride& override : rota.override()) {
    if (time < ReadMoment(override.from(), zone)) continue;
    if (time >= ReadMoment(override.until(), zone)) continue;
    duty.why = absl::StrCat("override: ", override.reason());
    for (const auto& person : override.person()) AddOnce(person, duty.persons);
    return duty;
  }
  for (const v1::Rotation& rotation : rota.rotation()) {
    const std::string person = PersonAt(rotation, zone, time);
    if (!person.empty()) AddOnce(person, duty.persons);
  }
  if (!duty.persons.empty()) duty.why = "rotation";
  return duty;
}

// In the order given, so that what was passed on may be passed on again.
OnDuty AfterSwaps(OnDuty duty, const std::string& role, absl::Time time,
                  const std::vector<Swap>& swaps) {
  for (const Swap& swap : swaps) {
    if (swap.role != role || time < swap.begin || time >= swap.end) continue;
    auto& persons = duty.persons;
    if (std::find(persons.begin(), persons.end(), swap.from) == persons.end()) {
      continue;
    }
    std::vector<std::string> swapped;
    for (const std::string& person : persons) {
      AddOnce(person == swap.from ? swap.to : person, swapped);
    }
    duty = {std::move(swapped), "hand-over"};
  }
  return duty;
}

}  // namespace

Rota::Rota(v1::Rota rota, absl::TimeZone zone)
    : rota_(std::move(rota)), zone_(zone) {}

std::vector<Shift> Rota::Between(absl::Time from, absl::Time until,
                                 const std::vector<Swap>& swaps) const {
  std::set<absl::Time> changes = {from};
  const auto add = [&](absl::Time time) {
    if (from < time && time < until) changes.insert(time);
  };
  for (const v1::Rotation& rotation : rota_.rotation()) {
    AddChanges(rotation, zone_, from, until, changes);
  }
  for (const v1::DatedOverride& override : rota_.override()) {
    add(ReadMoment(override.from(), zone_));
    add(ReadMoment(override.until(), zone_));
  }
  for (const Swap& swap : swaps) {
    add(swap.begin);
    add(swap.end);
  }
  std::vector<Shift> shifts;
  for (const absl::Time time : changes) {
    OnDuty duty =
        AfterSwaps(AsWritten(rota_, zone_, time), role(), time, swaps);
    if (!shifts.empty()) {
      shifts.back().until = time;
      if (shifts.back().persons == duty.persons &&
          shifts.back().why == duty.why) {
        continue;
      }
    }
    shifts.push_back({time, until, std::move(duty.persons), duty.why});
  }
  shifts.back().until = until;
  return shifts;
}

Shift Rota::At(absl::Time time, const std::vector<Swap>& swaps) const {
  Shift shift;
  // Most shifts end soon; a whole year is looked at only where one does not.
  for (const int days : {15, 365}) {
    const absl::Time until = time + absl::Hours(24 * days);
    shift = Between(time, until, swaps).front();
    if (shift.until < until) break;
  }
  return shift;
}

}  // namespace turnstone
