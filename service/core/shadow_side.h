// A version of the rules run beside the one in force, for one participant. It
// is asked what the other is asked, when the other is asked, and only tells
// what it would have raised (BrokeShadow).
#pragma once

#include <absl/time/time.h>

#include <memory>
#include <string>
#include <vector>

#include "rules/engine/agenda.h"
#include "rules/engine/decide.h"
#include "rules/engine/history.h"
#include "rules/engine/setup.h"
#include "service/store/store.h"

namespace turnstone {

// Single-thread (the commit thread).
class ShadowSide {
 public:
  // Null where the version does not have the site, or cannot read what is on
  // record. `setup` must outlive it.
  [[nodiscard]] static std::unique_ptr<ShadowSide> Load(
      const std::vector<StoredEvent>& events, const Setup& setup,
      const ParticipantKey& key);

  // As Participant::TakeIn and PassTime, with the questions due up to
  // `asked_until` already asked.
  [[nodiscard]] std::vector<v1::ShadowVerdict> TakeIn(const v1::Event& event,
                                                      absl::Time asked_until,
                                                      absl::Time now);
  [[nodiscard]] std::vector<v1::ShadowVerdict> PassTime(absl::Time asked_until,
                                                        absl::Time now) const;
  // When its next question falls due after `time`.
  [[nodiscard]] absl::Time NextAfter(absl::Time time) const {
    return agenda_.NextAfter(time);
  }

 private:
  ShadowSide(const Setup& setup, const Site& site, ParticipantKey key)
      : setup_(&setup), site_(&site), key_(std::move(key)) {}
  [[nodiscard]] std::vector<v1::ShadowVerdict> Ask(const Asking& asking) const;

  const Setup* setup_;
  const Site* site_;
  ParticipantKey key_;
  History history_;
  Agenda agenda_;
};

}  // namespace turnstone
