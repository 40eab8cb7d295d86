// What looking over a store found: one check after another, and what is wrong.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <utility>
#include <vector>

namespace turnstone {

// Something that is not as it must be.
struct Fault {
  // The name of what was promised: "BrokeSilent".
  std::string guarantee;
  // Where: "A-17", "event 12". Never anything of a participant.
  std::string place;
  // What is wrong, and what to do.
  std::string what;
};

// One check.
struct Looked {
  std::string what;  // "events"
  int64_t count = 0;
  int64_t wrong = 0;
  std::vector<Fault> faults = {};  // the first of them
  std::string remark = {};         // why it could not be done; usually empty
};

// Single-thread.
class Verification {
 public:
  // Faults kept of one check.
  static constexpr size_t kKept = 10;
  // Told now and then how many things of a check were looked at.
  using Progress = std::function<void(const std::string& what, int64_t count)>;

  explicit Verification(Progress progress) : progress_(std::move(progress)) {}

  void Begin(const std::string& what) { looked_.push_back({what}); }
  // REQUIRES: a check has begun; so too below.
  void Count();
  void Add(const Fault& fault);
  void Remark(const std::string& why) { looked_.back().remark = why; }

  [[nodiscard]] const std::vector<Looked>& looked() const { return looked_; }
  // Everything could be looked at, and nothing is wrong.
  [[nodiscard]] bool ok() const;

 private:
  Progress progress_;
  std::vector<Looked> looked_;
};

}  // namespace turnstone
