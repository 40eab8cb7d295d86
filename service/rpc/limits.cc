#include "service/rpc/limits.h"

#include <algorithm>

namespace turnstone {

size_t Limits::sources() const {
  const std::lock_guard<std::mutex> lock(mutex_);
  return uses_.size();
}

Limits::Answer Limits::Begin(const std::string& source, CallKind kind) {
  const auto k = static_cast<size_t>(kind);
  const Limit& limit = table_.at(k);
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    const absl::Duration now = clock_.Elapsed();
    Uses& uses = UsesOf(source, now);
    Refill(uses, now);
    Use& use = uses.at(k);
    // When one of those under way is over, nobody knows.
    if (use.under_way >= limit.at_once) return {nullptr, absl::Seconds(1)};
    if (use.left < 1) {
      return {nullptr, absl::Seconds((1 - use.left) / limit.per_second)};
    }
    use.left -= 1;
    ++use.under_way;
  }
  return {Pass(this, [source, k](Limits* self) { self->End(source, k); }),
          absl::ZeroDuration()};
}

void Limits::End(const std::string& source, size_t kind) {
  const std::lock_guard<std::mutex> lock(mutex_);
  --uses_.at(source).at(kind).under_way;
}

Limits::Uses& Limits::UsesOf(const std::string& source, absl::Duration now) {
  const auto known = uses_.find(source);
  if (known != uses_.end()) return known->second;
  if (uses_.size() >= look_at_) ForgetThoseAtRest(now);
  Uses& uses = uses_[source];
  for (size_t k = 0; k < uses.size(); ++k) {
    uses.at(k) = {0, table_.at(k).at_first, now};
  }
  return uses;
}

void Limits::Refill(Uses& uses, absl::Duration now) const {
  for (size_t k = 0; k < uses.size(); ++k) {
    const Limit& limit = table_.at(k);
    Use& use = uses.at(k);
    const double more =
        absl::ToDoubleSeconds(now - use.as_of) * limit.per_second;
    use.left = std::min(limit.at_first, use.left + more);
    use.as_of = now;
  }
}

// Nothing is lost by forgetting them: they would begin as they are.
bool Limits::IsAtRest(const Uses& uses) const {
  for (size_t k = 0; k < uses.size(); ++k) {
    const Use& use = uses.at(k);
    if (use.under_way > 0 || use.left < table_.at(k).at_first) return false;
  }
  return true;
}

// Where callers are believed whoever they say they are, anybody can make up
// names without end.
void Limits::ForgetThoseAtRest(absl::Duration now) {
  for (auto& [source, uses] : uses_) Refill(uses, now);
  std::erase_if(uses_,
                [this](const auto& one) { return IsAtRest(one.second); });
  look_at_ = std::max<size_t>(1024, 2 * uses_.size());
}

}  // namespace turnstone
