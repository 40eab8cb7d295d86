// What ties the records of the audit together: each has a digest that depends
// on it and on every record before it. Nobody can change, take out, put in or
// move one without changing the digest of all that follow, the last of which is
// known elsewhere (see audit_checkpoint.h).
//
// Where a participant is erased, what a record says of them goes, and the
// digest stays: it covers that part by a seal, which can be kept without the
// part. A salt, which goes with it, keeps the seal from being guessed back.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

namespace turnstone {

// A record as it lies in the table.
struct AuditRow {
  int64_t sequence = 0;  // dense, from 1
  int64_t at = 0;        // microseconds since 1970-01-01 00:00 UTC
  std::string actor;     // a turnstone.v1.Actor
  std::string action;
  std::string subject;
  std::string site;         // empty: of none, or of all
  std::string participant;  // empty: of none
  std::string detail;
  std::string salt;  // empty if `participant` is
  // Which records were emptied when this one was written, as "3,7-9".
  std::string emptied;
  // Set once it is emptied: the seal of participant, detail and salt, which
  // are then empty.
  std::optional<std::string> sealed;
};

// What comes before the first record: 32 zero bytes.
[[nodiscard]] const std::string& ChainBegin();

// 32 bytes: SHA-256 over the text "turnstone audit seal 1", the salt, the
// participant and the detail, each after its length in 8 bytes, most
// significant first.
[[nodiscard]] std::string SealOf(const AuditRow& row);

// 32 bytes: SHA-256 over the text "turnstone audit record 1", the digest before
// it, sequence and time as 8 bytes, actor, action, subject, site, `emptied` and
// the seal. Texts and digests after their lengths, as above; numbers without,
// in two's complement. Thread-safe; about a microsecond.
[[nodiscard]] std::string ChainAfter(const std::string& before,
                                     const AuditRow& row);

}  // namespace turnstone
