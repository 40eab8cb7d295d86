#include "rules/prove/over_open_alerts.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_replace.h>

#include <array>
#include <map>
#include <utility>
#include <vector>

#include "rules/duty/ladder.h"
#include "rules/prove/ask.h"
#include "rules/prove/climb_look.h"

namespace turnstone {
namespace {

constexpr std::array kOpen = {
    v1::ALERT_STATUS_REQUESTED, v1::ALERT_STATUS_RECEIVED,
    v1::ALERT_STATUS_IN_PROGRESS, v1::ALERT_STATUS_ON_HOLD};

std::string StatusInWords(v1::AlertStatus status) {
  return absl::AsciiStrToLower(absl::StrReplaceAll(
      v1::AlertStatus_Name(status), {{"ALERT_STATUS_", ""}, {"_", "-"}}));
}

// Goes through the alerts, each climb looked at once.
class OpenAlerts {
 public:
  OpenAlerts(const Site& site, const std::vector<LookedAtSpan>& spans,
             Proof& proof)
      : site_(site), look_(site, spans), proof_(proof) {}

  void GoThrough(v1::AlertKind kind, v1::Priority priority) {
    const std::vector<int> fitting =
        FittingLadders(site_.config, kind, priority);
    for (const v1::AlertStatus status : kOpen) {
      // Latched or not, it climbs the same.
      const ClimbLooked looked = fitting.size() == 1
                                     ? Look(fitting.front(), status)
                                     : Misfit(fitting.size());
      proof_.cases += 2 * looked.moments;
      if (looked.wrong.empty() || proof_.counterexample) continue;
      google::protobuf::RepeatedField<int> kinds;
      kinds.Add(kind);
      proof_.result = ProofResult::kFails;
      proof_.counterexample = Counterexample{
          {},
          {absl::StrCat("an alert of kind ", KindsInWords(kinds),
                        " at priority ", PriorityInWords(priority), ", ",
                        StatusInWords(status))},
          "somebody of the site is told, after a wait that ends",
          looked.wrong};
    }
  }

 private:
  static ClimbLooked Misfit(size_t fitting) {
    return {1, fitting == 0 ? "no ladder is for it"
                            : "more than one ladder is for it"};
  }

  ClimbLooked Look(int ladder, v1::AlertStatus status) {
    if (status == v1::ALERT_STATUS_ON_HOLD) {
      // Then it climbs from the first rung again, as one that is requested.
      return {1,
              site_.config.longest_hold_days() > 0 ? "" : "a hold never ends"};
    }
    const bool held = status != v1::ALERT_STATUS_REQUESTED;
    const auto [place, added] = looked_.try_emplace({ladder, held});
    if (added) {
      const v1::Ladder& climbed = site_.config.ladder(ladder);
      place->second =
          look_.Look(held ? climbed.until_closed() : climbed.until_received());
      proof_.evaluations += place->second.moments;
      ++proof_.states;
    }
    return place->second;
  }

  const Site& site_;
  ClimbLook look_;
  Proof& proof_;
  std::map<std::pair<int, bool>, ClimbLooked> looked_;
};

}  // namespace

void ProveHasDeadline(const Site& site, absl::Time from, Proof& proof) {
  const std::vector<LookedAtSpan> spans = SpansFrom(from, site.calendar.zone());
  proof.result = ProofResult::kHolds;
  OpenAlerts alerts(site, spans, proof);
  for (int kind = v1::AlertKind_MIN + 1; kind <= v1::AlertKind_MAX; ++kind) {
    for (int priority = v1::Priority_MAX; priority > v1::Priority_MIN;
         --priority) {
      alerts.GoThrough(static_cast<v1::AlertKind>(kind),
                       static_cast<v1::Priority>(priority));
    }
  }
}

}  // namespace turnstone
