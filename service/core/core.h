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
#include "service/core/caller.h"
#include "service/core/channel_health.h"
#include "service/core/envelope.h"
#include "service/core/explain.h"
#include "service/core/figures.h"
#include "service/core/looks.h"
#include "service/core/participant_cache.h"
#include "service/core/service_time.h"
#include "service/core/space_watch.h"
#include "service/core/versions.h"
#include "service/store/store.h"
#include "turnstone/v1/audit.pb.h"

namespace turnstone {

struct CoreOptions {
  // Participants kept in memory between uses.
  size_t participants_in_memory_max = 20000;
  // Of the store; outlives the Core. Null: nobody watches how full it is.
  DiskSpace* space = nullptr;
};

class Core {
 public:
  Core(std::unique_ptr<Store> store, const Clock& clock, CoreOptions options);

  // What became of a configuration read from the files.
  enum class Offered { kAsBefore, kInForce, kProposed };

  // What start-up found and did.
  struct StartReport {
    Offered offered = Offered::kAsBefore;
    // The last good configuration is in force, and why the new one is not;
    // empty if there was none.
    bool used_last_good = false;
    std::string refused;
    int64_t events = 0;
  };
  // Reads the store and offers `configuration`; without one, or where it drops
  // what is on record, the last good one from the store stays in force.
  // FAILED_PRECONDITION if there is neither. Call once, first.
  [[nodiscard]] absl::StatusOr<StartReport> Start(
      const std::optional<v1::Configuration>& configuration);
  // Takes what the files hold: the first one, and one that decides as before,
  // comes into force at once; another is proposed. On an error the last good
  // one stays.
  [[nodiscard]] absl::StatusOr<Offered> Offer(
      const v1::Configuration& configuration);
  // Puts a configuration in force at once, whatever it decides; on an error the
  // last good one stays. Of people's wish to do so, see ActivateVersion.
  [[nodiscard]] absl::Status Activate(const v1::Configuration& configuration);

  // Versions. What is changed is committed before they return. REQUIRES:
  // nothing is staged. Errors as documented in service.proto.
  //
  // What the caller asks to put in force, for the proof that must come first.
  [[nodiscard]] absl::StatusOr<v1::VersionContent> VersionToProve(
      const v1::ActivateVersionRequest& request, const Caller& caller);
  // `proof`: what the check and the proof found.
  [[nodiscard]] absl::StatusOr<v1::RuleVersion> ActivateVersion(
      const v1::ActivateVersionRequest& request, const std::string& proof,
      const Caller& caller);
  [[nodiscard]] absl::StatusOr<v1::RuleVersion> ConfirmVersion(
      const v1::ConfirmVersionRequest& request, const Caller& caller);
  [[nodiscard]] absl::StatusOr<v1::RuleVersion> ShadowVersion(
      const v1::ShadowVersionRequest& request, const Caller& caller);
  [[nodiscard]] absl::StatusOr<v1::VersionList> ListVersions(
      const v1::ListVersionsRequest& request);
  [[nodiscard]] absl::StatusOr<v1::VersionContent> GetVersion(
      const v1::GetVersionRequest& request);
  [[nodiscard]] absl::StatusOr<v1::ShadowPage> ListShadow(
      const v1::ListShadowRequest& request, const SiteScope& scope);

  // Changes. Staged only; nothing is durable before Commit(). An error means
  // that nothing was staged. Errors as documented in service.proto.
  //
  // RESOURCE_EXHAUSTED while room() is not kEnough.
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
  // Where there is no room to record it, it is kept in mind until there is, and
  // not sent again meanwhile.
  void StageDelivery(const Envelope& envelope, const absl::Status& result);
  // When the next message is to be sent, past the rest of its channel;
  // InfiniteFuture if none is owed.
  [[nodiscard]] absl::StatusOr<absl::Time> NextSending();

  // Makes everything staged durable. RESOURCE_EXHAUSTED: there is no room, and
  // nothing of it has happened. After any other error the core is broken:
  // everything else answers UNAVAILABLE until the service is restarted.
  [[nodiscard]] absl::Status Commit();
  [[nodiscard]] bool broken() const { return broken_; }

