// BrokeDurable and BrokeOnce, of events: what clients were told against what
// the service has.
#pragma once

#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "service/store/store.h"
#include "tests/faults/findings.h"

namespace turnstone::faults {

// Single-thread.
class EventWatch {
 public:
  explicit EventWatch(Findings& findings) : findings_(findings) {}

  // A client sends it now; it may arrive.
  void Sent(const v1::Event& event);
  // A client was told so.
  void Accepted(const v1::Event& event, const v1::SubmitResponse& answer);
  void AcceptedThoughWrong(const v1::Event& event) {
    findings_.Add("BrokeExplained", event.event_id(),
                  " is accepted, and nobody can understand it");
  }
  // A client was told so, and that for good. `wrong`: and rightly so.
  void Refused(const v1::Event& event, const absl::Status& why, bool wrong);

  // Everything is read anew from the service, by site and sequence.
  void BeginReading() { read_.clear(); }
  void Read(const StoredEvent& stored);
  // Everything there is has been read.
  void EndReading();

  [[nodiscard]] size_t accepted() const { return accepted_.size(); }

 private:
  using Id = std::pair<std::string, std::string>;
  struct Told {
    std::string content;
    int64_t sequence;
    std::vector<std::string> alerts;
  };

  Findings& findings_;
  std::map<Id, std::set<std::string>> sent_;  // contents
  std::map<Id, Told> accepted_;
  std::map<Id, std::pair<int64_t, std::string>> read_;  // sequence, content
};

}  // namespace turnstone::faults
