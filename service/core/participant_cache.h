// Participants in memory, read from the store when first needed.
#pragma once

#include <absl/status/statusor.h>

#include <list>
#include <map>
#include <memory>

#include "service/core/participant.h"

namespace turnstone {

// Single-thread. Pointers it hands out stay valid until Trim().
class ParticipantCache {
 public:
  // `shadow`: null where no version is in shadow.
  ParticipantCache(Store& store, std::shared_ptr<const Setup> setup,
                   std::shared_ptr<const Setup> shadow, size_t max)
      : store_(store),
        setup_(std::move(setup)),
        shadow_(std::move(shadow)),
        max_(max) {}

  // Errors as Participant::Load.
  [[nodiscard]] absl::StatusOr<Participant*> Get(const ParticipantKey& key);
  // REQUIRES: nothing is staged.
  void Forget(const ParticipantKey& key);
  // Lets go of the least recently used beyond the limit. REQUIRES: nothing is
  // staged.
  void Trim();

 private:
  Store& store_;
  std::shared_ptr<const Setup> setup_;
  std::shared_ptr<const Setup> shadow_;
  size_t max_;
  std::list<Participant> by_use_;  // latest first
  std::map<ParticipantKey, std::list<Participant>::iterator> by_key_;
};

}  // namespace turnstone