  // Looks at the disk and the clock, and records what it must because of them.
  // Call before each round of work. REQUIRES: nothing is staged.
  void LookAtMachine();
  [[nodiscard]] Room room() const { return space_.room(); }
  // How the machine's clock and the service's time differ.
  struct ClockNews {
    absl::Duration behind;  // the clock is behind by this
    absl::Duration jump;    // it was set ahead by this since last asked
  };
  [[nodiscard]] ClockNews TakeClockNews();

  // Reads, of what is durable, of the sites of `scope`: others are as if they
  // had nothing. REQUIRES: nothing is staged.
  [[nodiscard]] absl::StatusOr<v1::ListAlertsResponse> ListAlerts(
      const v1::ListAlertsRequest& request, const SiteScope& scope);
  [[nodiscard]] absl::StatusOr<v1::Alert> GetAlert(const std::string& alert_id,
                                                   const SiteScope& scope);
  [[nodiscard]] absl::StatusOr<std::vector<v1::Alert>> AlertsAfter(
      const std::string& site, int64_t position, int limit,
      const SiteScope& scope);
  [[nodiscard]] absl::StatusOr<v1::ParticipantView> GetParticipant(
      const v1::GetParticipantRequest& request, const SiteScope& scope);
  // Errors as documented in service.proto; NOT_FOUND, saying what there is, for
  // an alert, reason, participant or rule there is not.
  [[nodiscard]] absl::StatusOr<v1::AlertExplanation> ExplainAlert(
      const v1::ExplainAlertRequest& request, const SiteScope& scope);
  // What ExplainSilence needs.
  [[nodiscard]] absl::StatusOr<RuleAsked> AskRule(
      const v1::ExplainRuleRequest& request, const SiteScope& scope);
  [[nodiscard]] absl::StatusOr<v1::OnCall> GetOnCall(
      const v1::GetOnCallRequest& request);
  [[nodiscard]] absl::StatusOr<v1::Handover> GetHandover(
      const v1::GetHandoverRequest& request, const SiteScope& scope);
  [[nodiscard]] absl::StatusOr<v1::DueList> ListDue(
      const v1::ListDueRequest& request, const SiteScope& scope);
  // `sending` is for the caller to set.
  [[nodiscard]] absl::StatusOr<v1::Outbox> ListOutbox(
      const v1::ListOutboxRequest& request, const SiteScope& scope);
  [[nodiscard]] absl::StatusOr<v1::Burden> GetBurden(
      const v1::GetBurdenRequest& request, const SiteScope& scope);
  // Looks. What somebody has been shown is to be noted; it is recorded with the
  // next commit, or within about a second. See Looks for what a crash takes.
  void NoteLook(const v1::Actor& by, const Look& look);
  // Records them now, with a commit of its own if there is something; not while
  // the disk is short of room. REQUIRES: nothing is staged.
  void RecordLooks();
  // Who looked at a participant or worked on their alerts, oldest first.
  [[nodiscard]] absl::StatusOr<v1::Disclosures> ListDisclosures(
      const v1::ListDisclosuresRequest& request, const SiteScope& scope);
  // How far the audit has got.
  [[nodiscard]] absl::StatusOr<AuditTip> GetAuditTip();

  // Operations. Errors as documented in service.proto. REQUIRES: nothing is
  // staged.
  //
  [[nodiscard]] absl::Status CheckMayBackUp(const Caller& caller) const;
  // Begins a copy of everything into the new file `path`.
  [[nodiscard]] absl::Status BeginBackUp(const std::string& path);
  struct BackUpStep {
    CopyState copy;
    // Once it is whole: what it holds; `bytes` is for the caller to set.
    v1::Backup holds;
  };
  // Copies a little more. Nobody waits for long meanwhile. An error ends it.
  [[nodiscard]] absl::StatusOr<BackUpStep> GoOnBackingUp();
  // Gives up.
  void EndBackUp() { store_->EndCopy(); }
  [[nodiscard]] absl::Status RecordBackUp(const v1::Backup& backup,
                                          const v1::Actor& by);
  // Commits before it returns.
  [[nodiscard]] absl::StatusOr<v1::Erasure> EraseParticipant(
      const v1::EraseParticipantRequest& request, const v1::Actor& by);

