// Holds what must be, from what people were told and its own simple reading of
// rules and ladders, against what the service shows. It asks the service what
// is on record, never why.
#pragma once

#include <absl/time/time.h>

#include <map>
#include <string>
#include <utility>

#include "service/core/core.h"
#include "tests/faults/alert_watch.h"
#include "tests/faults/event_watch.h"
#include "tests/faults/findings.h"
#include "tests/faults/reason_watch.h"

namespace turnstone::faults {

// Single-thread.
class Auditor {
 public:
  Auditor() : events_(findings_), reasons_(findings_), alerts_(findings_) {}

  [[nodiscard]] Findings& findings() { return findings_; }
  [[nodiscard]] EventWatch& events() { return events_; }
  [[nodiscard]] ReasonWatch& reasons() { return reasons_; }
  [[nodiscard]] AlertWatch& alerts() { return alerts_; }

  // The service's time as it must be: the wall's, and where that is behind,
  // on from where it was. To be told whenever the service may look.
  void TimeIs(const Clock& clock);
  [[nodiscard]] absl::Time now() const { return now_; }

  // The service has started (again). Everything is read anew.
  void Started(Core& core, const Clock& clock);
  // Everything that is due has been done. Reads what is new.
  void Look(Core& core);

  // For the audit: somebody was told that this was done.
  void Done(const std::string& action, const std::string& subject);
  // Times by action and subject.
  [[nodiscard]] const std::map<std::pair<std::string, std::string>, int>& done()
      const {
    return done_;
  }

 private:
  // False: not everything could be read.
  [[nodiscard]] bool ReadEvents(Core& core);
  [[nodiscard]] bool ReadAlerts(Core& core);
  void CheckLists(Core& core);

  Findings findings_;
  EventWatch events_;
  ReasonWatch reasons_;
  AlertWatch alerts_;
  absl::Time now_ = absl::InfinitePast();
  absl::Duration elapsed_;
  std::map<std::string, int64_t> sequence_;  // read up to, by site
  std::map<std::string, int64_t> position_;  // read up to, by site
  std::map<std::string, int64_t> there_;     // position, by alert
  bool anew_ = true;
  std::map<std::pair<std::string, std::string>, int> done_;
};

}  // namespace turnstone::faults
