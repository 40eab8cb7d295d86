#include "tests/scenarios/world.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <filesystem>

#include "platform/files.h"
#include "rules/check/load.h"
#include "rules/measure/proto_time.h"
#include "service/core/configuration.h"
#include "service/store/sqlite_store.h"
#include "tests/scenarios/sentences.h"

namespace turnstone::scenarios {
namespace {

absl::StatusOr<v1::Configuration> ReadConfiguration(
    const std::vector<std::string>& sites) {
  static auto& known =
      *new std::map<std::vector<std::string>, v1::Configuration>();
  if (known.contains(sites)) return known[sites];
  const std::string root = TURNSTONE_SOURCE_DIR;
  auto files = ReadTextprotos(root + "/rules");
  if (!files.ok()) return files.status();
  for (const std::string& site : sites) {
    const std::string path =
        absl::StrCat(root, "/tests/scenarios/sites/", site, ".textproto");
    auto text = ReadFile(path);
    if (!text.ok()) return text.status();
    files->emplace(path, *std::move(text));
  }
  LoadResult result = LoadConfiguration(*files, {.complete = true});
  if (result.configuration) {
    LeaveOutExamples(*result.configuration);
    return known[sites] = *result.configuration;
  }
  std::string all = "the configuration is refused:";
  for (const Finding& finding : result.findings) {
    absl::StrAppend(&all, "\n", finding.ToString());
  }
  return absl::FailedPreconditionError(all);
}

v1::Actor Intake() {
  v1::Actor actor;
  actor.set_name("intake");
  actor.set_role("intake-system");
  return actor;
}

}  // namespace

void LeaveOutExamples(v1::Configuration& configuration) {
  for (v1::RuleSet& rules : *configuration.mutable_rule_set()) {
    for (v1::Rule& rule : *rules.mutable_rule()) rule.clear_example();
  }
}

World::World(std::string folder) : folder_(std::move(folder)) {
  std::filesystem::remove_all(folder_);
}

World::~World() {
  core_.reset();
  std::filesystem::remove_all(folder_);
}

absl::Status World::Begin(const std::vector<std::string>& sites,
                          const std::string& local_time) {
  auto configuration = ReadConfiguration(sites);
  if (!configuration.ok()) return configuration.status();
  configuration_ = *std::move(configuration);
  first_site_ = sites.front();
  sites_ = static_cast<int>(sites.size());
  absl::LoadTimeZone(configuration_.site(0).time_zone(), &zone_);
  const auto start = ReadLocal(local_time, zone_);
  if (!start.ok()) return start.status();
  clock_ = std::make_unique<SimulatedClock>(*start);
  absl::Status status = Restart();
  return status.ok() ? StartShadow() : status;
}

absl::Status World::StartShadow() {
  v1::Actor lead;
  lead.set_name("p.wren");
  lead.set_role("programme-lead");
  v1::ShadowVersionRequest request;
  request.set_digest(DigestOf(configuration_));
  request.set_reason("to hold the two against each other");
  absl::Status status =
      core_->ShadowVersion(request, {lead, SiteScope::All()}).status();
  // It is in shadow already, where this failed before for want of an answer.
  if (absl::IsFailedPrecondition(status)) status = absl::OkStatus();
  return status.ok() ? Settle() : status;
}

std::string World::ShadowDiffers() {
  std::string differs;
  v1::ShadowPage page;
  do {
    v1::ListShadowRequest request;
    request.set_after_position(
        page.verdict().empty() ? 0 : page.verdict().rbegin()->position());
    const auto next = core_->ListShadow(request, SiteScope::All());
    if (!next.ok()) return next.status().ToString();
    page = *next;
    for (const v1::ShadowVerdict& verdict : page.verdict()) {
      if (!verdict.alert_id().empty()) continue;
      absl::StrAppend(&differs, "only in shadow: ", verdict.rule(), " of ",
                      verdict.occurrence().event_id(), "\n");
    }
    for (const v1::MissingInShadow& missing : page.missing()) {
      absl::StrAppend(&differs, "not in shadow: ", missing.rule(), " of ",
                      missing.occurrence().event_id(), "\n");
    }
  } while (page.more());
  return differs;
}

absl::Status World::Restart() {
  core_.reset();
  auto store = OpenSqliteStore(folder_);
  if (!store.ok()) return store.status();
  core_ = std::make_unique<Core>(*std::move(store), *clock_, CoreOptions());
  const auto report = core_->Start(configuration_);
  return report.ok() ? Settle() : report.status();
}

absl::Status World::Down(absl::Duration length) {
  core_.reset();
  if (!bound_for_) bound_for_ = clock_->Now() + length;
  clock_->MoveTo(*bound_for_);
  absl::Status status = Restart();
  if (status.ok()) bound_for_.reset();
  return status;
}

absl::Status World::Reload(const v1::Configuration& configuration) {
  absl::Status status = core_->Activate(configuration);
  if (!status.ok()) return status;
  configuration_ = configuration;
  return Settle();
}

absl::Status World::Advance(absl::Duration by) {
  const absl::Time until = bound_for_.value_or(clock_->Now() + by);
  bound_for_ = until;
  while (true) {
    const auto next = NextMoment();
    if (!next.ok()) return next.status();
    if (*next > until) break;
    clock_->MoveTo(*next);
    if (absl::Status status = Settle(); !status.ok()) return status;
  }
  clock_->MoveTo(until);
  absl::Status status = Settle();
  if (status.ok()) bound_for_.reset();
  return status;
}

// When something is to be done, or sent once its channel no longer rests.
absl::StatusOr<absl::Time> World::NextMoment() {
  const auto due = core_->NextDue();
  if (!due.ok()) return due.status();
  if (*due <= clock_->Now()) {
    return absl::InternalError("something is due and was not done");
  }
  const auto sending = core_->NextSending();
  if (!sending.ok()) return sending.status();
  return std::min(*due, *sending);
}

absl::Status World::Settle() {
  absl::Status status = core_->Commit();
  if (status.ok()) status = core_->AskAllDue().status();
  return status.ok() ? Deliver() : status;
}

// Whatever one sending brings about may be owed by a channel looked at before.
absl::Status World::Deliver() {
  bool sent = true;
  while (sent) {
    sent = false;
    for (const ChannelKey& channel : core_->Channels()) {
      const auto envelope = core_->NextEnvelope(channel);
      if (!envelope.ok()) return envelope.status();
      if (!envelope->has_value()) continue;
      core_->StageDelivery(**envelope, channels_.Send(**envelope));
      absl::Status status = core_->Commit();
      if (!status.ok()) return status;
      sent = true;
    }
  }
  return absl::OkStatus();
}

std::pair<std::string, std::string> World::Place(
    const std::string& name) const {
  const size_t slash = name.find('/');
  if (slash == std::string::npos) return {first_site_, name};
  return {name.substr(0, slash), name.substr(slash + 1)};
}

absl::Status World::Submit(const std::string& participant,
                           std::optional<absl::Time> when,
                           const std::string& sentence) {
  if (!unanswered_) {
    const auto before = last_event_.find(participant);
    auto event =
        EventOf(sentence, absl::StrCat("e-", ++events_),
                when.value_or(core_->Now()), zone_,
                before == last_event_.end() ? std::nullopt
                                            : std::optional(before->second));
    if (!event.ok()) return event.status();
    const auto [site, id] = Place(participant);
    event->set_site(site);
    event->set_participant(id);
    unanswered_ = *std::move(event);
  }
  const v1::Event event = *unanswered_;
  absl::Status status = core_->StageSubmit(event, Intake()).status();
  if (status.ok()) status = core_->Commit();
  if (status.ok()) {
    accepted_.push_back(event);
    if (!event.has_correction()) last_event_[participant] = event;
    status = Settle();
  }
  if (!absl::IsUnavailable(status)) unanswered_.reset();
  return status;
}

}  // namespace turnstone::scenarios
