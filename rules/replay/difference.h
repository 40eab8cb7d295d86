// What differs between two sets of rules over the same events.
#pragma once

#include <absl/time/civil_time.h>

#include <map>
#include <string>
#include <vector>

#include "rules/replay/verdict.h"

namespace turnstone {

struct Counts {
  int before = 0;
  int after = 0;
};

// The same reason, raised with another priority, kind or certainty, or at
// another time.
struct ChangedVerdict {
  Verdict before;
  Verdict after;
};

// Events a side could not read; it went on without them.
struct Unread {
  int events = 0;
  std::string first;  // why the first one could not be
};

struct Difference {
  int events = 0;
  int participants = 0;
  Unread unread_before;
  Unread unread_after;
  // Everything below: reasons raised in the window. Lists are in order of
  // participant, rule and event.
  std::vector<Verdict> added;
  std::vector<Verdict> lost;
  std::vector<ChangedVerdict> changed;
  // All reasons, whether or not the sides differ. Weeks, by the site's days,
  // begin on Monday (ISO 8601).
  std::map<absl::CivilDay, std::map<v1::AlertKind, Counts>> weeks;
  std::map<std::string, Counts> rules;
};

// Reasons of kind safety that would no longer be raised, or as another kind.
// Pure.
[[nodiscard]] std::vector<Verdict> LostSafety(const Difference& difference);

// Moves what is in both lists and has the same Subject to `changed`, and sorts
// all three. Pure.
void PairUp(Difference& difference);

}  // namespace turnstone
