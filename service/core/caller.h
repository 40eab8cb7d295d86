// Who is let in, and to what.
#pragma once

#include <absl/status/statusor.h>

#include <string>

#include "rules/engine/setup.h"
#include "service/store/site_scope.h"
#include "turnstone/v1/access.pb.h"
#include "turnstone/v1/alert.pb.h"

namespace turnstone {

// What a call says of whoever makes it.
struct Presented {
  // From a certificate that was verified; empty in plain mode, where the rest
  // is believed.
  std::string certificate_uri;
  std::string name;  // not looked at beside a certificate
  std::string role;  // may be empty beside a certificate
};

// One who was let in.
struct Caller {
  v1::Actor by;
  // Where they are of a kind that the method asks for. At least one.
  SiteScope sites;
};

// The caller as the sites' files know them, if of a kind that `access` asks for
// at one site at least. PERMISSION_DENIED if not; UNAUTHENTICATED if the role
// must be said and is not. Both say what to do.
[[nodiscard]] absl::StatusOr<Caller> Admit(const Presented& who,
                                           const v1::Access& access,
                                           const Setup& setup);

}  // namespace turnstone
