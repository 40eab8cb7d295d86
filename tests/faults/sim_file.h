// One file of a simulated disk: what reads see, and what a power cut leaves.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "tests/faults/random.h"

namespace turnstone::faults {

// What becomes of a write that was not synced when the power goes, in times of
// 1000; it is dropped otherwise.
struct Fate {
  int kept = 400;
  // A part of it: the beginning, or any of its sectors of 512 bytes.
  int torn = 300;
};

// Single-thread. Positions and sizes are in bytes.
class SimFile {
 public:
  // As reads see it.
  [[nodiscard]] const std::string& bytes() const { return seen_; }

  void Write(size_t at, const std::string& bytes);
  void Truncate(size_t size);
  // Everything that is pending is durable.
  void Sync();
  // A sync that failed: what is pending is as after a power cut, but reads see
  // it still. No later sync makes it durable: as Linux marks the pages clean.
  void FailSync(const Fate& fate, Random& random);
  // Only what was synced is left, and of what is pending what `fate` and
  // `random` decide for each write apart.
  void CutPower(const Fate& fate, Random& random);

 private:
  struct Change {
    size_t at;          // of a truncation: the new size
    std::string bytes;  // empty: a truncation
  };
  static void Apply(const Change& change, std::string& to);
  void LandSome(const Fate& fate, Random& random);
  void Tear(const Change& change, Random& random);

  std::string seen_;
  std::string durable_;
  std::vector<Change> pending_;  // in the order they were made
};

}  // namespace turnstone::faults
