// The first guarantee that broke. What comes after it may only follow from it.
#pragma once

#include <absl/strings/str_cat.h>

#include <string>

namespace turnstone::faults {

// Single-thread.
class Findings {
 public:
  template <typename... Parts>
  void Add(const char* guarantee, const Parts&... parts) {
    if (first_.empty()) first_ = absl::StrCat(guarantee, ": ", parts...);
  }
  // With the guarantee's name at its beginning; empty: nothing.
  void AddLine(const std::string& line) {
    if (first_.empty()) first_ = line;
  }
  // "BrokeDurable: ..."; empty: nothing broke.
  [[nodiscard]] const std::string& first() const { return first_; }

 private:
  std::string first_;
};

}  // namespace turnstone::faults
