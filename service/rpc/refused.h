// A streaming call that ends at once.
#pragma once

#include "service/rpc/status.h"

namespace turnstone {

// Deletes itself.
template <typename Reactor>
class Refused final : public Reactor {
 public:
  explicit Refused(const absl::Status& status) { this->Finish(ToGrpc(status)); }
  void OnDone() override { delete this; }
};

}  // namespace turnstone
