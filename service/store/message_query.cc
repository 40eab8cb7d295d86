#include "service/store/message_query.h"

#include <absl/strings/str_cat.h>

#include <utility>

#include "service/store/alert_id.h"
#include "service/store/columns.h"
#include "service/store/scope_query.h"

namespace turnstone::query {
namespace {

// "status = 1" stands in the texts below as in the index, for SQLite compares
// the texts.
static_assert(v1::MESSAGE_STATUS_OWED == 1);

absl::StatusOr<v1::OwedMessage> ReadMessage(const Statement& row) {
  v1::OwedMessage message;
  absl::Status status = ParseColumn(
      row.Bytes(0), absl::StrCat("message ", row.Bytes(1)), &message);
  if (!status.ok()) return status;
  return message;
}

absl::StatusOr<v1::DutyRecord> ReadDuty(const Statement& row) {
  v1::DutyRecord duty;
  absl::Status status =
      ParseColumn(row.Bytes(0), absl::StrCat("duty of ", row.Bytes(1)), &duty);
  if (!status.ok()) return status;
  return duty;
}

absl::StatusOr<OwedByChannel> ReadOwed(const Statement& row) {
  return OwedByChannel{.channel = {row.Bytes(0), row.Bytes(1)},
                       .messages = row.Int(2),
                       .oldest_since = FromColumn(row.Int(3)),
                       .next_attempt = FromColumn(row.Int(4))};
}

// Bit n is set for the status n; nothing asked for: what is not over yet, and
// what has failed.
int64_t StatusMask(const v1::ListOutboxRequest& request) {
  if (request.status().empty()) {
    return (int64_t{1} << v1::MESSAGE_STATUS_OWED) |
           (int64_t{1} << v1::MESSAGE_STATUS_GIVEN_UP);
  }
  int64_t mask = 0;
  for (const int status : request.status()) {
    if (status >= 0 && status < 63) mask |= int64_t{1} << status;
  }
  return mask;
}

constexpr char kFilter[] =
    " FROM outbox WHERE (?1 >> status) & 1 AND (?2 = '' OR site = ?2) "
    "AND (?3 = -1 OR alert = ?3) ";

template <typename... Rest>
Statement Filtered(Database& db, const v1::ListOutboxRequest& request,
                   const SiteScope& scope, const std::string& select,
                   const std::string& rest, const Rest&... parameters) {
  // An id that is none matches nothing.
  const int64_t alert = request.alert_id().empty()
                            ? -1
                            : AlertNumber(request.alert_id()).value_or(-2);
  return db.Query(
      absl::StrCat("SELECT ", select, kFilter, AndInScope(scope, "?4"), rest),
      StatusMask(request), request.site(), alert, parameters...);
}

}  // namespace

absl::StatusOr<std::optional<v1::OwedMessage>> FindMessage(
    Database& db, const std::string& key) {
  return ReadOne(db.Query("SELECT content, key FROM outbox WHERE key = ?", key),
                 &ReadMessage);
}

absl::StatusOr<std::vector<v1::OwedMessage>> OwedOf(
    Database& db, const std::string& alert_id) {
  return ReadAll(db.Query("SELECT content, key FROM outbox WHERE alert = ? "
                          "AND status = 1 ORDER BY key",
                          AlertNumber(alert_id).value_or(-1)),
                 &ReadMessage);
}

absl::StatusOr<std::vector<v1::OwedMessage>> MessagesUnder(
    Database& db, const std::string& prefix) {
  // In ASCII, "0" comes next after "/".
  return ReadAll(db.Query("SELECT content, key FROM outbox WHERE key > ? AND "
                          "key < ? ORDER BY key",
                          prefix + "/", prefix + "0"),
                 &ReadMessage);
}

absl::StatusOr<std::vector<v1::OwedMessage>> ToSend(Database& db,
                                                    const ChannelKey& channel,
                                                    const std::string& person,
                                                    absl::Time time,
                                                    int limit) {
  return ReadAll(
      db.Query("SELECT content, key FROM outbox WHERE site = ?1 AND "
               "channel = ?2 AND status = 1 AND next_attempt <= ?3 AND "
               "(?4 = '' OR person = ?4) "
               "ORDER BY priority DESC, next_attempt, key LIMIT ?5",
               channel.site, channel.channel, ToColumn(time), person, limit),
      &ReadMessage);
}

absl::StatusOr<std::vector<OwedByChannel>> Owed(Database& db) {
  return ReadAll(db.Query("SELECT site, channel, count(*), min(owed_since), "
                          "min(next_attempt) FROM outbox WHERE status = 1 "
                          "GROUP BY site, channel"),
                 &ReadOwed);
}

absl::StatusOr<MessagePage> ListMessages(Database& db,
                                         const v1::ListOutboxRequest& request,
                                         int page_size,
                                         const SiteScope& scope) {
  const std::string in = ScopeParameter(scope);
  const absl::StatusOr<int64_t> total =
      ReadInt(Filtered(db, request, scope, "count(*)", "", in));
  if (!total.ok()) return total.status();
  absl::StatusOr<std::vector<v1::OwedMessage>> messages =
      ReadAll(Filtered(db, request, scope, "content, key",
                       "ORDER BY owed_since, key LIMIT ?5", in, page_size),
              &ReadMessage);
  if (!messages.ok()) return messages.status();
  return MessagePage{*std::move(messages), *total};
}

absl::StatusOr<std::vector<v1::DutyRecord>> Duties(Database& db) {
  return ReadAll(db.Query("SELECT content, site FROM duty ORDER BY site"),
                 &ReadDuty);
}

}  // namespace turnstone::query
