// CLIPS, a rule engine of general use, behind a small interface.
#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

namespace turnstone {

// A fact as CLIPS sees it; every slot holds a whole number.
struct ClipsFact {
  const char* kind = nullptr;
  std::vector<std::pair<const char*, int64_t>> slots;
};

class ClipsSide {
 public:
  // Reads the rules; ends the bench if there is a mistake in them.
  explicit ClipsSide(const std::string& path);
  ClipsSide(const ClipsSide&) = delete;
  ClipsSide& operator=(const ClipsSide&) = delete;
  ~ClipsSide();

  void Assert(const ClipsFact& fact) { (void)Make(fact); }
  // Asserts it, lets the rules fire, and takes it back.
  void Ask(const ClipsFact& question);
  // What was raised, by rule and id; then forgets everything.
  [[nodiscard]] std::vector<std::pair<std::string, int64_t>> Finish();

 private:
  void* Make(const ClipsFact& fact);

  void* environment_;
};

}  // namespace turnstone
