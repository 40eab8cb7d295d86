// What a site would do instead: its own tables, and the main rules as queries,
// asked after every event and again every night. Without explanations, ladders,
// messages, corrections or an audit.
#pragma once

#include <map>
#include <set>
#include <string>
#include <utility>

#include "rules/engine/setup.h"
#include "tests/bench/callers.h"
#include "tests/bench/measured.h"
#include "tests/bench/sqlite_file.h"

namespace turnstone {

// Participant and rule.
using Prompts = std::set<std::pair<std::string, std::string>>;

class SqlSite {
 public:
  // The numbers of the rules are those of `setup`.
  SqlSite(const std::string& path, const Setup& setup);

  // Takes the events in, `batch` a commit.
  [[nodiscard]] Measured TakeIn(const Requests& requests, size_t batch);
  // Asks every rule about everything; plans from before `accounted_until`
  // should have an outcome by now. Seconds.
  [[nodiscard]] double Nightly(absl::Time accounted_until);
  [[nodiscard]] Prompts Found();

 private:
  void Insert(const v1::Event& event);
  void InsertForm(const v1::Event& event);
  void Ask(const std::string& rules, const Values& about);

  const Setup& setup_;
  SqliteFile file_;
  std::map<std::string, sqlite3_stmt*> statements_;
};

}  // namespace turnstone
