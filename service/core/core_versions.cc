// How a version of the rules comes into force.
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <utility>

#include "rules/diff/fewer_safety.h"
#include "service/core/configuration.h"
#include "service/core/core.h"
#include "service/core/rights.h"
#include "service/core/what_decides.h"
#include "service/core/work_checks.h"

namespace turnstone {
namespace {

v1::RuleVersion RecordOf(const v1::Configuration& configuration,
                         const std::string& digest) {
  v1::RuleVersion version;
  version.set_digest(digest);
  for (const v1::RuleSet& rules : configuration.rule_set()) {
    version.add_rule_set(absl::StrCat(rules.id(), " ", rules.version()));
  }
  return version;
}

absl::Status RequireReason(const std::string& reason) {
  return RequireNote("reason", reason, "why the rules are to change");
}

}  // namespace

absl::Status Core::CommitVersions(const VersionRecords& changed) {
  staged_.versions = changed;
  if (absl::Status status = Commit(); !status.ok()) return status;
  versions_.Adopt(changed);
  return absl::OkStatus();
}

absl::Status Core::PutInForce(const v1::Configuration& next,
                              const v1::RuleVersion& version,
                              const std::string& what, const std::string& proof,
                              const Versions::Step& step) {
  if (configuration_) {
    absl::Status status = CheckSuccessor(*configuration_, next);
    if (!status.ok()) return status;
  }
  auto setup = std::make_shared<const Setup>(next, version.digest());
  absl::Status status = CheckStaffed(*setup, step.now);
  if (!status.ok()) return status;
  staged_.configuration = {version.digest(), next};
  staged_.all_due_at = step.now;
  Audit(step.by, absl::StrCat("version ", what), version.digest(), step.reason);
  status = CommitVersions(versions_.PutInForce(version, what, proof, step));
  if (!status.ok()) return status;
  configuration_ = next;
  const absl::StatusOr<std::shared_ptr<const Setup>> shadow = ShadowSetup();
  if (!shadow.ok()) return Break(shadow.status());
  Use(std::move(setup), *shadow);
  return absl::OkStatus();
}

absl::Status Core::Activate(const v1::Configuration& configuration) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const std::string digest = DigestOf(configuration);
  if (setup_ != nullptr && setup_->digest() == digest) return absl::OkStatus();
  const absl::StatusOr<v1::RuleVersion> known = versions_.Find(digest);
  const std::string reason =
      setup_ == nullptr ? "the first one" : "it decides as before";
  return PutInForce(configuration,
                    known.ok() ? *known : RecordOf(configuration, digest),
                    "in force", "", {ServiceActor(), reason, Now()});
}

absl::StatusOr<Core::Offered> Core::Offer(
    const v1::Configuration& configuration) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const std::string digest = DigestOf(configuration);
  if (setup_ != nullptr && setup_->digest() == digest) {
    return Offered::kAsBefore;
  }
  if (setup_ == nullptr || DecideAlike(*configuration_, configuration)) {
    absl::Status status = Activate(configuration);
    if (!status.ok()) return status;
    return Offered::kInForce;
  }
  absl::Status status = CheckSuccessor(*configuration_, configuration);
  if (!status.ok()) return status;
  const VersionRecords changed =
      versions_.Propose(RecordOf(configuration, digest),
                        {ServiceActor(), "read from the files", Now()});
  if (changed.empty()) return Offered::kProposed;
  staged_.proposed = {digest, configuration};
  Audit(ServiceActor(), "version proposed", digest, "");
  status = CommitVersions(changed);
  if (!status.ok()) return status;
  return Offered::kProposed;
}

absl::StatusOr<v1::Configuration> Core::ContentOf(
    const v1::RuleVersion& version) {
  absl::StatusOr<std::optional<v1::Configuration>> content =
      store_->FindConfiguration(version.digest());
  if (!content.ok()) return Break(content.status());
  if (!content->has_value()) {
    return absl::DataLossError(absl::StrCat(
        "version ", version.digest(), " is on record without its content"));
  }
  return **std::move(content);
}

