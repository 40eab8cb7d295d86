#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>

#include <algorithm>
#include <set>
#include <vector>

#include "service/store/alert_id.h"
#include "service/store/columns.h"
#include "service/store/verify.h"
#include "turnstone/v1/delivery.pb.h"
#include "turnstone/v1/duty.pb.h"
#include "turnstone/v1/event.pb.h"
#include "turnstone/v1/version.pb.h"

namespace turnstone {
namespace {

constexpr char kReport[] =
    ": keep a copy of the folder and report it; if in doubt restore a backup";

void Wrong(const std::string& guarantee, const std::string& place,
           const std::string& what, Verification& verification) {
  verification.Add({guarantee, place, absl::StrCat(what, kReport)});
}

// Numbers 1, 2, 3, ... in column 0; times that never go back in column 1.
class InOrder {
 public:
  void Look(const std::string& guarantee, const std::string& what,
            const Statement& row, Verification& verification) {
    const int64_t number = row.Int(0);
    if (number != last_ + 1) {
      Wrong(guarantee, absl::StrCat(what, " ", last_ + 1), "it is not there",
            verification);
    }
    if (row.Int(1) < at_) {
      Wrong(guarantee, absl::StrCat(what, " ", number),
            "it is older than the one before", verification);
    }
    last_ = number;
    at_ = row.Int(1);
  }

 private:
  int64_t last_ = 0;
  int64_t at_ = std::numeric_limits<int64_t>::min();
};

absl::StatusOr<std::set<int64_t>> AlertNumbers(Database& db) {
  std::set<int64_t> numbers;
  absl::Status status =
      ForEachRow(db, "SELECT number FROM alert",
                 [&](const Statement& row) { numbers.insert(row.Int(0)); });
  if (!status.ok()) return status;
  return numbers;
}

void CheckContent(const Statement& row, const std::string& place,
                  Verification& verification) {
  v1::Event event;
  const bool erased = row.Bytes(5).empty();
  const bool as_kept = erased ? row.Bytes(6).empty()
                              : event.ParseFromString(row.Bytes(6)) &&
                                    event.source() == row.Bytes(2) &&
                                    event.event_id() == row.Bytes(3) &&
                                    event.site() == row.Bytes(4) &&
                                    event.participant() == row.Bytes(5);
  if (as_kept) return;
  Wrong("BrokeDurable", place, "its content cannot be read or is another's",
        verification);
}

absl::Status CheckEvents(Database& db, Verification& verification) {
  const absl::StatusOr<std::set<int64_t>> alerts = AlertNumbers(db);
  if (!alerts.ok()) return alerts.status();
  verification.Begin("events");
  InOrder order;
  return ForEachRow(
      db,
      "SELECT sequence, recorded, source, event_id, site, participant, "
      "content, alert_ids FROM event ORDER BY sequence",
      [&](const Statement& row) {
        verification.Count();
        order.Look("BrokeDurable", "event", row, verification);
        const std::string place = absl::StrCat("event ", row.Int(0));
        CheckContent(row, place, verification);
        const std::string answered = row.Bytes(7);
        const std::vector<std::string> ids =
            absl::StrSplit(answered, ' ', absl::SkipEmpty());
        for (const std::string& id : ids) {
          if (alerts->contains(AlertNumber(id).value_or(0))) continue;
          Wrong("BrokeRaises", place,
                absl::StrCat("its answer names ", id, ", which is not there"),
                verification);
        }
      });
}

absl::Status CheckEverybodyHasTimers(Database& db, Verification& verification) {
  verification.Begin("participants with events or alerts");
  return ForEachRow(
      db,
      "SELECT kept.least, p.participant IS NULL FROM (SELECT site, "
      "participant, min(sequence) AS least FROM event WHERE participant <> '' "
      "GROUP BY site, participant) AS kept LEFT JOIN participant AS p ON "
      "p.site = kept.site AND p.participant = kept.participant",
      [&](const Statement& row) {
        verification.Count();
        if (row.Int(1) == 0) return;
        Wrong("BrokeSilent", absl::StrCat("participant of event ", row.Int(0)),
              "nothing would ever fall due for them", verification);
      });
}

template <typename Message>
absl::Status CheckReadable(Database& db, const std::string& what,
                           const std::string& sql, Verification& verification) {
  verification.Begin(what);
  return ForEachRow(db, sql, [&](const Statement& row) {
    verification.Count();
    Message message;
    if (message.ParseFromString(row.Bytes(1))) return;
    Wrong("BrokeDurable", absl::StrCat(what, ": ", row.Bytes(0)),
          "it cannot be read", verification);
  });
}

absl::Status CheckMessages(Database& db, Verification& verification) {
  absl::Status status = CheckReadable<v1::OwedMessage>(
      db, "messages", "SELECT key, content FROM outbox", verification);
  if (!status.ok()) return status;
  return ForEachRow(db,
                    "SELECT key FROM outbox WHERE alert <> 0 AND alert NOT IN "
                    "(SELECT number FROM alert)",
                    [&](const Statement& row) {
                      Wrong("BrokeOnTime", row.Bytes(0),
                            "its alert is not there", verification);
                    });
}

absl::Status CheckConfigurations(Database& db, const Digester& digest,
                                 Verification& verification) {
  verification.Begin("configurations");
  return ForEachRow(
      db, "SELECT digest, content FROM configuration",
      [&](const Statement& row) {
        verification.Count();
        v1::Configuration content;
        if (content.ParseFromString(row.Bytes(1)) &&
            digest(content) == row.Bytes(0)) {
          return;
        }
        Wrong("BrokeExplained", absl::StrCat("configuration ", row.Bytes(0)),
              "its content is not what its name says", verification);
      });
}

}  // namespace

absl::Status VerifyRows(Database& db, const Digester& digest,
                        Verification& verification) {
  absl::Status status = CheckConfigurations(db, digest, verification);
  if (status.ok()) status = CheckEvents(db, verification);
  if (status.ok()) status = VerifyAlerts(db, verification);
  if (status.ok()) status = CheckEverybodyHasTimers(db, verification);
  if (status.ok()) status = CheckMessages(db, verification);
  if (status.ok()) {
    status = CheckReadable<v1::DutyRecord>(
        db, "duties", "SELECT site, content FROM duty", verification);
  }
  if (status.ok()) {
    status = CheckReadable<v1::RuleVersion>(
        db, "versions", "SELECT digest, content FROM version", verification);
  }
  if (status.ok()) {
    status = CheckReadable<v1::ShadowVerdict>(
        db, "verdicts in shadow", "SELECT position, content FROM shadow",
        verification);
  }
  if (status.ok()) status = VerifyAudit(db, {}, verification);
  return status;
}

}  // namespace turnstone
