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
  place.Report("wait-missing", "it does not say how long",
               absl::StrCat("write one of ", kWaits));
}

// A role, named in `field` of the message at `place`, that somebody has.
bool RequirePeople(const Place& place, const std::string& field,
                   const std::string& role, const Staff& staff) {
  if (RequireKnown(place, field, role, "role", staff.roles) == nullptr) {
    return false;
  }
  if (staff.roles_with_people.contains(role)) return true;
  place.At(field).Report("nobody-has-role",
                         absl::StrCat("nobody has the role \"", role, "\""),
                         "add a person { ... } who has it, or tell another");
  return false;
}

void CheckOwnClinician(const v1::Tell& tell, const Place& place,
                       const Staff& staff) {
  if (!tell.own_clinician()) {
    place.Report("tells-nobody", "own_clinician: false tells nobody",
                 "write own_clinician: true");
  } else if (!staff.roles_with_people.contains(kClinician)) {
    place.Report("nobody-has-role", "nobody has the role \"clinician\"",
                 "add a person { ... } who has it, or tell another");
  }
}

void CheckHolder(const v1::Tell& tell, const Place& place, bool held) {
  if (!held) {
    place.Report("holder-too-early",
                 "until it is received nobody has the alert",
                 "write holder only in until_closed");
  } else if (!tell.holder()) {
    place.Report("tells-nobody", "holder: false tells nobody",
                 "write holder: true");
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
          "rota-missing",
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
  place.Report("tells-nobody", "it does not say whom to tell",
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
    place.Report("tells-nobody", "the rung tells nobody",
                 "write tell { ... }, once or more");
  }
  for (int i = 0; i < rung.tell_size(); ++i) {
    CheckTell(rung.tell(i), place.At("tell", i), staff, held);
  }
}

// Whether `tell` names people of whom somebody is always there: a rota without
// gaps, or a whole role (as in the gaps of a rota) of whom somebody is reached.
bool IsAlwaysStaffed(const v1::Tell& tell, const Staff& staff) {
  if (staff.roles_always_on_duty.contains(tell.on_duty())) return true;
  return staff.roles_reached.contains(tell.has_everybody() ? tell.everybody()
                                                           : tell.on_duty());
}

void CheckLastRung(const v1::Rung& rung, const Place& place, const Staff& staff,
                   bool held) {
  if (held && TellsOnlyTheHolder(rung)) {
    place.Report("last-rung-tells-nobody-new",
                 "the last rung tells only who has the alert already",
                 "tell on_duty or everybody as well");
    return;
  }
  for (const v1::Tell& tell : rung.tell()) {
    if (IsAlwaysStaffed(tell, staff)) return;
  }
  place.Report("ladder-not-always-staffed",
               "the last rung does not end at people of whom somebody is "
               "always there",
               "tell on_duty: a role whose rota has no gaps, or everybody: a "
               "role with a person who has reach { ... }");
}

}  // namespace

void CheckClimb(const v1::Climb& climb, const Place& place, const Staff& staff,
                bool held) {
  const size_t before = place.reported();
  if (climb.rung().empty()) {
    place.Report("ladder-without-rung",
                 "there is no rung, so nobody would be told",
                 "write rung { tell { ... } }");
  }
  for (int i = 0; i < climb.rung_size(); ++i) {
    const Place rung = place.At("rung", i);
    CheckRung(climb.rung(i), rung, staff, held);
    if (i == 0 || climb.rung(i).has_after()) continue;
    rung.Report("wait-missing", "after is missing",
                absl::StrCat("write after { ... }, the time since the rung "
                             "before, with one of ",
                             kWaits));
  }
  const int last = climb.rung_size() - 1;
  // A rung that is wrong in itself has been reported.
  if (last >= 0 && place.reported() == before) {
    CheckLastRung(climb.rung(last), place.At("rung", last), staff, held);
  }
  if (climb.has_repeat_every()) {
    CheckWait(climb.repeat_every(), place.At("repeat_every"));
  } else {
    place.Report(
        "wait-missing", "repeat_every is missing",
        absl::StrCat("write repeat_every { ... } with one of ", kWaits));
  }
}

}  // namespace turnstone
