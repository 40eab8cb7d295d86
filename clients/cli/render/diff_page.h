// What differs between two versions of the rules, on a page.
#pragma once

#include <string>
#include <vector>

#include "rules/diff/compare.h"

namespace turnstone::cli {

inline constexpr char kEverySite[] = "every site";

// What text from files or the service these hold is cleaned.
struct RulesDifference {
  // "site pebble-bay"; kEverySite for what they share.
  std::string of;
  // Why there may be fewer safety alerts, a sentence each.
  std::vector<std::string> fewer_safety;
  std::vector<std::string> numbers;
  std::vector<RuleChange> rules;
  std::vector<std::string> around;

  [[nodiscard]] bool Empty() const;
};

// What needs a second person first, then the differences one below the other.
// `from` and `to` are the two, as the user wrote them.
[[nodiscard]] std::string DiffPage(const std::string& from,
                                   const std::string& to,
                                   const std::vector<RulesDifference>& all);

// One JSON object a line with of, fewerSafety, numbers, rules (rule, what,
// lines) and around.
[[nodiscard]] std::string DiffJson(const std::vector<RulesDifference>& all);

}  // namespace turnstone::cli