  [[nodiscard]] absl::StatusOr<Figures> GetFigures();
  // As Clock::Elapsed.
  [[nodiscard]] absl::Duration Elapsed() const { return time_.Elapsed(); }
  // What should be seen to at any site, a sentence each.
  [[nodiscard]] std::vector<std::string> Concerns();
  // Those among them that are the machine's.
  [[nodiscard]] std::vector<std::string> MachineConcerns();
  // Some of what a site has recorded.
  struct EventPage {
    std::string site;
    std::vector<StoredEvent> events;  // by sequence
    int64_t total = 0;                // of the site
  };
  // Events after `sequence`, at most `limit`. PERMISSION_DENIED unless `by` may
  // put rules in force at the site.
  [[nodiscard]] absl::StatusOr<EventPage> EventsAfter(const std::string& site,
                                                      int64_t sequence,
                                                      int limit,
                                                      const v1::Actor& by);
  // When the next question, rung, end of a hold or look at what need not be
  // kept is due; InfiniteFuture if nothing is to come.
  [[nodiscard]] absl::StatusOr<absl::Time> NextDue();

  // In force. REQUIRES: Start() returned OK.
  [[nodiscard]] const v1::Configuration& configuration() const {
    return *configuration_;
  }
  [[nodiscard]] const Setup& setup() const { return *setup_; }
  // Position of the latest change to any alert.
  [[nodiscard]] int64_t position() const { return position_; }
  // The service's time; see ServiceTime.
  [[nodiscard]] absl::Time Now() { return time_.Now(); }

 private:
  using Resolved = std::pair<Participant*, v1::Alert*>;
  // What came of sending an envelope.
  struct Sending {
    Envelope envelope;
    absl::Status result;
  };

  [[nodiscard]] absl::Status CheckUsable() const;
  // One round of AskAllDue, staged only.
  [[nodiscard]] absl::StatusOr<DueReport> StageDue();
  [[nodiscard]] absl::StatusOr<v1::SubmitResponse> TakeIn(
      const v1::Event& event, const v1::Actor& by);
  void Count(const absl::StatusOr<v1::SubmitResponse>& answer);
  [[nodiscard]] absl::StatusOr<std::optional<v1::SubmitResponse>>
  AnsweredBefore(const v1::Event& event);
  [[nodiscard]] absl::StatusOr<Resolved> ResolveAlert(
      const std::string& alert_id, const SiteScope& scope);
  // Every event of the participant, by sequence. NOT_FOUND if there is none.
  [[nodiscard]] absl::StatusOr<std::vector<StoredEvent>> KnownOf(
      const ParticipantKey& key, const SiteScope& scope);
  // A configuration that is or was in force.
  [[nodiscard]] absl::StatusOr<std::shared_ptr<const Setup>> SetupOf(
      const std::string& digest);
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
  // Decides by `setup` from now on, with `shadow` beside it, or null.
  void Use(std::shared_ptr<const Setup> setup,
           std::shared_ptr<const Setup> shadow);
  // Commits the records with whatever else is staged, and knows them then.
  [[nodiscard]] absl::Status CommitVersions(const VersionRecords& changed);
  // Checks that `next` may follow what is in force, and puts it there.
  [[nodiscard]] absl::Status PutInForce(const v1::Configuration& next,
                                        const v1::RuleVersion& version,
                                        const std::string& what,
                                        const std::string& proof,
                                        const Versions::Step& step);
  [[nodiscard]] absl::StatusOr<v1::Configuration> ContentOf(
      const v1::RuleVersion& version);
  // What is to be in shadow by the records; null if nothing is.
  [[nodiscard]] absl::StatusOr<std::shared_ptr<const Setup>> ShadowSetup();
  // PERMISSION_DENIED unless the caller may put rules in force at every site at
  // which `next` decides otherwise, and at one at least.
  [[nodiscard]] absl::Status CheckMayActivate(
      const Caller& caller, const v1::Configuration& next) const;
  [[nodiscard]] absl::Status FillPage(const v1::ListShadowRequest& request,
                                      int page_size, const SiteScope& scope,
                                      v1::ShadowPage& page);
  [[nodiscard]] absl::Status FillMissing(const std::string& site,
                                         const SiteScope& scope,
                                         v1::ShadowPage& page);
  void SetDuty(const v1::DutyRecord& duty);
  void StageDuty(const v1::DutyRecord& duty);
  // Every open alert of the site, staged changes included.
  [[nodiscard]] absl::StatusOr<std::vector<v1::Alert*>> OpenAlerts(
      const std::string& site, const SiteScope& scope);
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
      const DutyPlace& place, const SiteScope& scope);
  void StageAlert(v1::Alert& alert);
  // What is on record of the participant; staged only.
  v1::Erasure StageErasure(const v1::Actor& by, const std::string& why,
                           const ParticipantKey& key,
                           const std::vector<StoredEvent>& events,
                           const std::vector<v1::Alert>& alerts);
  // Commits what is staged, with `erased` on record no more.
  [[nodiscard]] absl::Status CommitErasures(
      const std::vector<ParticipantKey>& erased);
  // What the sites do not keep for ever is looked for at once, and then daily.
  void LookAtRetention();
  // What is to be seen to at the site.
  [[nodiscard]] std::vector<std::string> ConcernsAt(const Site& site);
  // Owes and commits the daily message of every site where it is time for it.
  // REQUIRES: nothing is staged.
  [[nodiscard]] absl::Status GiveSignsOfLife();
  [[nodiscard]] absl::Status StageSignOfLife(const Site& site,
                                             const std::string& key,
                                             absl::Time next);
  // One round of it, if it is time: a few participants, and the rest at once
  // after whatever else waits.
  [[nodiscard]] absl::Status KeepToRetention();
  void StageExpired();
  // Stages the erasure, if it is due.
  [[nodiscard]] absl::StatusOr<bool> StageIfExpired(const ParticipantKey& key);
  void Audit(const v1::Actor& by, const std::string& action,
             const std::string& subject, const std::string& detail,
             const ParticipantKey& about = {});
  // Records that the store or the state is not to be trusted any more.
  absl::Status Break(const absl::Status& status);
  // Goes on from what the store has.
  [[nodiscard]] absl::StatusOr<Recovered> ReadState();
  // Everything staged, in one place; with the looks that wait, if `looks`.
  void GatherStaged(bool looks);
  // Forgets everything staged.
  void ClearStaged();
  // Nothing of what was staged has happened: makes the memory say so too.
  absl::Status TakeBack();
  // Takes out what was sent, though there is no room to record it.
  void EraseSent(std::vector<v1::OwedMessage>& owed) const;
  void KeepInMind(Sending sending);
  // What came of sendings, where there was no room for it before.
  [[nodiscard]] absl::Status RecordSendings();
  // Commits the time, and nothing else.
  void RecordTime();

