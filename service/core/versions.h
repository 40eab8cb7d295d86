// Versions of the rules on record, and what may become of them. Each step
// returns the records it changes; nothing changes here before Adopt(), once
// they are durable.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <map>
#include <string>
#include <vector>

#include "turnstone/v1/version.pb.h"

namespace turnstone {

using VersionRecords = std::vector<v1::RuleVersion>;

// Thread-compatible.
class Versions {
 public:
  // Who did something to a version, when and why.
  struct Step {
    v1::Actor by;
    std::string reason;
    absl::Time now;
  };

  void Adopt(const VersionRecords& changed);

  // By digest, or its first 6 characters or more; or "in-force", or "proposed"
  // (awaiting confirmation or not). INVALID_ARGUMENT if it is shorter or names
  // several, NOT_FOUND if it names none.
  [[nodiscard]] absl::StatusOr<v1::RuleVersion> Find(
      const std::string& digest) const;
  // Null if there is none.
  [[nodiscard]] const v1::RuleVersion* InForce() const;
  [[nodiscard]] const v1::RuleVersion* Proposed() const;
  [[nodiscard]] const v1::RuleVersion* InShadow() const;
  // In force first, then what is proposed, then the others, latest first.
  [[nodiscard]] VersionRecords All() const;

  // The files hold `version` (digest and rule sets), which is not in force. It
  // takes the place of what was proposed before. Empty: it is proposed already.
  [[nodiscard]] VersionRecords Propose(const v1::RuleVersion& version,
                                       const Step& step) const;
  // Somebody put `version` in force, and `fewer_safety` says why a second
  // person must agree.
  [[nodiscard]] VersionRecords Await(
      const v1::RuleVersion& version, const std::string& proof,
      const std::vector<std::string>& fewer_safety, const Step& step) const;
  // `version` comes into force, and whatever was is retired. `what` was done:
  // "activated", "confirmed", "in force".
  [[nodiscard]] VersionRecords PutInForce(const v1::RuleVersion& version,
                                          const std::string& what,
                                          const std::string& proof,
                                          const Step& step) const;
  // `version` goes into shadow, and whatever was comes out of it.
  // `from_position`: of the latest change to any alert; `from_alert`: the next
  // alert's number.
  [[nodiscard]] VersionRecords PutInShadow(const v1::RuleVersion& version,
                                           int64_t from_position,
                                           int64_t from_alert,
                                           const Step& step) const;
  // Empty if nothing is in shadow.
  [[nodiscard]] VersionRecords EndShadow(const Step& step) const;

  // Whoever put a version in force that awaits a second person.
  [[nodiscard]] static std::string ActivatedBy(const v1::RuleVersion& version);

 private:
  // Those of a status, each moved on to another.
  [[nodiscard]] VersionRecords Moved(v1::VersionStatus from,
                                     v1::VersionStatus to,
                                     const std::string& what,
                                     const Step& step) const;

  std::map<std::string, v1::RuleVersion> by_digest_;
};

}  // namespace turnstone
