#include "service/store/alert_query.h"

#include <absl/status/status.h>
#include <absl/strings/str_cat.h>

#include <cstddef>
#include <utility>

#include "service/store/alert_id.h"
#include "service/store/columns.h"
#include "service/store/page_token.h"
#include "service/store/scope_query.h"

namespace turnstone::query {
namespace {

absl::StatusOr<v1::Alert> ReadAlert(const Statement& row) {
  v1::Alert alert;
  absl::Status status = ParseColumn(row.Bytes(1), AlertId(row.Int(0)), &alert);
  if (!status.ok()) return status;
  return alert;
}

struct PlacedAlert {
  v1::Alert alert;
  AlertPlace place;
};

absl::StatusOr<PlacedAlert> ReadPlacedAlert(const Statement& row) {
  absl::StatusOr<v1::Alert> alert = ReadAlert(row);
  if (!alert.ok()) return alert.status();
  return PlacedAlert{
      *std::move(alert),
      {.priority = row.Int(2), .raised_at = row.Int(3), .number = row.Int(0)}};
}

// Bit n is set for the enum value n. No value asked for: all bits, any value.
template <typename Values>
int64_t Mask(const Values& values) {
  if (values.empty()) return -1;
  int64_t mask = 0;
  for (const int value : values) {
    if (value >= 0 && value < 63) mask |= int64_t{1} << value;
  }
  return mask;
}

// The request's filter. ?1 and ?2 are left out of the text when they do not
// matter, for SQLite chooses its index by the text.
std::string Filter(const v1::ListAlertsRequest& request,
                   const SiteScope& scope) {
  return absl::StrCat(
      " FROM alert WHERE (?3 >> status) & 1 AND (?4 >> priority) & 1 AND "
      "(?5 >> kind) & 1",
      AndInScope(scope, "?6"), request.site().empty() ? "" : " AND site = ?1",
      request.participant().empty() ? "" : " AND participant = ?2");
}

// `select` and the filter and `rest`, whose own parameters begin with that of
// the scope, ?6.
template <typename... Rest>
Statement FilteredQuery(Database& db, const v1::ListAlertsRequest& request,
                        const SiteScope& scope, const std::string& select,
                        const std::string& rest, const Rest&... parameters) {
  return db.Query(absl::StrCat("SELECT ", select, Filter(request, scope), rest),
                  request.site(), request.participant(), Mask(request.status()),
                  Mask(request.priority()), Mask(request.kind()),
                  parameters...);
}

}  // namespace

absl::StatusOr<std::optional<v1::Alert>> FindAlert(Database& db,
                                                   const std::string& alert_id,
                                                   const SiteScope& scope) {
  const std::optional<int64_t> number = AlertNumber(alert_id);
  if (!number.has_value()) return std::nullopt;
  return ReadOne(
      db.Query(absl::StrCat("SELECT number, content FROM alert WHERE "
                            "number = ?1",
                            AndInScope(scope, "?2")),
               *number, ScopeParameter(scope)),
      &ReadAlert);
}

absl::StatusOr<std::vector<v1::Alert>> AlertsOf(Database& db,
                                                const ParticipantKey& key,
                                                const SiteScope& scope) {
  return ReadAll(
      db.Query(absl::StrCat("SELECT number, content FROM alert WHERE site = ?1 "
                            "AND participant = ?2",
                            AndInScope(scope, "?3"), "ORDER BY number"),
               key.site, key.participant, ScopeParameter(scope)),
      &ReadAlert);
}

absl::StatusOr<AlertPage> ListAlerts(Database& db,
                                     const v1::ListAlertsRequest& request,
                                     int page_size, const SiteScope& scope) {
  if (page_size < 1) {
    return absl::InvalidArgumentError("page_size must be 1 or more");
  }
  const absl::StatusOr<AlertPlace> after = FromPageToken(request.page_token());
  if (!after.ok()) return after.status();
  const std::string in = ScopeParameter(scope);
  const absl::StatusOr<int64_t> total =
      ReadInt(FilteredQuery(db, request, scope, "count(*)", "", in));
  if (!total.ok()) return total.status();
  // One more than asked for tells whether there is a next page.
  const absl::StatusOr<std::vector<PlacedAlert>> found = ReadAll(
      FilteredQuery(db, request, scope, "number, content, priority, raised_at",
                    " AND priority <= ?7 AND (priority < ?7 OR "
                    "(raised_at, number) > (?8, ?9)) "
                    "ORDER BY priority DESC, raised_at, number LIMIT ?10",
                    in, after->priority, after->raised_at, after->number,
                    int64_t{page_size} + 1),
      &ReadPlacedAlert);
  if (!found.ok()) return found.status();

  AlertPage page;
  page.total = *total;
  const auto wanted = static_cast<size_t>(page_size);
  for (const PlacedAlert& one : *found) {
    if (page.alerts.size() == wanted) {
      page.next_page_token = ToPageToken((*found)[wanted - 1].place);
      break;
    }
    page.alerts.push_back(one.alert);
  }
  return page;
}

absl::StatusOr<std::vector<v1::Alert>> AlertsAfterPosition(
    Database& db, const std::string& site, int64_t position, int limit,
    const SiteScope& scope) {
  return ReadAll(
      db.Query(
          absl::StrCat("SELECT number, content FROM alert WHERE "
                       "position > ?1 AND (?2 = '' OR site = ?2)",
                       AndInScope(scope, "?4"), "ORDER BY position LIMIT ?3"),
          position, site, limit, ScopeParameter(scope)),
      &ReadAlert);
}

absl::StatusOr<OpenCount> CountOpen(Database& db) {
  // The condition is that of the index alert_open, so that only open ones are
  // looked at.
  Statement statement = db.Query(
      "SELECT count(*), coalesce(sum(status = ?), 0) FROM alert "
      "WHERE status <= 4",
      int64_t{v1::ALERT_STATUS_REQUESTED});
  const absl::StatusOr<bool> found = statement.Step();
  if (!found.ok()) return found.status();
  return OpenCount{statement.Int(0), statement.Int(1)};
}

absl::StatusOr<std::vector<v1::Alert>> AlertsRaised(Database& db,
                                                    const std::string& site,
                                                    absl::Time from,
                                                    absl::Time to,
                                                    const SiteScope& scope) {
  return ReadAll(
      db.Query(absl::StrCat("SELECT number, content FROM alert WHERE site = ?1 "
                            "AND raised_at >= ?2 AND raised_at < ?3",
                            AndInScope(scope, "?4"), "ORDER BY number"),
               site, ToColumn(from), ToColumn(to), ScopeParameter(scope)),
      &ReadAlert);
}

}  // namespace turnstone::query
