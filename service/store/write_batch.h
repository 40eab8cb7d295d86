// Writing a WriteBatch, inside a transaction that the caller holds.
#pragma once

#include <absl/status/status.h>

#include "service/store/sqlite_db.h"
#include "service/store/store.h"

namespace turnstone {

// INTERNAL if the batch breaks a rule of the store: sequence with a gap,
// (source, event_id) or position already taken, alert id that is none or that
// belongs to another participant, digest with other content than before. The
// caller must then roll back.
[[nodiscard]] absl::Status Write(Database& db, const WriteBatch& batch);

}  // namespace turnstone
