// What Core does so that it is on record who saw what.
#include "rules/measure/proto_time.h"
#include "service/core/core.h"

namespace turnstone {

void Core::NoteLook(const v1::Actor& by, const Look& look) {
  looks_.Note(by, look, Now());
}

void Core::RecordLooks() {
  if (broken_ || room() != Room::kEnough) return;
  if (!looks_.Waiting() && !looks_.Due(Now())) return;
  // Without room they are kept, and a broken store is noticed by whoever asks
  // next.
  (void)Commit();
}

absl::StatusOr<v1::Disclosures> Core::ListDisclosures(
    const v1::ListDisclosuresRequest& request, const SiteScope& scope) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const absl::StatusOr<std::string> site = SiteOrOnly(request.site());
  if (!site.ok()) return site.status();
  const ParticipantKey key{*site, request.participant()};
  absl::Status known = KnownOf(key, scope).status();
  if (!known.ok()) return known;
  RecordLooks();
  if (looks_.Waiting()) {
    return absl::FailedPreconditionError(
        "not all looks are on record yet, for there is no room on the disk: "
        "ask again once whoever runs the service has made some");
  }
  const absl::StatusOr<std::vector<AuditRecord>> records = store_->AuditOf(key);
  if (!records.ok()) return Break(records.status());
  v1::Disclosures disclosures;
  disclosures.set_site(key.site);
  disclosures.set_participant(key.participant);
  disclosures.set_time_zone(setup_->FindSite(*site)->config.time_zone());
  *disclosures.mutable_now() = ToProto(Now());
  for (const AuditRecord& record : *records) {
    v1::Disclosure& one = *disclosures.add_disclosure();
    *one.mutable_at() = ToProto(record.at);
    *one.mutable_by() = record.by;
    one.set_what(record.action);
    one.set_alert_id(record.subject);
    one.set_detail(record.detail);
  }
  return disclosures;
}

absl::StatusOr<AuditTip> Core::GetAuditTip() {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  return store_->GetAuditTip();
}

}  // namespace turnstone
