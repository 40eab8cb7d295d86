#include "service/core/looks.h"

#include <absl/strings/str_cat.h>

#include "service/core/alert_record.h"

namespace turnstone {
namespace {

std::string Again(int64_t times, absl::Time last) {
  return absl::StrCat(
      times, times == 1 ? " more time, at " : " more times, the last at ",
      absl::FormatTime("%Y-%m-%d %H:%M:%S UTC", last, absl::UTCTimeZone()));
}

}  // namespace

void Looks::Note(const v1::Actor& by, const Look& look, absl::Time now) {
  const Key key{by.name(), by.role(),  by.identity(),
                look.what, look.whose, look.subject};
  const auto found = seen_.find(key);
  if (found != seen_.end()) {
    ++found->second.again;
    found->second.last = now;
    return;
  }
  if (seen_.size() >= kMost && fresh_ < order_.size()) EndOldest(now);
  if (seen_.size() >= kMost) {
    ++uncounted_;
    return;
  }
  AuditRecord record{now, by, look.what, look.subject, "", look.whose, {}};
  seen_.emplace(key, Seen{std::move(record), 0, now});
  order_.push_back(key);
  ++fresh_;
}

AuditRecord Looks::AtItsEnd(const Seen& seen, absl::Time now) {
  AuditRecord record = seen.record;
  record.at = now;
  record.detail = Again(seen.again, seen.last);
  return record;
}

void Looks::EndOldest(absl::Time now) {
  const auto oldest = seen_.find(order_.front());
  if (oldest->second.again > 0) {
    ended_.push_back(AtItsEnd(oldest->second, now));
  }
  seen_.erase(oldest);
  order_.pop_front();
}

size_t Looks::Ended(absl::Time now) const {
  size_t ended = 0;
  while (ended + fresh_ < order_.size() &&
         now - seen_.at(order_[ended]).record.at >= kAgainWithin) {
    ++ended;
  }
  return ended;
}

bool Looks::Due(absl::Time now) const {
  if (fresh_ >= kWaitingMost || uncounted_ > 0 || Ended(now) > 0) return true;
  return fresh_ > 0 &&
         now - seen_.at(order_[order_.size() - fresh_]).record.at >=
             kWaitingLongest;
}

std::vector<AuditRecord> Looks::Records(absl::Time now) const {
  std::vector<AuditRecord> records = ended_;
  const size_t ended = Ended(now);
  records.reserve(ended_.size() + ended + fresh_ + 1);
  for (size_t i = 0; i < ended; ++i) {
    const Seen& seen = seen_.at(order_[i]);
    if (seen.again > 0) records.push_back(AtItsEnd(seen, now));
  }
  for (size_t i = order_.size() - fresh_; i < order_.size(); ++i) {
    records.push_back(seen_.at(order_[i]).record);
  }
  if (uncounted_ > 0) {
    records.push_back({now,
                       ServiceActor(),
                       "looks not recorded",
                       "",
                       absl::StrCat(uncounted_, ": there was no room"),
                       {},
                       {}});
  }
  return records;
}

void Looks::Recorded(absl::Time now) {
  const size_t ended = Ended(now);
  for (size_t i = 0; i < ended; ++i) {
    seen_.erase(order_.front());
    order_.pop_front();
  }
  fresh_ = 0;
  ended_.clear();
  uncounted_ = 0;
}

void Looks::Forget(const ParticipantKey& key) {
  std::deque<Key> kept;
  size_t fresh = 0;
  for (size_t i = 0; i < order_.size(); ++i) {
    if (std::get<ParticipantKey>(order_[i]) == key) {
      seen_.erase(order_[i]);
      continue;
    }
    if (i + fresh_ >= order_.size()) ++fresh;
    kept.push_back(order_[i]);
  }
  order_ = std::move(kept);
  fresh_ = fresh;
  std::erase_if(ended_, [&key](const AuditRecord& record) {
    return record.about == key;
  });
}

}  // namespace turnstone
