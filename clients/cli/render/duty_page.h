// Who is on duty, and what passes from one to the next.
#pragma once

#include <string>

#include "turnstone/v1/service.pb.h"

namespace turnstone::cli {

// Each role with a rota, and what should be seen to. Times in the site's zone.
[[nodiscard]] std::string OnCallPage(const v1::OnCall& on_call);

// Who is on duty, what is offered, every open alert, and what may be typed;
// `where` is written behind those commands: " --site harbour-row", or nothing.
[[nodiscard]] std::string HandoverPage(const v1::Handover& handover,
                                       const std::string& where);

// A line or two after an offer, after a yes and after a no.
[[nodiscard]] std::string OfferedText(const v1::Handover& handover,
                                      const std::string& where);
[[nodiscard]] std::string TakenText(const v1::Handover& handover,
                                    const std::string& where);
[[nodiscard]] std::string DeclinedText(const v1::Handover& handover);

}  // namespace turnstone::cli
