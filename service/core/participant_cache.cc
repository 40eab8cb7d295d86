#include "service/core/participant_cache.h"

#include <utility>

namespace turnstone {

absl::StatusOr<Participant*> ParticipantCache::Get(const ParticipantKey& key) {
  const auto found = by_key_.find(key);
  if (found != by_key_.end()) {
    by_use_.splice(by_use_.begin(), by_use_, found->second);
    return &by_use_.front();
  }
  absl::StatusOr<Participant> loaded =
      Participant::Load(store_, *setup_, shadow_.get(), key);
  if (!loaded.ok()) return loaded.status();
  by_use_.push_front(*std::move(loaded));
  by_key_[key] = by_use_.begin();
  return &by_use_.front();
}

void ParticipantCache::Forget(const ParticipantKey& key) {
  const auto found = by_key_.find(key);
  if (found == by_key_.end()) return;
  by_use_.erase(found->second);
  by_key_.erase(found);
}

void ParticipantCache::Trim() {
  while (by_use_.size() > max_) {
    by_key_.erase(by_use_.back().key());
    by_use_.pop_back();
  }
}

}  // namespace turnstone
