// What Core tells of what is to come, and of what was asked of people.
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <tuple>
#include <utility>

#include "rules/duty/concerns.h"
#include "rules/measure/proto_time.h"
#include "service/core/burden.h"
#include "service/core/core.h"
#include "service/core/due.h"

namespace turnstone {
namespace {

constexpr int kItemsMax = 500;
constexpr absl::Duration kSpanMax = absl::Hours(24 * 400);

bool Sooner(const v1::DueItem& a, const v1::DueItem& b) {
  const auto key = [](const v1::DueItem& item) {
    return std::make_tuple(FromProto(item.at()), -item.priority(), item.site(),
                           item.participant(), item.alert_id(), item.text());
  };
  return key(a) < key(b);
}

}  // namespace

absl::StatusOr<v1::DueList> Core::ListDue(const v1::ListDueRequest& request,
                                          const SiteScope& scope) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  if (!request.site().empty()) {
    absl::StatusOr<std::string> known = SiteOrOnly(request.site());
    if (!known.ok()) return known.status();
  }
  const absl::Time now = Now();
  const absl::Time until = FromProto(request.until());
  if (!request.has_until() || until <= now || until > now + kSpanMax) {
    return absl::InvalidArgumentError(
        "until: give a time later than now, at most 400 days from now");
  }
  // Whoever falls due soonest has the soonest item, so a participant beyond
  // the limit can have none among the first.
  absl::StatusOr<std::vector<ParticipantKey>> due =
      store_->DueBy(request.site(), until, kItemsMax, scope);
  if (!due.ok()) return Break(due.status());
  std::vector<v1::DueItem> items;
  for (const ParticipantKey& key : *due) {
    absl::StatusOr<Participant*> participant = participants_->Get(key);
    if (!participant.ok()) return Break(participant.status());
    std::vector<v1::DueItem> some = DueItems(**participant, now, until);
    std::move(some.begin(), some.end(), std::back_inserter(items));
  }
  std::sort(items.begin(), items.end(), &Sooner);
  v1::DueList list;
  *list.mutable_now() = ToProto(now);
  list.set_more(items.size() > kItemsMax || due->size() == kItemsMax);
  items.resize(std::min<size_t>(items.size(), kItemsMax));
  for (v1::DueItem& item : items) *list.add_item() = std::move(item);
  return list;
}

absl::StatusOr<v1::Burden> Core::GetBurden(const v1::GetBurdenRequest& request,
                                           const SiteScope& scope) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<std::string> id = SiteOrOnly(request.site());
  if (!id.ok()) return id.status();
  const absl::Time from = FromProto(request.from());
  const absl::Time to = FromProto(request.to());
  if (!request.has_from() || !request.has_to() || to <= from ||
      to - from > kSpanMax) {
    return absl::InvalidArgumentError(
        "from, to: give both, `to` later than `from` and at most 400 days "
        "after it");
  }
  absl::StatusOr<std::vector<v1::Alert>> alerts =
      store_->AlertsRaised(*id, from - kRaisedAgainWithin, to, scope);
  if (!alerts.ok()) return Break(alerts.status());
  return BurdenOf(*alerts, *setup_->FindSite(*id), from, to, Now());
}

std::vector<std::string> Core::Concerns() {
  std::vector<std::string> all = MachineConcerns();
  for (const auto& [id, site] : setup_->sites()) {
    for (const std::string& concern : ConcernsOf(
             site.config, site.team, site.calendar.zone(), Now(), swaps_[id])) {
      all.push_back(absl::StrCat(id, ": ", concern));
    }
  }
  return all;
}

std::vector<std::string> Core::ConcernsAt(const Site& site) {
  std::vector<std::string> all =
      ConcernsOf(site.config, site.team, site.calendar.zone(), Now(),
                 swaps_[site.config.id()]);
  std::vector<std::string> machine = MachineConcerns();
  all.insert(all.end(), machine.begin(), machine.end());
  return all;
}

}  // namespace turnstone
