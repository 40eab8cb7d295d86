#include "tests/bench/disk_floor.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <map>

#include "service/store/alert_id.h"

namespace turnstone {
namespace {

enum Table { kEvent, kParticipant, kAlert, kAudit, kOutbox, kTableCount };

constexpr char kWriteAlert[] =
    "INSERT INTO alert VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (number) "
    "DO UPDATE SET content = excluded.content";
constexpr const char* kWrite[kTableCount] = {
    "INSERT INTO event VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
    "INSERT OR REPLACE INTO participant VALUES (?, ?, ?, ?)",
    kWriteAlert,
    "INSERT INTO audit VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
    "INSERT OR REPLACE INTO outbox VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
};

const std::string& Text(const Value& value) {
  return std::get<std::string>(value);
}

std::vector<Values> All(SqliteFile& file, const std::string& rows) {
  return file.Rows(file.Prepare(absl::StrCat("SELECT * FROM ", rows)));
}

// The rows of the audit by the event they tell of.
std::vector<std::vector<Values>> AuditByEvent(SqliteFile& file) {
  std::vector<std::vector<Values>> found;
  for (Values& row : All(file, "audit ORDER BY sequence")) {
    if (Text(row[3]) == "event accepted") found.emplace_back();
    if (!found.empty()) found.back().push_back(std::move(row));
  }
  return found;
}

}  // namespace

WrittenRows::WrittenRows(const std::string& store) {
  SqliteFile file(store);
  for (const Values& row : All(file, "sqlite_schema WHERE sql IS NOT NULL")) {
    absl::StrAppend(&schema_, Text(row[4]), ";");
  }
  std::map<std::string, Values> participants;
  for (Values& row : All(file, "participant")) {
    participants[Text(row[1])] = std::move(row);
  }
  std::map<int64_t, Values> alerts;
  for (Values& row : All(file, "alert")) {
    alerts[std::get<int64_t>(row[0])] = std::move(row);
  }
  std::map<int64_t, std::vector<Values>> messages;
  for (Values& row : All(file, "outbox")) {
    messages[std::get<int64_t>(row[2])].push_back(std::move(row));
  }
  std::vector<std::vector<Values>> audit = AuditByEvent(file);
  for (Values& event : All(file, "event ORDER BY sequence")) {
    std::vector<Row> rows;
    const std::vector<std::string> alert_ids =
        absl::StrSplit(Text(event[8]), ' ', absl::SkipEmpty());
    for (const std::string& id : alert_ids) {
      const int64_t number = *AlertNumber(id);
      rows.emplace_back(kAlert, alerts.at(number));
      for (Values& message : messages[number]) {
        rows.emplace_back(kOutbox, std::move(message));
      }
      messages.erase(number);
    }
    rows.emplace_back(kParticipant, participants.at(Text(event[4])));
    for (Values& entry : audit[events_.size()]) {
      rows.emplace_back(kAudit, std::move(entry));
    }
    rows.emplace_back(kEvent, std::move(event));
    events_.push_back(std::move(rows));
  }
}

Measured WrittenRows::WriteAgain(const std::string& path, size_t events,
                                 size_t batch) const {
  SqliteFile file(path);
  file.Script(schema_);
  file.Script("INSERT INTO state VALUES (1, 0, NULL)");
  std::vector<sqlite3_stmt*> write;
  for (const char* sql : kWrite) write.push_back(file.Prepare(sql));
  sqlite3_stmt* const begin_sql = file.Prepare("BEGIN IMMEDIATE");
  sqlite3_stmt* const now_sql = file.Prepare("UPDATE state SET now = ?");
  Measured measured;
  measured.events = static_cast<int64_t>(std::min(events, events_.size()));
  const auto begin = BenchClock::now();
  for (size_t i = 0; i < std::min(events, events_.size());) {
    const auto commit_begin = BenchClock::now();
    file.Run(begin_sql, {});
    for (size_t end = std::min({i + batch, events, events_.size()}); i < end;
         ++i) {
      for (const auto& [table, values] : events_[i]) {
        file.Run(write[static_cast<size_t>(table)], values);
      }
    }
    file.Run(now_sql, {static_cast<int64_t>(i)});
    file.Commit();
    measured.micros.push_back(Since(commit_begin));
  }
  measured.seconds = Since(begin) / 1e6;
  measured.last_sequence = file.Number("SELECT count(*) FROM event");
  return measured;
}

}  // namespace turnstone