absl::Status Core::CheckMayActivate(const Caller& caller,
                                    const v1::Configuration& next) const {
  std::vector<std::string> sites = SitesThatDiffer(*configuration_, next);
  // A new site, say, has nobody yet who could be asked.
  if (sites.empty()) sites.push_back(configuration_->site(0).id());
  for (const std::string& site : sites) {
    absl::Status status =
        CheckMay(caller, v1::ACTIVATE_RULES, "put rules in force",
                 *setup_->FindSite(site));
    if (!status.ok()) return status;
  }
  return absl::OkStatus();
}

absl::StatusOr<v1::VersionContent> Core::VersionToProve(
    const v1::ActivateVersionRequest& request, const Caller& caller) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  if (absl::Status status = RequireReason(request.reason()); !status.ok()) {
    return status;
  }
  v1::VersionContent content;
  const absl::StatusOr<v1::RuleVersion> version =
      versions_.Find(request.digest());
  if (!version.ok()) return version.status();
  if (version->status() == v1::VERSION_STATUS_IN_FORCE) {
    return absl::FailedPreconditionError("this version is in force already");
  }
  if (version->status() == v1::VERSION_STATUS_AWAITS_CONFIRMATION) {
    return absl::FailedPreconditionError(absl::StrCat(
        Versions::ActivatedBy(*version),
        " has put this version in force; it waits for a second person to "
        "confirm it"));
  }
  absl::StatusOr<v1::Configuration> configuration = ContentOf(*version);
  if (!configuration.ok()) return configuration.status();
  absl::Status status = CheckMayActivate(caller, *configuration);
  if (!status.ok()) return status;
  *content.mutable_version() = *version;
  *content.mutable_configuration() = *std::move(configuration);
  return content;
}

absl::StatusOr<v1::RuleVersion> Core::ActivateVersion(
    const v1::ActivateVersionRequest& request, const std::string& proof,
    const Caller& caller) {
  // All of it again: much may have happened during the proof.
  const absl::StatusOr<v1::VersionContent> content =
      VersionToProve(request, caller);
  if (!content.ok()) return content.status();
  const v1::RuleVersion& version = content->version();
  const v1::Actor& by = caller.by;
  const Versions::Step step{by, request.reason(), Now()};
  const Setup next(content->configuration(), version.digest());
  std::vector<std::string> fewer;
  for (const auto& [site, ignored] : setup_->sites()) {
    const std::vector<std::string> some = FewerSafety(site, *setup_, next);
    fewer.insert(fewer.end(), some.begin(), some.end());
  }
  absl::Status status = absl::OkStatus();
  if (fewer.empty()) {
    status =
        PutInForce(content->configuration(), version, "activated", proof, step);
  } else {
    Audit(by, "version awaits a second person", version.digest(),
          request.reason());
    status = CommitVersions(versions_.Await(version, proof, fewer, step));
  }
  if (!status.ok()) return status;
  return versions_.Find(version.digest());
}

absl::StatusOr<v1::RuleVersion> Core::ConfirmVersion(
    const v1::ConfirmVersionRequest& request, const Caller& caller) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  if (absl::Status status = RequireReason(request.reason()); !status.ok()) {
    return status;
  }
  const absl::StatusOr<v1::RuleVersion> version =
      versions_.Find(request.digest());
  if (!version.ok()) return version.status();
  if (version->status() != v1::VERSION_STATUS_AWAITS_CONFIRMATION) {
    return absl::FailedPreconditionError(
        "this version does not wait for a second person");
  }
  const absl::StatusOr<v1::Configuration> next = ContentOf(*version);
  if (!next.ok()) return next.status();
  absl::Status status = CheckMayActivate(caller, *next);
  if (!status.ok()) return status;
  if (Versions::ActivatedBy(*version) == caller.by.name()) {
    return absl::PermissionDeniedError(
        "whoever put it in force cannot confirm it: a second person must");
  }
  status = PutInForce(*next, *version, "confirmed", "",
                      {caller.by, request.reason(), Now()});
  if (!status.ok()) return status;
  return versions_.Find(version->digest());
}

}  // namespace turnstone
