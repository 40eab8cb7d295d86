// What many fields must satisfy. Each function reports at the field and says
// whether it is sound.
#pragma once

#include <limits>
#include <map>
#include <string>

#include "rules/check/place.h"
#include "rules/measure/catalogue.h"

namespace turnstone {

inline constexpr Interval kAnyNumber{std::numeric_limits<int>::min(),
                                     std::numeric_limits<int>::max()};

// A text field that says something. `what` completes the advice: "who answers
// for the rule".
bool RequireText(const Place& place, const std::string& field,
                 const std::string& what);

// Lower-case letters, digits and hyphens.
bool RequireId(const Place& place, const std::string& field);

// A whole number within `range`.
bool RequireNumber(const Place& place, const std::string& field,
                   Interval range);

// A value other than the unspecified one.
bool RequireChoice(const Place& place, const std::string& field);

// A repeated field: one value or more, none of them the unspecified one.
bool RequireChoices(const Place& place, const std::string& field);

// A repeated field of choices: each at most once.
void RefuseRepeats(const Place& place, const std::string& field);

// A standard deviation above 0 and a reliability of at least 0 and below 1, in
// the fields of those names.
bool RequireReliability(const Place& place);

// Names that may be given once only.
class Names {
 public:
  // `what` the names are: "rule id".
  explicit Names(std::string what) : what_(std::move(what)) {}
  // `place`: where the name is given. Empty names are passed over.
  bool Add(const Place& place, const std::string& name);
  [[nodiscard]] bool Has(const std::string& name) const {
    return places_.contains(name);
  }

 private:
  std::string what_;
  std::map<std::string, Place> places_;
};

}  // namespace turnstone
