// The floor of the disk: nothing but SQLite, writing what the service wrote.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "tests/bench/measured.h"
#include "tests/bench/sqlite_file.h"

namespace turnstone {

// What a service's store holds, event by event: the rows that taking in an
// event wrote, and the tables they belong to.
class WrittenRows {
 public:
  // `store`: the file of a service that has stopped and took nothing but
  // events.
  explicit WrittenRows(const std::string& store);

  [[nodiscard]] size_t events() const { return events_.size(); }
  // Writes the rows of the first `events` events into a new file, `batch`
  // events a commit. `last_sequence`: how many the file then holds.
  [[nodiscard]] Measured WriteAgain(const std::string& path, size_t events,
                                    size_t batch) const;

 private:
  using Row = std::pair<int, Values>;  // table, content

  std::string schema_;
  std::vector<std::vector<Row>> events_;
};

}  // namespace turnstone
