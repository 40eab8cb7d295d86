// Messages that are owed: how they come to be, and what becomes of them.
#pragma once

#include <absl/status/status.h>
#include <absl/time/time.h>

#include <string>
#include <vector>

#include "rules/engine/setup.h"
#include "turnstone/v1/alert.pb.h"
#include "turnstone/v1/delivery.pb.h"

namespace turnstone {

// For how long a message is tried.
inline constexpr absl::Duration kTryFor = absl::Hours(24);

// When the person's next daily message after `time` goes out: at the time they
// chose, on a working day of the site.
[[nodiscard]] absl::Time NextDaily(const Site& site, const v1::Person& person,
                                   absl::Time time);

// One message for every way to reach `person`, none if there is none. `key`
// begins every key: "A-17/3". The alert's fields are for the caller to set.
[[nodiscard]] std::vector<v1::OwedMessage> MessagesTo(const Site& site,
                                                      const std::string& person,
                                                      const std::string& key,
                                                      absl::Time now);

// It is not needed any more.
void Withdraw(absl::Time now, v1::OwedMessage& message);

// What follows from an attempt to send `message`: sent; to be tried again, the
// later the oftener it failed; or given up, since the channel refused it for
// good (INVALID_ARGUMENT) or it was tried for long enough. Waiting times are
// spread by a fifth either way, by the key, so that messages that failed
// together do not come back together. Pure.
void TakeResult(const absl::Status& result, absl::Time now,
                v1::OwedMessage& message);

}  // namespace turnstone
