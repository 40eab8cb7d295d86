#include "service/store/erase.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_replace.h>

#include <filesystem>
#include <string>

#include "service/store/columns.h"

namespace turnstone {
namespace {

// ?1 and ?2: site and participant. Identity and answer of an event stay, so
// that it is never accepted twice (BrokeOnce).
constexpr char kEmptyEvents[] =
    "UPDATE event SET participant = '', recorded_by = x'', content = x'' "
    "WHERE site = ?1 AND participant = ?2";
constexpr char kForgetParticipant[] =
    "DELETE FROM participant WHERE site = ?1 AND participant = ?2";
constexpr char kDeleteMessages[] =
    "DELETE FROM outbox WHERE alert IN (SELECT number FROM alert "
    "WHERE site = ?1 AND participant = ?2)";
// The row keeps its position, which whoever reads on from one counts on.
constexpr char kEmptyVerdicts[] =
    "UPDATE shadow SET participant = '', event_source = '', event_id = '', "
    "corrected_by = '', due = position, content = x'' "
    "WHERE site = ?1 AND participant = ?2";

}  // namespace

absl::Status EraseParticipant(Database& db, const Erased& erased) {
  const ParticipantKey& key = erased.key;
  for (const char* sql :
       {kEmptyEvents, kForgetParticipant, kDeleteMessages, kEmptyVerdicts}) {
    absl::Status status = db.Run(sql, key.site, key.participant);
    if (!status.ok()) return status;
  }
  return db.Run(
      "UPDATE alert SET participant = ?3 WHERE site = ?1 AND participant = ?2",
      key.site, key.participant, erased.as);
}

absl::Status DeleteExpired(Database& db, const Expired& expired) {
  absl::Status status = db.Run(
      "DELETE FROM outbox WHERE site = ? AND owed_since < ? AND status <> ?",
      expired.site, ToColumn(expired.before), v1::MESSAGE_STATUS_OWED);
  if (!status.ok()) return status;
  // The last position is never given out again.
  return db.Run(
      "DELETE FROM shadow WHERE site = ? AND due < ? AND "
      "position < (SELECT max(position) FROM shadow)",
      expired.site, ToColumn(expired.before));
}

absl::Status MakeAnew(Database& db) {
  // Beside the store: participants' data must not get into a folder for
  // everybody, and all of them need not fit into memory.
  const std::string folder =
      std::filesystem::path(db.path()).parent_path().string();
  absl::Status status = db.Script(
      absl::StrCat("PRAGMA temp_store = FILE; PRAGMA temp_store_directory = '",
                   absl::StrReplaceAll(folder, {{"'", "''"}}), "'; VACUUM"));
  absl::Status back =
      db.Script("PRAGMA temp_store_directory = ''; PRAGMA temp_store = MEMORY");
  return status.ok() ? back : status;
}

}  // namespace turnstone
