// What goes out: an e-mail, or a CloudEvents envelope. Neither says anything
// of the participant: no id, no kind of alert, no rule, no score. Pure.
#pragma once

#include <absl/status/statusor.h>

#include <string>

#include "service/core/envelope.h"

namespace turnstone {

// A whole e-mail (RFC 5322), lines ending with CRLF. A repeat of the same
// envelope has the same Message-ID. REQUIRES: channel.by is smtp.
// INVALID_ARGUMENT: no e-mail can go to this person's address.
// FAILED_PRECONDITION: none can come from the channel's.
[[nodiscard]] absl::StatusOr<std::string> ComposeMail(const Envelope& envelope);

// The type of what ComposeCloudEvent makes.
inline constexpr char kCloudEventType[] = "application/cloudevents+json";

// CloudEvents 1.0 in the structured JSON format. A repeat of the same envelope
// has the same source and id.
[[nodiscard]] std::string ComposeCloudEvent(const Envelope& envelope);

// "/turnstone/sites/pebble-bay": with the key, it names a message for ever.
[[nodiscard]] std::string SourceOf(const Envelope& envelope);

}  // namespace turnstone
