// The heart of the service: takes changes in, has the engine decide, and makes
// event, state, alerts and audit durable in one transaction.
//
// Single-thread: everything here runs on the commit thread, or in one thread
// in tests. Changes are staged, then committed together (group commit); an
// answer may be given only after Commit() returned OK.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "platform/clock.h"
#include "rules/engine/setup.h"
#include "service/core/participant_cache.h"
#include "service/store/store.h"

namespace turnstone {

struct CoreOptions {
  // Participants kept in memory between uses.
  size_t participants_in_memory_max = 20000;
};

class Core {
 public:
  Core(std::unique_ptr<Store> store, const Clock& clock, CoreOptions options);

  // What start-up found and did.
  struct StartReport {
    bool configuration_changed = false;
    // The last good configuration is in force, and why the new one is not;
    // empty if there was none.
    bool used_last_good = false;
    std::string refused;
    int64_t events = 0;
  };
  // Reads the store and puts `configuration` in force; without one, or where it
  // drops what is on record, the last good one from the store.
  // FAILED_PRECONDITION if there is neither. Call once, first.
  [[nodiscard]] absl::StatusOr<StartReport> Start(
      const std::optional<v1::Configuration>& configuration);
  // Puts another configuration in force; on an error the last good one stays.
  [[nodiscard]] absl::Status Activate(const v1::Configuration& configuration);

  // Changes. Staged only; nothing is durable before Commit(). An error means
  // that nothing was staged. Errors as documented in service.proto.
  [[nodiscard]] absl::StatusOr<v1::SubmitResponse> StageSubmit(
      const v1::Event& event, const v1::Actor& by);
  [[nodiscard]] absl::StatusOr<v1::Alert> StageReceive(
      const v1::ReceiveAlertRequest& request, const v1::Actor& by);
  [[nodiscard]] absl::StatusOr<v1::Alert> StageClose(
      const v1::CloseAlertRequest& request, const v1::Actor& by);

  // Records that `by` moved a simulated clock.
  void StageClockMoved(const v1::Actor& by);

  // What was asked because its time had come.
  struct DueReport {
    int participants = 0;
    int alerts_raised = 0;
    absl::Duration latest;  // by how much the latest was late
  };
  // Asks everything that has fallen due by now, and commits it in rounds.
  // REQUIRES: nothing is staged.
  [[nodiscard]] absl::StatusOr<DueReport> AskAllDue();

  // Makes everything staged durable. After an error the core is broken:
  // everything else answers UNAVAILABLE until the service is restarted.
  [[nodiscard]] absl::Status Commit();
  [[nodiscard]] bool broken() const { return broken_; }

  // Reads, of what is durable. REQUIRES: nothing is staged.
  [[nodiscard]] absl::StatusOr<v1::ListAlertsResponse> ListAlerts(
      const v1::ListAlertsRequest& request);
  [[nodiscard]] absl::StatusOr<v1::Alert> GetAlert(const std::string& alert_id);
  [[nodiscard]] absl::StatusOr<std::vector<v1::Alert>> AlertsAfter(
      const std::string& site, int64_t position, int limit);
  [[nodiscard]] absl::StatusOr<v1::ParticipantView> GetParticipant(
      const v1::GetParticipantRequest& request);
  // InfiniteFuture if nothing is to come.
  [[nodiscard]] absl::StatusOr<absl::Time> NextDue();

  // In force. REQUIRES: Start() returned OK.
  [[nodiscard]] const v1::Configuration& configuration() const {
    return *configuration_;
  }
  // Position of the latest change to any alert.
  [[nodiscard]] int64_t position() const { return position_; }
  // The service's time: the clock's, but never backwards.
  [[nodiscard]] absl::Time Now();

 private:
  using Resolved = std::pair<Participant*, v1::Alert*>;

  [[nodiscard]] absl::Status CheckUsable() const;
  // One round of AskAllDue, staged only.
  [[nodiscard]] absl::StatusOr<DueReport> StageDue();
  [[nodiscard]] absl::StatusOr<std::optional<v1::SubmitResponse>>
  AnsweredBefore(const v1::Event& event);
  [[nodiscard]] absl::StatusOr<Resolved> ResolveAlert(
      const std::string& alert_id);
  [[nodiscard]] absl::StatusOr<std::string> SiteOrOnly(
      const std::string& site) const;
  void StageEffects(Participant& participant,
                    const Participant::Effects& effects);
  void StageAlert(v1::Alert& alert, const v1::Actor& by,
                  const std::string& action);
  void Audit(const v1::Actor& by, const std::string& action,
             const std::string& subject, const std::string& detail);
  // Records that the store or the state is not to be trusted any more.
  absl::Status Break(const absl::Status& status);

  std::unique_ptr<Store> store_;
  const Clock& clock_;
  CoreOptions options_;
  std::shared_ptr<const Setup> setup_;
  std::optional<v1::Configuration> configuration_;
  std::unique_ptr<ParticipantCache> participants_;

  absl::Time now_ = absl::InfinitePast();
  int64_t next_sequence_ = 1;
  int64_t next_alert_number_ = 1;
  int64_t position_ = 0;
  bool broken_ = false;

  WriteBatch staged_;
  std::map<std::pair<std::string, std::string>, size_t> staged_events_;
  std::map<std::string, v1::Alert> staged_alerts_;
  std::map<ParticipantKey, ParticipantRow> staged_rows_;
};

}  // namespace turnstone
