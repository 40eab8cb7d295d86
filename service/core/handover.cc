#include "service/core/handover.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <string>

#include "rules/measure/proto_time.h"
#include "service/core/rights.h"
#include "service/core/work_checks.h"

namespace turnstone {
namespace {

// How far ahead the end of a duty is looked for.
constexpr absl::Duration kLookAhead = absl::Hours(24 * 90);

bool Holds(const std::vector<std::string>& people, const std::string& person) {
  return std::find(people.begin(), people.end(), person) != people.end();
}

// When `person`, who is on duty, no longer is.
absl::Time EndOfDuty(const std::string& person, const Rota& rota,
                     const std::vector<Swap>& swaps, absl::Time now) {
  for (const Shift& shift : rota.Between(now, now + kLookAhead, swaps)) {
    if (!Holds(shift.persons, person)) return shift.from;
  }
  return now + kLookAhead;
}

absl::Status CheckTaker(const std::string& to, const Site& site,
                        const Rota& rota,
                        const std::vector<std::string>& on_duty) {
  std::vector<std::string> could = site.team.PeopleOf(rota.role());
  std::erase_if(
      could, [&](const std::string& person) { return Holds(on_duty, person); });
  if (Holds(could, to)) return absl::OkStatus();
  return absl::InvalidArgumentError(absl::StrCat(
      "to: ",
      to.empty() ? "missing" : absl::StrCat("\"", to, "\" cannot take over"),
      "; offer it to another ", rota.role(), ": ",
      could.empty() ? "there is none" : absl::StrJoin(could, ", ")));
}

absl::StatusOr<int> FindOfferFor(const v1::Actor& by, const Rota& rota,
                                 const v1::DutyRecord& duty) {
  for (int i = 0; i < duty.offer_size(); ++i) {
    const v1::HandoverOffer& offer = duty.offer(i);
    if (offer.role() != rota.role()) continue;
    if (offer.to() == by.name()) return i;
    return absl::FailedPreconditionError(absl::StrCat(
        offer.from(), " offers it to ", offer.to(), ", not to ", by.name()));
  }
  return absl::FailedPreconditionError(
      "nothing is offered; whoever is on duty offers it first");
}

}  // namespace

std::vector<Swap> SwapsOf(const v1::DutyRecord& duty, const Team& team) {
  std::vector<Swap> swaps;
  for (const v1::TakenOver& taken : duty.taken_over()) {
    const v1::Person* const to = team.FindPerson(taken.to());
    if (to == nullptr || to->role() != taken.role()) continue;
    swaps.push_back({taken.role(), taken.from(), taken.to(),
                     FromProto(taken.begin()), FromProto(taken.end())});
  }
  return swaps;
}

absl::StatusOr<v1::HandoverOffer> MakeOffer(
    const v1::OfferHandoverRequest& request, const v1::Actor& by,
    const Site& site, const Rota& rota, const std::vector<Swap>& swaps,
    absl::Time now) {
  absl::Status status = CheckMay(by, v1::HAND_OVER, "hand over", site);
  if (status.ok()) status = CheckNote("note", request.note());
  if (!status.ok()) return status;
  const std::vector<std::string> on_duty = rota.At(now, swaps).persons;
  if (!Holds(on_duty, by.name())) {
    return absl::FailedPreconditionError(absl::StrCat(
        by.name(), " is not on duty; on duty as ", rota.role(), ": ",
        on_duty.empty() ? "nobody" : absl::StrJoin(on_duty, ", ")));
  }
  status = CheckTaker(request.to(), site, rota, on_duty);
  if (!status.ok()) return status;
  v1::HandoverOffer offer;
  offer.set_role(rota.role());
  offer.set_from(by.name());
  offer.set_to(request.to());
  offer.set_note(request.note());
  *offer.mutable_at() = ToProto(now);
  *offer.mutable_lapses_at() = ToProto(EndOfDuty(by.name(), rota, swaps, now));
  return offer;
}

absl::StatusOr<v1::HandoverOffer> AnswerOffer(bool yes, const v1::Actor& by,
                                              const Site& site,
                                              const Rota& rota, absl::Time now,
                                              v1::DutyRecord& duty) {
  absl::Status status = CheckMay(by, v1::HAND_OVER, "take over", site);
  if (!status.ok()) return status;
  const absl::StatusOr<int> index = FindOfferFor(by, rota, duty);
  if (!index.ok()) return index.status();
  const v1::HandoverOffer offer = duty.offer(*index);
  const std::vector<Swap> swaps = SwapsOf(duty, site.team);
  if (yes && (now >= FromProto(offer.lapses_at()) ||
              !Holds(rota.At(now, swaps).persons, offer.from()))) {
    return absl::FailedPreconditionError(absl::StrCat(
        offer.from(),
        " is not on duty any more, or not since without a break, so there "
        "is nothing to take over"));
  }
  duty.mutable_offer()->DeleteSubrange(*index, 1);
  if (!yes) return offer;
  v1::TakenOver& taken = *duty.add_taken_over();
  taken.set_role(rota.role());
  taken.set_from(offer.from());
  taken.set_to(by.name());
  *taken.mutable_begin() = ToProto(now);
  *taken.mutable_end() = ToProto(EndOfDuty(offer.from(), rota, swaps, now));
  return offer;
}

}  // namespace turnstone
