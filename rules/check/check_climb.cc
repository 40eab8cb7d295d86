#include "rules/check/check_climb.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/duty/team.h"

namespace turnstone {
namespace {

constexpr char kWaits[] = "minutes, hours, working_hours or working_days";

void CheckWait(const v1::Wait& wait, const Place& place) {
  switch (wait.wait_case()) {
    case v1::Wait::kMinutes:
      RequireNumber(place, "minutes", {5, 30 * 24 * 60});
      return;
    case v1::Wait::kHours:
      RequireNumber(place, "hours", {1, 30 * 24});
      return;
    case v1::Wait::kWorkingHours:
      RequireNumber(place, "working_hours", {1, 200});
      return;
    case v1::Wait::kWorkingDays:
      RequireNumber(place, "working_days", {1, 20});
      return;
    case v1::Wait::WAIT_NOT_SET:
      break;
  }
  place.Report("it does not say how long",
               absl::StrCat("write one of ", kWaits));
}

// A role, named in `field` of the message at `place`, that somebody has.
bool RequirePeople(const Place& place, const std::string& field,
                   const std::string& role, const Staff& staff) {
  if (RequireKnown(place, field, role, "role", staff.roles) == nullptr) {
    return false;
  }
  if (staff.roles_with_people.contains(role)) return true;
  place.At(field).Report(absl::StrCat("nobody has the role \"", role, "\""),
                         "add a person { ... } who has it, or tell another");
  return false;
}

void CheckOwnClinician(const v1::Tell& tell, const Place& place,
                       const Staff& staff) {
  if (!tell.own_clinician()) {
    place.Report("own_clinician: false tells nobody",
                 "write own_clinician: true");
  } else if (!staff.roles_with_people.contains(kClinician)) {
    place.Report("nobody has the role \"clinician\"",
                 "add a person { ... } who has it, or tell another");
  }
}

void CheckHolder(const v1::Tell& tell, const Place& place, bool held) {
  if (!held) {
    place.Report("until it is received nobody has the alert",
                 "write holder only in until_closed");
  } else if (!tell.holder()) {
    place.Report("holder: false tells nobody", "write holder: true");
  }
}

void CheckTell(const v1::Tell& tell, const Place& place, const Staff& staff,
               bool held) {
  switch (tell.whom_case()) {
    case v1::Tell::kOnDuty:
      if (!RequirePeople(place, "on_duty", tell.on_duty(), staff) ||
          staff.roles_with_rota.contains(tell.on_duty())) {
        return;
      }
      place.At("on_duty").Report(
          absl::StrCat("role \"", tell.on_duty(), "\" has no rota"),
          "add rota { ... } for it, or write everybody: instead");
      return;
    case v1::Tell::kEverybody:
      RequirePeople(place, "everybody", tell.everybody(), staff);
      return;
    case v1::Tell::kOwnClinician:
      CheckOwnClinician(tell, place.At("own_clinician"), staff);
      return;
    case v1::Tell::kHolder:
      CheckHolder(tell, place.At("holder"), held);
      return;
    case v1::Tell::WHOM_NOT_SET:
      break;
  }
  place.Report("it does not say whom to tell",
               "write one of on_duty, everybody, own_clinician or holder");
}

bool TellsOnlyTheHolder(const v1::Rung& rung) {
  return !rung.tell().empty() &&
         std::all_of(rung.tell().begin(), rung.tell().end(),
                     [](const v1::Tell& tell) { return tell.has_holder(); });
}

void CheckRung(const v1::Rung& rung, const Place& place, const Staff& staff,
               bool held) {
  if (rung.has_after()) CheckWait(rung.after(), place.At("after"));
  if (rung.tell().empty()) {
    place.Report("the rung tells nobody", "write tell { ... }, once or more");
  }
  for (int i = 0; i < rung.tell_size(); ++i) {
    CheckTell(rung.tell(i), place.At("tell", i), staff, held);
  }
}

}  // namespace

void CheckClimb(const v1::Climb& climb, const Place& place, const Staff& staff,
                bool held) {
  if (climb.rung().empty()) {
    place.Report("there is no rung, so nobody would be told",
                 "write rung { tell { ... } }");
  }
  for (int i = 0; i < climb.rung_size(); ++i) {
    const Place rung = place.At("rung", i);
    CheckRung(climb.rung(i), rung, staff, held);
    if (i == 0 || climb.rung(i).has_after()) continue;
    rung.Report("after is missing",
                absl::StrCat("write after { ... }, the time since the rung "
                             "before, with one of ",
                             kWaits));
  }
  const int last = climb.rung_size() - 1;
  if (held && last >= 0 && TellsOnlyTheHolder(climb.rung(last))) {
    place.At("rung", last)
        .Report("the last rung tells only who has the alert already",
                "tell on_duty, everybody or own_clinician as well");
  }
  if (climb.has_repeat_every()) {
    CheckWait(climb.repeat_every(), place.At("repeat_every"));
  } else {
    place.Report(
        "repeat_every is missing",
        absl::StrCat("write repeat_every { ... } with one of ", kWaits));
  }
}

}  // namespace turnstone
