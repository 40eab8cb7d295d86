#include "rules/check/check_ladders.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/check/check_climb.h"

namespace turnstone {
namespace {

void CheckDigest(const v1::Ladder& ladder, const Place& place) {
  if (!ladder.in_digest()) return;
  for (const int priority : ladder.priority()) {
    if (priority < v1::PRIORITY_ASAP) continue;
    place.At("in_digest")
        .Report(
            "priority-must-not-wait",
            absl::StrCat(v1::Priority_Name(static_cast<v1::Priority>(priority)),
                         " must not wait for the message of the day"),
            "leave in_digest out, or give that priority a ladder of its own");
  }
}

}  // namespace

void CheckLadders(const v1::SiteConfig& site, const Place& file,
                  const Staff& staff) {
  Names ids("ladder");
  for (int i = 0; i < site.ladder_size(); ++i) {
    const v1::Ladder& ladder = site.ladder(i);
    const Place place = file.At("ladder", i);
    RequireId(place, "id");
    ids.Add(place.At("id"), ladder.id());
    RequireChoices(place, "priority");
    RefuseRepeats(place, "priority");
    if (!ladder.kind().empty()) RequireChoices(place, "kind");
    RefuseRepeats(place, "kind");
    CheckDigest(ladder, place);
    for (const std::string climb : {"until_received", "until_closed"}) {
      const bool held = climb == "until_closed";
      if (held ? ladder.has_until_closed() : ladder.has_until_received()) {
        CheckClimb(held ? ladder.until_closed() : ladder.until_received(),
                   place.At(climb), staff, held);
        continue;
      }
      place.Report("ladder-without-climb", absl::StrCat(climb, " is missing"),
                   absl::StrCat("write ", climb,
                                " { rung { ... } repeat_every { ... } }"));
    }
  }
  CheckCover(site, file);
}

}  // namespace turnstone
