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
#include "service/core/channel_health.h"
#include "service/core/envelope.h"
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
  [[nodiscard]] absl::StatusOr<v1::Alert> StageWork(
      const v1::WorkAlertRequest& request, const v1::Actor& by);
  [[nodiscard]] absl::StatusOr<v1::Handover> StageOffer(
      const v1::OfferHandoverRequest& request, const v1::Actor& by);
  [[nodiscard]] absl::StatusOr<v1::Handover> StageAnswer(
      const v1::AnswerHandoverRequest& request, const v1::Actor& by);

  // Records that `by` moved a simulated clock.
  void StageClockMoved(const v1::Actor& by);

  // What was asked because its time had come.
  struct DueReport {
    int participants = 0;
    int alerts_raised = 0;
    int tellings = 0;       // rungs reached
    absl::Duration latest;  // by how much the latest was late
  };
  // Asks everything that has fallen due by now, takes every alert up its
  // ladder, and commits it in rounds.
  // REQUIRES: nothing is staged.
  [[nodiscard]] absl::StatusOr<DueReport> AskAllDue();

  // Sending. Every channel of every site, and those that owe something still.
  [[nodiscard]] std::vector<ChannelKey> Channels() const;
  // What is to be sent now by the channel, most pressing first; absent if
  // nothing is, or the channel rests. REQUIRES: nothing is staged.
  [[nodiscard]] absl::StatusOr<std::optional<Envelope>> NextEnvelope(
      const ChannelKey& channel);
  // Stages what came of sending it. A message that is given up, where no other
  // of the same telling got or may still get through, makes its alert climb.
  void StageDelivery(const Envelope& envelope, const absl::Status& result);
  // When the next message is to be sent, past the rest of its channel;
  // InfiniteFuture if none is owed.
  [[nodiscard]] absl::StatusOr<absl::Time> NextSending();

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
  [[nodiscard]] absl::StatusOr<v1::OnCall> GetOnCall(
      const v1::GetOnCallRequest& request);
  [[nodiscard]] absl::StatusOr<v1::Handover> GetHandover(
      const v1::GetHandoverRequest& request);
  [[nodiscard]] absl::StatusOr<v1::DueList> ListDue(
      const v1::ListDueRequest& request);
  // `sending` is for the caller to set.
  [[nodiscard]] absl::StatusOr<v1::Outbox> ListOutbox(
      const v1::ListOutboxRequest& request);
  [[nodiscard]] absl::StatusOr<v1::Burden> GetBurden(
      const v1::GetBurdenRequest& request);
  // What should be seen to at any site, a sentence each.
  [[nodiscard]] std::vector<std::string> Concerns();
  // When the next question, rung or end of a hold is due; InfiniteFuture if
  // nothing is to come.
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
  [[nodiscard]] Participant::Moment MomentAt(const std::string& site);
  [[nodiscard]] absl::Status StageEffects(Participant& participant,
                                          const Participant::Effects& effects);
  // What the telling owes; older messages to the same people by the same
  // channels are withdrawn, so that after an outage nobody gets a hundred of
  // them at once. A daily message replaces nothing: what waits goes sooner.
  [[nodiscard]] absl::Status StageMessages(const Telling& telling);
  // Messages of the alert that are still owed.
  [[nodiscard]] absl::Status WithdrawMessages(const std::string& alert_id);
  // Those whose key begins with `prefix` and a slash.
  [[nodiscard]] absl::Status WithdrawUnder(const std::string& prefix);
  void StageWithdrawal(v1::OwedMessage message);
  // `stored` as they stand now: those staged, whose keys begin with `prefix`
  // and a slash, are newer. By key.
  [[nodiscard]] std::vector<v1::OwedMessage> WithStaged(
      const std::vector<v1::OwedMessage>& stored,
      const std::string& prefix) const;
  [[nodiscard]] absl::StatusOr<std::vector<v1::OwedMessage>> OwedNow(
      const std::string& alert_id);
  [[nodiscard]] absl::StatusOr<std::optional<v1::OwedMessage>> CurrentMessage(
      const std::string& key);
  [[nodiscard]] absl::Status ClimbIfNobodyReached(
      const v1::OwedMessage& given_up);
  [[nodiscard]] absl::Status StageResult(const Envelope& envelope,
                                         const absl::Status& result);
  // Puts `setup` in force.
  void Use(std::shared_ptr<const Setup> setup);
  void SetDuty(const v1::DutyRecord& duty);
  void StageDuty(const v1::DutyRecord& duty);
  // Every open alert of the site, staged changes included.
  [[nodiscard]] absl::StatusOr<std::vector<v1::Alert*>> OpenAlerts(
      const std::string& site);
  [[nodiscard]] absl::Status PassAlerts(const Site& site,
                                        const v1::HandoverOffer& offer,
                                        const v1::Actor& by);
  // The site and the rota a hand-over is about.
  struct DutyPlace {
    const Site* site;
    const Rota* rota;
  };
  [[nodiscard]] absl::StatusOr<DutyPlace> FindDuty(
      const std::string& site, const std::string& role) const;
  [[nodiscard]] absl::StatusOr<v1::Handover> HandoverView(
      const DutyPlace& place);
  void StageAlert(v1::Alert& alert);
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

  // By site.
  std::map<std::string, v1::DutyRecord> duties_;
  std::map<std::string, std::vector<Swap>> swaps_;
  std::map<ChannelKey, ChannelHealth> health_;

  WriteBatch staged_;
  std::map<std::pair<std::string, std::string>, size_t> staged_events_;
  std::map<std::string, v1::Alert> staged_alerts_;
  std::map<ParticipantKey, ParticipantRow> staged_rows_;
  std::map<std::string, v1::OwedMessage> staged_messages_;
  std::map<std::string, v1::DutyRecord> staged_duties_;
};

}  // namespace turnstone
