#include "service/core/versions.h"

#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <iterator>
#include <utility>

#include "rules/measure/proto_time.h"

namespace turnstone {
namespace {

constexpr size_t kShortestDigest = 6;

void Note(const std::string& what, const std::string& proof,
          const Versions::Step& step, v1::RuleVersion& version) {
  v1::VersionChange& change = *version.add_history();
  *change.mutable_at() = ToProto(step.now);
  *change.mutable_by() = step.by;
  change.set_what(what);
  change.set_reason(step.reason);
  change.set_proof(proof);
}

void Append(VersionRecords more, VersionRecords& all) {
  std::move(more.begin(), more.end(), std::back_inserter(all));
}

void TakeOutOfShadow(const Versions::Step& step, v1::RuleVersion& version) {
  version.clear_shadow_since();
  version.clear_shadow_from_position();
  version.clear_shadow_from_alert();
  Note("out of shadow", "", step, version);
}

// In the order in which they are shown.
int Rank(const v1::RuleVersion& version) {
  switch (version.status()) {
    case v1::VERSION_STATUS_IN_FORCE:
      return 0;
    case v1::VERSION_STATUS_AWAITS_CONFIRMATION:
      return 1;
    case v1::VERSION_STATUS_PROPOSED:
      return 2;
    default:
      return 3;
  }
}

absl::Time LatestChange(const v1::RuleVersion& version) {
  if (version.history().empty()) return absl::InfinitePast();
  return FromProto(version.history(version.history_size() - 1).at());
}

}  // namespace

void Versions::Adopt(const VersionRecords& changed) {
  for (const v1::RuleVersion& version : changed) {
    by_digest_[version.digest()] = version;
  }
}

absl::StatusOr<v1::RuleVersion> Versions::Find(
    const std::string& digest) const {
  if (digest == "in-force" || digest == "proposed") {
    const v1::RuleVersion* const named =
        digest == "proposed" ? Proposed() : InForce();
    if (named != nullptr) return *named;
    return absl::NotFoundError(absl::StrCat("digest: nothing is ", digest));
  }
  if (digest.size() < kShortestDigest) {
    return absl::InvalidArgumentError(absl::StrCat(
        "digest: give the version's digest, or its first ", kShortestDigest,
        " characters or more; list the versions "
        "to see them"));
  }
  const auto first = by_digest_.lower_bound(digest);
  if (first == by_digest_.end() || !absl::StartsWith(first->first, digest)) {
    return absl::NotFoundError(
        "digest: there is no such version; list the versions to see them");
  }
  const auto next = std::next(first);
  if (next != by_digest_.end() && absl::StartsWith(next->first, digest)) {
    return absl::InvalidArgumentError(
        "digest: more than one version begins like that; give more of it");
  }
  return first->second;
}

const v1::RuleVersion* Versions::InForce() const {
  for (const auto& [digest, version] : by_digest_) {
    if (version.status() == v1::VERSION_STATUS_IN_FORCE) return &version;
  }
  return nullptr;
}

const v1::RuleVersion* Versions::Proposed() const {
  for (const auto& [digest, version] : by_digest_) {
    if (version.status() == v1::VERSION_STATUS_PROPOSED ||
        version.status() == v1::VERSION_STATUS_AWAITS_CONFIRMATION) {
      return &version;
    }
  }
  return nullptr;
}

const v1::RuleVersion* Versions::InShadow() const {
  for (const auto& [digest, version] : by_digest_) {
    if (version.has_shadow_since()) return &version;
  }
  return nullptr;
}

VersionRecords Versions::All() const {
  VersionRecords all;
  all.reserve(by_digest_.size());
  for (const auto& [digest, version] : by_digest_) all.push_back(version);
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) {
    if (Rank(a) != Rank(b)) return Rank(a) < Rank(b);
    return LatestChange(a) > LatestChange(b);
  });
  return all;
}

VersionRecords Versions::Moved(v1::VersionStatus from, v1::VersionStatus to,
                               const std::string& what,
                               const Step& step) const {
  VersionRecords moved;
  for (const auto& [digest, version] : by_digest_) {
    if (version.status() != from) continue;
    v1::RuleVersion& next = moved.emplace_back(version);
    next.set_status(to);
    next.clear_fewer_safety();
    Note(what, "", step, next);
  }
  return moved;
}

VersionRecords Versions::Propose(const v1::RuleVersion& version,
                                 const Step& step) const {
  const auto known = by_digest_.find(version.digest());
  v1::RuleVersion proposed =
      known == by_digest_.end() ? version : known->second;
  if (proposed.status() == v1::VERSION_STATUS_PROPOSED ||
      proposed.status() == v1::VERSION_STATUS_AWAITS_CONFIRMATION) {
    return {};
  }
  VersionRecords changed = Moved(v1::VERSION_STATUS_PROPOSED,
                                 v1::VERSION_STATUS_REPLACED, "replaced", step);
  Append(Moved(v1::VERSION_STATUS_AWAITS_CONFIRMATION,
               v1::VERSION_STATUS_REPLACED, "replaced", step),
         changed);
  proposed.set_status(v1::VERSION_STATUS_PROPOSED);
  Note("proposed", "", step, proposed);
  changed.push_back(std::move(proposed));
  return changed;
}

VersionRecords Versions::Await(const v1::RuleVersion& version,
                               const std::string& proof,
                               const std::vector<std::string>& fewer_safety,
                               const Step& step) const {
  v1::RuleVersion awaits = version;
  awaits.set_status(v1::VERSION_STATUS_AWAITS_CONFIRMATION);
  awaits.clear_fewer_safety();
  for (const std::string& why : fewer_safety) awaits.add_fewer_safety(why);
  Note("activated", proof, step, awaits);
  return {std::move(awaits)};
}

VersionRecords Versions::PutInForce(const v1::RuleVersion& version,
                                    const std::string& what,
                                    const std::string& proof,
                                    const Step& step) const {
  VersionRecords changed = Moved(v1::VERSION_STATUS_IN_FORCE,
                                 v1::VERSION_STATUS_RETIRED, "retired", step);
  v1::RuleVersion in_force = version;
  in_force.set_status(v1::VERSION_STATUS_IN_FORCE);
  // What was tried out beside another is now that other itself.
  if (in_force.has_shadow_since()) TakeOutOfShadow(step, in_force);
  Note(what, proof, step, in_force);
  changed.push_back(std::move(in_force));
  return changed;
}

VersionRecords Versions::PutInShadow(const v1::RuleVersion& version,
                                     int64_t from_position, int64_t from_alert,
                                     const Step& step) const {
  VersionRecords changed = EndShadow(step);
  v1::RuleVersion shadow = version;
  *shadow.mutable_shadow_since() = ToProto(step.now);
  shadow.set_shadow_from_position(from_position);
  shadow.set_shadow_from_alert(from_alert);
  Note("in shadow", "", step, shadow);
  changed.push_back(std::move(shadow));
  return changed;
}

VersionRecords Versions::EndShadow(const Step& step) const {
  const v1::RuleVersion* const shadow = InShadow();
  if (shadow == nullptr) return {};
  v1::RuleVersion ended = *shadow;
  TakeOutOfShadow(step, ended);
  return {std::move(ended)};
}

std::string Versions::ActivatedBy(const v1::RuleVersion& version) {
  std::string name;
  for (const v1::VersionChange& change : version.history()) {
    if (change.what() == "activated") name = change.by().name();
  }
  return name;
}

}  // namespace turnstone
