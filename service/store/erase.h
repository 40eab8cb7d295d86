// Taking out of the tables what must not be kept. SQLite overwrites what is
// taken out (secure_delete), but not what it had moved to another page before;
// so the file must be made anew and the log emptied afterwards.
#pragma once

#include <absl/status/status.h>

#include "service/store/sqlite_db.h"
#include "service/store/store.h"

namespace turnstone {

// As WriteBatch::erased. REQUIRES: in a transaction.
[[nodiscard]] absl::Status EraseParticipant(Database& db, const Erased& erased);

// As WriteBatch::expired. REQUIRES: in a transaction.
[[nodiscard]] absl::Status DeleteExpired(Database& db, const Expired& expired);

// Makes the file anew from what is in the tables, so that no byte of anything
// else is left. Takes as long as writing all of it, and needs room for it twice
// over while it lasts: RESOURCE_EXHAUSTED if there is not, with nothing
// changed. The log holds all of it then. REQUIRES: no transaction is open.
[[nodiscard]] absl::Status MakeAnew(Database& db);

}  // namespace turnstone
