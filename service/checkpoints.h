// Signs how far the audit has got: every so many records, and within an hour.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <memory>
#include <string>
#include <utility>

#include "service/core/core.h"
#include "service/rpc/background.h"
#include "service/store/audit_checkpoint.h"

namespace turnstone {

// Everything but Stop runs on the commit thread; signing and writing on one of
// its own, so that no change waits for it.
class Checkpoints {
 public:
  static constexpr int64_t kEveryRecords = 1000;
  static constexpr absl::Duration kLongest = absl::Hours(1);
  // The key's file in the folder of credentials.
  static constexpr char kKeyFile[] = "audit-checkpoint-key.pem";

  // Null, with what is missing in the log: without `folder` and key there are
  // none. FAILED_PRECONDITION: both are given, and are not fit to be used.
  [[nodiscard]] static absl::StatusOr<std::unique_ptr<Checkpoints>> Open(
      const std::string& folder, const std::string& credentials);

  // Has a checkpoint written if it is time, or `now` and there is something
  // new. One that cannot be written is told in the log, and the next one comes
  // when it is due.
  void Look(Core& core, bool now = false);
  // Finishes what was begun.
  void Stop() { background_.Stop(); }

 private:
  Checkpoints(std::string path, SigningKey key)
      : path_(std::move(path)), key_(std::move(key)) {}
  void Write(const AuditTip& tip, absl::Time at) const;

  const std::string path_;
  const SigningKey key_;
  AuditTip last_;
  absl::Time last_at_ = absl::InfinitePast();
  Background background_;
};

}  // namespace turnstone
