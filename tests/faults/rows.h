// What lies in the store of a service that has ended, read past it.
#pragma once

#include <string>
#include <vector>

namespace turnstone::faults {

using Row = std::vector<std::string>;

// REQUIRES: the store in `folder` is closed. Aborts on an error of SQLite:
// then the simulation itself is wrong.
[[nodiscard]] std::vector<Row> ReadRows(const std::string& folder,
                                        const std::string& sql);

// Everything durable, in few characters: every row of every table.
[[nodiscard]] std::string DigestOfStore(const std::string& folder);

}  // namespace turnstone::faults
