// Start, what falls due, and the commit; see also core_changes.cc,
// core_machine.cc, core_reads.cc and core_versions.cc.
#include "service/core/core.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "service/core/configuration.h"

namespace turnstone {
namespace {

// Participants in one commit when many fall due together.
constexpr int kDueInOneRound = 256;

}  // namespace

Core::Core(std::unique_ptr<Store> store, const Clock& clock,
           CoreOptions options)
    : store_(std::move(store)),
      options_(options),
      time_(clock),
      space_(options.space) {}

absl::Status Core::CheckUsable() const {
  if (!broken_) return absl::OkStatus();
  return absl::UnavailableError(
      "the service has stopped accepting after a failed write and must be "
      "restarted; the result of earlier calls is not known, repeat them then");
}

absl::Status Core::Break(const absl::Status& status) {
  broken_ = true;
  return absl::UnavailableError(
      absl::StrCat("the result is not known, repeat the call after the service "
                   "was restarted: ",
                   status.message()));
}

absl::StatusOr<Recovered> Core::ReadState() {
  absl::StatusOr<Recovered> recovered = store_->Recover();
  if (!recovered.ok()) return recovered;
  next_sequence_ = recovered->last_sequence + 1;
  next_alert_number_ = recovered->last_alert_number + 1;
  position_ = recovered->last_position;
  const absl::StatusOr<std::vector<v1::DutyRecord>> duties = store_->Duties();
  if (!duties.ok()) return duties.status();
  duties_.clear();
  swaps_.clear();
  for (const v1::DutyRecord& duty : *duties) duties_[duty.site()] = duty;
  return recovered;
}

absl::StatusOr<Core::StartReport> Core::Start(
    const std::optional<v1::Configuration>& configuration) {
  absl::StatusOr<Recovered> recovered = ReadState();
  if (!recovered.ok()) return recovered.status();
  time_.GoOnFrom(recovered->last_now);
  recorded_now_ = recovered->last_now;
  space_.Look();
  absl::StatusOr<VersionRecords> versions = store_->Versions();
  if (!versions.ok()) return versions.status();
  versions_.Adopt(*versions);
  StartReport report;
  report.events = recovered->last_sequence;
  absl::Status usable = absl::OkStatus();
  if (recovered->configuration) {
    auto& [digest, content] = *recovered->configuration;
    configuration_ = content;
    usable = CheckLadders(content);
    const absl::StatusOr<std::shared_ptr<const Setup>> shadow = ShadowSetup();
    if (!shadow.ok()) return shadow.status();
    if (usable.ok()) {
      Use(std::make_shared<const Setup>(content, digest), *shadow);
    }
  }
  if (configuration) {
    const absl::StatusOr<Offered> offered = Offer(*configuration);
    const bool to_be_mended = absl::IsFailedPrecondition(offered.status()) ||
                              absl::IsResourceExhausted(offered.status());
    if (to_be_mended && setup_ != nullptr) {
      // The net must not be down after a restart because of a file, nor for
      // want of room to record the change.
      report.used_last_good = true;
      report.refused = std::string(offered.status().message());
      return report;
    }
    if (!offered.ok()) return offered.status();
    report.offered = *offered;
  } else if (setup_ == nullptr) {
    if (!usable.ok()) return usable;
    return absl::FailedPreconditionError(
        "there is no configuration to start with: mend the files, then start "
        "again");
  } else {
    report.used_last_good = true;
  }
  return report;
}

void Core::Use(std::shared_ptr<const Setup> setup,
               std::shared_ptr<const Setup> shadow) {
  setup_ = std::move(setup);
  shadow_ = std::move(shadow);
  participants_ = std::make_unique<ParticipantCache>(
      *store_, setup_, shadow_, options_.participants_in_memory_max);
  for (const auto& [site, duty] : duties_) SetDuty(duty);
  LookAtRetention();
  sign_of_life_at_ = absl::InfinitePast();
}

void Core::StageClockMoved(const v1::Actor& by) {
  Audit(by, "simulated clock moved",
        absl::FormatTime(Now(), absl::UTCTimeZone()), "");
}

absl::StatusOr<Core::DueReport> Core::StageDue() {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const absl::Time now = Now();
  absl::StatusOr<std::vector<ParticipantKey>> due = store_->DueBy(
      "", now, space_.refused() ? 1 : kDueInOneRound, SiteScope::All());
  if (!due.ok()) return Break(due.status());
  DueReport report;
  for (const ParticipantKey& key : *due) {
    absl::StatusOr<Participant*> participant = participants_->Get(key);
    if (!participant.ok()) return Break(participant.status());
    const ParticipantRow row = (*participant)->Row();
    if (row.next_due <= now) {
      report.latest = std::max(report.latest, now - row.next_due);
    }
    const Participant::Effects effects =
        (*participant)->PassTime(MomentAt(key.site));
    report.alerts_raised += static_cast<int>(effects.raised.size());
    report.tellings += static_cast<int>(effects.tellings.size());
    ++report.participants;
    absl::Status status = StageEffects(**participant, effects);
    if (!status.ok()) return status;
  }
  return report;
}

absl::StatusOr<Core::DueReport> Core::AskAllDue() {
  DueReport total;
  while (true) {
    const absl::StatusOr<DueReport> round = StageDue();
    if (!round.ok()) return round.status();
    if (round->participants == 0) break;
    if (absl::Status status = Commit(); !status.ok()) return status;
    total.participants += round->participants;
    total.alerts_raised += round->alerts_raised;
    total.tellings += round->tellings;
    total.latest = std::max(total.latest, round->latest);
  }
  if (absl::Status status = RecordSendings(); !status.ok()) return status;
  if (absl::Status status = GiveSignsOfLife(); !status.ok()) return status;
  if (absl::Status status = KeepToRetention(); !status.ok()) return status;
  if (looks_.Due(Now())) RecordLooks();
  return total;
}

Participant::Moment Core::MomentAt(const std::string& site) {
  return {*setup_, swaps_[site], Now(), next_alert_number_};
}

absl::Status Core::StageEffects(Participant& participant,
                                const Participant::Effects& effects) {
  staged_.shadow.insert(staged_.shadow.end(), effects.shadow.begin(),
                        effects.shadow.end());
  // First, so that what is told below is not withdrawn with the rest.
  for (const std::string& id : effects.settled) {
    absl::Status status = WithdrawMessages(id);
    if (!status.ok()) return status;
  }
  for (const Telling& telling : effects.tellings) {
    absl::Status status = StageMessages(telling);
    if (!status.ok()) return status;
    Audit(ServiceActor(), "people told", telling.alert_id, telling.text);
  }
  for (const std::string& id : effects.raised) {
    Audit(ServiceActor(), "alert raised", id,
          participant.FindAlert(id)->rule().rule());
  }
  for (const std::string& id : effects.changed) {
    Audit(ServiceActor(), "alert changed", id,
          participant.FindAlert(id)->rule().rule());
  }
  for (const auto* ids :
       {&effects.raised, &effects.changed, &effects.climbed}) {
    for (const std::string& id : *ids) StageAlert(*participant.FindAlert(id));
  }
  staged_rows_[participant.key()] = participant.Row();
  return absl::OkStatus();
}

void Core::StageAlert(v1::Alert& alert) {
  alert.set_position(++position_);
  staged_alerts_[alert.alert_id()] = alert;
}

void Core::Audit(const v1::Actor& by, const std::string& action,
                 const std::string& subject, const std::string& detail,
                 const ParticipantKey& about) {
  staged_.audit.push_back({Now(), by, action, subject, detail, about, {}});
}

void Core::GatherStaged(bool looks) {
  if (looks) {
    const std::vector<AuditRecord> records = looks_.Records(Now());
    staged_.audit.insert(staged_.audit.begin(), records.begin(), records.end());
  }
  for (auto& [key, row] : staged_rows_) {
    staged_.participants.push_back(std::move(row));
  }
  for (auto& [id, alert] : staged_alerts_) {
    staged_.alerts.push_back(std::move(alert));
  }
  for (auto& [key, message] : staged_messages_) {
    staged_.messages.push_back(std::move(message));
  }
  for (auto& [site, duty] : staged_duties_) staged_.duties.push_back(duty);
  staged_.now = Now();
}

void Core::ClearStaged() {
  staged_ = WriteBatch();
  staged_events_.clear();
  staged_alerts_.clear();
  staged_rows_.clear();
  staged_messages_.clear();
  staged_duties_.clear();
  staged_health_.clear();
  staged_sendings_.clear();
}

absl::Status Core::Commit() {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  // Where there is little room, it is for work on alerts.
  const bool looks = room() == Room::kEnough;
  GatherStaged(looks);
  const bool empty = staged_.events.empty() && staged_.participants.empty() &&
                     staged_.messages.empty() && staged_.audit.empty();
  if (!empty) {
    const absl::Status status = store_->Commit(staged_);
    if (absl::IsResourceExhausted(status)) return TakeBack();
    if (!status.ok()) return Break(status);
    space_.Recorded();
    if (looks) looks_.Recorded(staged_.now);
    recorded_now_ = staged_.now;
    for (auto& [channel, health] : staged_health_) health_[channel] = health;
  }
  ClearStaged();
  if (participants_ != nullptr) participants_->Trim();
  return absl::OkStatus();
}

}  // namespace turnstone
