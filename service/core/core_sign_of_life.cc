// The message that comes every day while all is well: whoever waits for it and
// does not get it knows that the service is down.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/time/civil_time.h>

#include <algorithm>

#include "rules/duty/written_time.h"
#include "rules/measure/proto_time.h"
#include "rules/measure/work_calendar.h"
#include "service/core/core.h"
#include "service/core/owed.h"

namespace turnstone {
namespace {

absl::Time MomentOn(absl::CivilDay day, const Site& site) {
  const absl::Duration at =
      ReadTimeOfDay(site.config.sign_of_life().at()).value();
  return LocalToAbsolute(absl::CivilSecond(day) + absl::ToInt64Seconds(at),
                         site.calendar.zone());
}

// The day of the latest one that should have come by now.
absl::CivilDay LatestDay(const Site& site, absl::Time now) {
  const absl::CivilDay today = absl::ToCivilDay(now, site.calendar.zone());
  return MomentOn(today, site) <= now ? today : today - 1;
}

std::string HowItIs(const std::vector<v1::Alert*>& open,
                    const std::vector<std::string>& concerns) {
  const auto nobodys = std::count_if(
      open.begin(), open.end(),
      [](const v1::Alert* alert) { return !alert->has_holder(); });
  std::string text =
      absl::StrCat("the service is working; ", open.size(),
                   open.size() == 1 ? " alert is open" : " alerts are open",
                   ", ", nobodys, " of them in nobody's hands");
  if (!concerns.empty()) {
    absl::StrAppend(&text, "; to be seen to: ", absl::StrJoin(concerns, "; "));
  }
  return text;
}

}  // namespace

absl::Status Core::GiveSignsOfLife() {
  const absl::Time now = Now();
  if (now < sign_of_life_at_) return absl::OkStatus();
  absl::Time next = absl::InfiniteFuture();
  for (const auto& [id, site] : setup_->sites()) {
    if (!site.config.has_sign_of_life()) continue;
    const absl::CivilDay day = LatestDay(site, now);
    const absl::Time until = MomentOn(day + 1, site);
    next = std::min(next, until);
    const std::string key =
        absl::StrCat("life/", id, "/", absl::FormatCivilTime(day));
    absl::Status status = StageSignOfLife(site, key, until);
    if (!status.ok()) return status;
  }
  absl::Status status = Commit();
  // Only then: where it could not be recorded, it is still to be done.
  if (status.ok()) sign_of_life_at_ = next;
  return status;
}

absl::Status Core::StageSignOfLife(const Site& site, const std::string& key,
                                   absl::Time next) {
  absl::StatusOr<std::vector<v1::OwedMessage>> given =
      store_->MessagesUnder(key);
  if (!given.ok()) return Break(given.status());
  if (!given->empty()) return absl::OkStatus();  // by an earlier life
  const std::string& id = site.config.id();
  absl::StatusOr<std::vector<v1::Alert*>> open =
      OpenAlerts(id, SiteScope::All());
  if (!open.ok()) return open.status();
  const std::string text = HowItIs(*open, ConcernsAt(site));
  for (const std::string& person : site.config.sign_of_life().person()) {
    for (v1::OwedMessage& message : MessagesTo(site, person, key, Now())) {
      message.set_priority(v1::PRIORITY_ROUTINE);
      message.set_sign_of_life(true);
      message.set_reason(text);
      *message.mutable_deadline() = ToProto(next);
      staged_messages_[message.key()] = std::move(message);
    }
  }
  return absl::OkStatus();
}

}  // namespace turnstone
