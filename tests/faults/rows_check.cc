#include "tests/faults/rows_check.h"

#include <algorithm>
#include <vector>

#include "rules/measure/proto_time.h"
#include "service/core/alert_record.h"
#include "service/store/columns.h"
#include "tests/faults/ladder_model.h"
#include "tests/faults/rows.h"
#include "turnstone/v1/delivery.pb.h"

namespace turnstone::faults {
namespace {

using Audited = std::map<std::pair<std::string, std::string>, int>;

Audited ReadAudit(const std::string& folder, Findings& findings) {
  Audited audited;
  int64_t sequence = 0;
  for (const Row& row : ReadRows(folder,
                                 "SELECT sequence, action, subject FROM audit "
                                 "ORDER BY sequence")) {
    if (row[0] != std::to_string(++sequence)) {
      findings.Add("BrokeAudit", "entry ", row[0], " came where ", sequence,
                   " is next");
    }
    ++audited[{row[1], row[2]}];
  }
  return audited;
}

void CheckAuditedEvents(const std::string& folder, const Audited& audited,
                        Findings& findings) {
  for (const Row& row :
       ReadRows(folder, "SELECT source, event_id FROM event")) {
    const auto found = audited.find({"event accepted", row[0] + " " + row[1]});
    if (found != audited.end() && found->second == 1) continue;
    findings.Add("BrokeAudit", row[1], " is on record, and its acceptance ",
                 found == audited.end() ? "is not" : "is twice");
  }
}

std::vector<v1::Alert> ReadAlerts(const std::string& folder) {
  std::vector<v1::Alert> alerts;
  for (const Row& row : ReadRows(folder, "SELECT content FROM alert")) {
    alerts.emplace_back().ParseFromString(row[0]);
  }
  return alerts;
}

std::map<std::string, v1::OwedMessage> ReadMessages(const std::string& folder) {
  std::map<std::string, v1::OwedMessage> messages;
  for (const Row& row : ReadRows(folder, "SELECT key, content FROM outbox")) {
    messages[row[0]].ParseFromString(row[1]);
  }
  return messages;
}

void CheckAlert(const v1::Alert& alert, const v1::SiteConfig& site,
                const std::map<std::string, v1::OwedMessage>& messages,
                const Audited& audited, Findings& findings) {
  const bool again = !alert.reopens().empty();
  if (!audited.contains({again ? "alert reopened" : "alert raised",
                         again ? alert.reopens() : alert.alert_id()})) {
    findings.Add("BrokeAudit", alert.alert_id(), " came without a record");
  }
  const v1::Escalation& escalation = alert.escalation();
  for (const std::string& told : escalation.told()) {
    for (const v1::Person& person : site.person()) {
      if (person.id() != told) continue;
      for (const v1::Reach& reach : person.reach()) {
        const std::string key =
            absl::StrCat(alert.alert_id(), "/", escalation.rung_telling(), "/",
                         told, "/", reach.channel());
        if (messages.contains(key)) continue;
        findings.Add("BrokeOnTime", told, " was to be told of ",
                     alert.alert_id(), " and nothing is owed: ", key);
      }
    }
  }
}

void CheckMessages(const std::map<std::string, v1::OwedMessage>& messages,
                   const std::map<std::string, v1::Alert>& alerts,
                   const std::set<std::string>& taken, Findings& findings) {
  for (const auto& [key, message] : messages) {
    if (message.status() == v1::MESSAGE_STATUS_SENT && !taken.contains(key)) {
      findings.Add("BrokeOnTime", key,
                   " is on record as sent, and no channel has taken it");
    }
    if (message.status() != v1::MESSAGE_STATUS_OWED ||
        message.alert_id().empty()) {
      continue;
    }
    if (!IsOpen(alerts.at(message.alert_id()))) {
      findings.Add("BrokeOnce", key, " is owed still, and its alert has ended");
    }
  }
}

void CheckTimers(const std::string& folder,
                 const std::map<std::string, v1::Alert>& alerts,
                 Findings& findings) {
  std::map<std::pair<std::string, std::string>, int64_t> due;
  for (const Row& row : ReadRows(
           folder, "SELECT site, participant, next_due FROM participant")) {
    due[{row[0], row[1]}] = std::stoll(row[2]);
  }
  for (const auto& [id, alert] : alerts) {
    if (!IsOpen(alert)) continue;
    const int64_t next =
        DeadlineToColumn(FromProto(alert.escalation().next_at()));
    if (due[{alert.site(), alert.participant()}] > next) {
      findings.Add("BrokeSilent", "nothing wakes the service for ", id);
    }
  }
}

}  // namespace

void CheckRows(const std::string& folder, const LifeKnown& life,
               Findings& findings) {
  const Audited audited = ReadAudit(folder, findings);
  CheckAuditedEvents(folder, audited, findings);
  for (const auto& [what, times] : life.done) {
    const auto found = audited.find(what);
    if (found != audited.end() && found->second >= times) continue;
    findings.Add("BrokeAudit", what.first, " of ", what.second,
                 " was done, and it is not on record so often");
  }
  const auto messages = ReadMessages(folder);
  std::map<std::string, v1::Alert> alerts;
  for (const v1::Alert& alert : ReadAlerts(folder)) {
    alerts[alert.alert_id()] = alert;
    CheckAlert(alert, *SiteNamed(alert.site(), life.configuration), messages,
               audited, findings);
  }
  CheckMessages(messages, alerts, life.taken, findings);
  CheckTimers(folder, alerts, findings);
}

}  // namespace turnstone::faults
