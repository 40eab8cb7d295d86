// Every scenario, with one operation of the disk going wrong: it fails, or the
// process or the power goes in the midst of it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace turnstone::faults {

enum class Trouble { kFailsOnce, kFailsForEver, kProcessDies, kPowerGoes };

inline constexpr Trouble kTroubles[] = {
    Trouble::kFailsOnce, Trouble::kFailsForEver, Trouble::kProcessDies,
    Trouble::kPowerGoes};

// How a life without trouble goes.
struct Course {
  int64_t operations = 0;
  // The alerts there are after each step.
  std::vector<std::string> alerts;
};

// One scenario, to be lived through again and again.
class NthTrouble {
 public:
  // `file` is one of tests/scenarios; `folder` is emptied.
  NthTrouble(std::string file, std::string folder, uint64_t seed);

  // REQUIRES: called first. Empty: well; else what is wrong.
  [[nodiscard]] std::string LiveUndisturbed();
  [[nodiscard]] const Course& course() const { return course_; }
  // A life in which `trouble` befalls the `nth` operation; ended soon after.
  // Empty: nothing broke; else which guarantee, and how.
  [[nodiscard]] std::string Live(Trouble trouble, int64_t nth) const;

 private:
  std::string file_;
  std::string folder_;
  uint64_t seed_;
  Course course_;
};

// Of tests/scenarios.
[[nodiscard]] std::vector<std::string> ScenarioPaths();

}  // namespace turnstone::faults
