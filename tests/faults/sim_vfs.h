// How SQLite sees a SimDisk.
#pragma once

#include <sqlite3.h>

namespace turnstone::faults {

class SimDisk;

// Not registered yet. `disk` must outlive it.
[[nodiscard]] sqlite3_vfs MakeVfs(SimDisk& disk);

}  // namespace turnstone::faults
