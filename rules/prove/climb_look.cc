#include "rules/prove/climb_look.h"

#include <absl/strings/str_cat.h>

#include "rules/duty/ladder.h"
#include "rules/measure/time_words.h"

namespace turnstone {
namespace {

constexpr absl::Duration kFortnight = absl::Hours(14 * 24);
// A wait beyond this never ends for whoever waits: no working day, say.
constexpr absl::Duration kLongestWait = absl::Hours(365 * 24);

}  // namespace

std::vector<LookedAtSpan> SpansFrom(absl::Time from, absl::TimeZone zone) {
  std::vector<LookedAtSpan> spans = {{from, from + kFortnight}};
  absl::TimeZone::CivilTransition change;
  if (!zone.NextTransition(from, &change)) return spans;
  const absl::Time at = zone.At(change.to).trans;
  if (at > from + absl::Hours(400 * 24)) return spans;
  spans.push_back({at - kFortnight / 2, at + kFortnight / 2});
  return spans;
}

ClimbLooked ClimbLook::Look(const v1::Climb& climb) const {
  ClimbLooked looked;
  if (climb.rung().empty()) {
    looked.wrong = "the ladder has no rung";
    return looked;
  }
  for (int reached = 0; reached <= climb.rung_size(); ++reached) {
    for (const LookedAtSpan& span : spans_) {
      for (absl::Time at = span.from; at < span.until; at += absl::Hours(1)) {
        ++looked.moments;
        if (looked.wrong.empty()) looked.wrong = WaitWrong(climb, reached, at);
      }
    }
  }
  if (looked.wrong.empty()) {
    looked.wrong = PeopleWrong(climb.rung(climb.rung_size() - 1));
  }
  return looked;
}

std::string ClimbLook::WaitWrong(const v1::Climb& climb, int reached,
                                 absl::Time at) const {
  const absl::Time due = RungDue(climb, reached, at, site_.calendar);
  // Only the first rung may be reached at once.
  if (due - at > kLongestWait || due < at || (reached > 0 && due == at)) {
    const absl::TimeZone zone = site_.calendar.zone();
    return absl::StrCat("after ", reached, " rungs, on ", DayInWords(at, zone),
                        " at ", absl::FormatTime("%H:%M", at, zone),
                        due - at > kLongestWait
                            ? ", the wait for the next one does not end"
                            : ", there is no wait for the next one");
  }
  return "";
}

std::string ClimbLook::PeopleWrong(const v1::Rung& rung) const {
  bool anybody = false;
  for (const v1::Tell& tell : rung.tell()) {
    if (tell.has_everybody()) anybody |= HasPeople(tell.everybody());
    if (!tell.has_on_duty()) continue;
    std::string wrong = RotaWrong(tell.on_duty());
    if (!wrong.empty()) return wrong;
    anybody |= HasPeople(tell.on_duty());
  }
  return anybody ? "" : "the last rung tells nobody who is always there";
}

bool ClimbLook::HasPeople(const std::string& role) const {
  return !site_.team.PeopleOf(role).empty();
}

std::string ClimbLook::RotaWrong(const std::string& role) const {
  const Rota* const rota = site_.team.FindRota(role);
  if (rota == nullptr) return "";
  for (const LookedAtSpan& span : spans_) {
    for (const Shift& shift : rota->Between(span.from, span.until, {})) {
      for (const std::string& person : shift.persons) {
        if (site_.team.FindPerson(person) != nullptr) continue;
        return absl::StrCat(person, ", who is on duty for the last rung on ",
                            DayInWords(shift.from, site_.calendar.zone()),
                            ", is not one of the site's people");
      }
    }
  }
  return "";
}

}  // namespace turnstone