  std::unique_ptr<Store> store_;
  CoreOptions options_;
  ServiceTime time_;
  Looks looks_;
  Submissions submissions_;
  SpaceWatch space_;
  std::shared_ptr<const Setup> setup_;
  std::shared_ptr<const Setup> shadow_;  // null: nothing is in shadow
  Versions versions_;
  std::optional<v1::Configuration> configuration_;
  std::unique_ptr<ParticipantCache> participants_;

  absl::Time recorded_now_ = absl::InfinitePast();
  int64_t next_sequence_ = 1;
  int64_t next_alert_number_ = 1;
  int64_t position_ = 0;
  bool broken_ = false;

  // By site.
  std::map<std::string, v1::DutyRecord> duties_;
  std::map<std::string, std::vector<Swap>> swaps_;
  std::map<ChannelKey, ChannelHealth> health_;

  // When to look next for what need not be kept, and how far the look under way
  // has come.
  absl::Time retention_at_ = absl::InfiniteFuture();
  // When the next sign of life is to be looked after.
  absl::Time sign_of_life_at_ = absl::InfinitePast();
  ParticipantKey retention_from_;

  // Those for which there was no room yet.
  std::vector<Sending> unrecorded_;
  // Keys of their messages.
  std::set<std::string> sent_unrecorded_;

  WriteBatch staged_;
  std::map<std::pair<std::string, std::string>, size_t> staged_events_;
  std::map<std::string, v1::Alert> staged_alerts_;
  std::map<ParticipantKey, ParticipantRow> staged_rows_;
  std::map<std::string, v1::OwedMessage> staged_messages_;
  std::map<std::string, v1::DutyRecord> staged_duties_;
  std::map<ChannelKey, ChannelHealth> staged_health_;
  std::vector<Sending> staged_sendings_;
};

}  // namespace turnstone
