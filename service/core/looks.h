// Who looked at what, until it is in the audit. A look is on record once; how
// often the same person looked at the same again within the hour is told at the
// end of it. So a list that is drawn again every few seconds does not fill the
// record.
//
// A look is answered before it is on record, and never fails because it cannot
// be recorded: nobody must be kept from seeing an alert because the disk is
// full. A crash may take the looks of the last second; it or a stop, how often
// somebody looked again.
#pragma once

#include <absl/time/time.h>

#include <cstdint>
#include <deque>
#include <map>
#include <string>
#include <tuple>
#include <vector>

#include "service/store/store.h"

namespace turnstone {

// What was seen: never what it said.
struct Look {
  std::string what;          // the audit's action: "saw the participant's page"
  ParticipantKey whose;      // no participant: of a whole site, or of all
  std::string subject = {};  // alert id; may be empty

  auto operator<=>(const Look&) const = default;
};

// Single-thread.
class Looks {
 public:
  // Kept in memory. Beyond it those on record are let go, and what cannot be
  // put on record is only counted.
  static constexpr size_t kMost = 50000;
  static constexpr absl::Duration kAgainWithin = absl::Hours(1);
  // Recorded at once when so many wait, and after so long at the latest.
  static constexpr size_t kWaitingMost = 1000;
  static constexpr absl::Duration kWaitingLongest = absl::Seconds(1);

  void Note(const v1::Actor& by, const Look& look, absl::Time now);
  // It is time to record something.
  [[nodiscard]] bool Due(absl::Time now) const;
  // Something waits.
  [[nodiscard]] bool Waiting() const { return fresh_ > 0 || uncounted_ > 0; }
  // What is to be recorded now; to be followed by Recorded(now) once it is.
  [[nodiscard]] std::vector<AuditRecord> Records(absl::Time now) const;
  void Recorded(absl::Time now);
  // Nothing of the participant must be written any more.
  void Forget(const ParticipantKey& key);

 private:
  // Name, role, identity, what, whose, subject.
  using Key = std::tuple<std::string, std::string, std::string, std::string,
                         ParticipantKey, std::string>;
  struct Seen {
    AuditRecord record;
    int64_t again = 0;
    absl::Time last;
  };
  // What is to be on record at its end of one that was seen again.
  [[nodiscard]] static AuditRecord AtItsEnd(const Seen& seen, absl::Time now);
  // Ends the hour of the oldest look that is on record.
  void EndOldest(absl::Time now);
  // How many at the front are on record, and their hour is over.
  [[nodiscard]] size_t Ended(absl::Time now) const;

  std::map<Key, Seen> seen_;
  std::deque<Key> order_;  // by first look
  size_t fresh_ = 0;       // how many at the back are not on record yet
  std::vector<AuditRecord> ended_;  // before their hour was over
  int64_t uncounted_ = 0;           // looks for which there was no room
};

}  // namespace turnstone
