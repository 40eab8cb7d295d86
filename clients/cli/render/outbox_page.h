// Messages the service owes to people, and how its channels fare.
#pragma once

#include <string>

#include "turnstone/v1/service.pb.h"

namespace turnstone::cli {

// Whether anything is sent at all, then the channels, then the messages. Times
// are the site's own, as its channels tell; UTC where there is no channel.
[[nodiscard]] std::string OutboxPage(const v1::Outbox& outbox);

}  // namespace turnstone::cli
