#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <set>
#include <string>

#include "rules/measure/proto_time.h"
#include "service/store/alert_id.h"
#include "service/store/columns.h"
#include "service/store/verify.h"
#include "turnstone/v1/alert.pb.h"

namespace turnstone {
namespace {

// Columns of the query in VerifyAlerts.
enum Column {
  kNumber,
  kSite,
  kParticipant,
  kKind,
  kPriority,
  kStatus,
  kRaisedAt,
  kPosition,
  kContent,
};

bool AsInColumns(const Statement& row, const v1::Alert& alert) {
  return alert.alert_id() == AlertId(row.Int(kNumber)) &&
         alert.site() == row.Bytes(kSite) &&
         alert.participant() == row.Bytes(kParticipant) &&
         alert.kind() == row.Int(kKind) &&
         alert.priority() == row.Int(kPriority) &&
         alert.status() == row.Int(kStatus) &&
         ToColumn(FromProto(alert.raised_at())) == row.Int(kRaisedAt) &&
         alert.position() == row.Int(kPosition);
}

bool IsOpenStatus(v1::AlertStatus status) {
  return status == v1::ALERT_STATUS_REQUESTED ||
         status == v1::ALERT_STATUS_RECEIVED ||
         status == v1::ALERT_STATUS_IN_PROGRESS ||
         status == v1::ALERT_STATUS_ON_HOLD;
}

bool IsExplained(const v1::Alert& alert, const std::set<std::string>& known) {
  return !alert.rule().rule().empty() && alert.rule().rule_version() > 0 &&
         known.contains(alert.rule().configuration()) &&
         !alert.occurrence().empty() &&
         std::all_of(alert.occurrence().begin(), alert.occurrence().end(),
                     [](const v1::Occurrence& reason) {
                       return !reason.event_source().empty() &&
                              !reason.event_id().empty() &&
                              reason.has_trace() && !reason.why().empty();
                     });
}

// `known`: digests of the configurations on record.
void LookAtAlert(const Statement& row, const std::set<std::string>& known,
                 Verification& verification) {
  const std::string place = AlertId(std::max<int64_t>(1, row.Int(kNumber)));
  const auto wrong = [&](const std::string& guarantee,
                         const std::string& what) {
    verification.Add(
        {guarantee, place,
         absl::StrCat(what,
                      ": keep a copy of the folder and report it; see to the "
                      "alert by hand")});
  };
  v1::Alert alert;
  if (!alert.ParseFromString(row.Bytes(kContent)) || !AsInColumns(row, alert)) {
    return wrong("BrokeDurable", "it cannot be read or is another's");
  }
  if (IsOpenStatus(alert.status()) && !alert.escalation().has_next_at()) {
    wrong("BrokeSilent", "it is open and nobody will be told of it again");
  }
  // Of an erased participant nothing is left to explain.
  if (absl::StartsWith(alert.participant(), "erased/")) return;
  if (!IsExplained(alert, known)) {
    wrong("BrokeExplained",
          "its rule, version, configuration or inputs are missing");
  }
}

}  // namespace

absl::Status VerifyAlerts(Database& db, Verification& verification) {
  verification.Begin("alerts");
  std::set<std::string> known;
  absl::Status status =
      ForEachRow(db, "SELECT digest FROM configuration",
                 [&](const Statement& row) { known.insert(row.Bytes(0)); });
  if (!status.ok()) return status;
  return ForEachRow(
      db,
      "SELECT number, site, participant, kind, priority, status, raised_at, "
      "position, content FROM alert ORDER BY number",
      [&](const Statement& row) {
        verification.Count();
        LookAtAlert(row, known, verification);
      });
}

}  // namespace turnstone
