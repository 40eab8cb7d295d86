// What differs between two versions of the rules, in plain words.
#pragma once

#include <string>
#include <vector>

#include "rules/engine/setup.h"

namespace turnstone {

struct RuleChange {
  std::string rule;
  // "added", "removed" or "changed".
  std::string what;
  // What the rule does, if added or removed; else one line for each thing that
  // differs: "alert: was safety, stat, latched,\nis now safety, asap". A
  // newline parts what was from what is.
  std::vector<std::string> lines;
};

// Rules of which something differs but the number a setting stands for, which
// CompareNumbers names: first what was removed or changed, in the order of
// `before`, then what was added. A rule that changed and kept its version, or
// has a lower one, is told so. Pure.
// REQUIRES: every setting a rule names is in its site's `settings`.
[[nodiscard]] std::vector<RuleChange> CompareRules(
    const Site& before, const Catalogue& catalogue_before, const Site& after,
    const Catalogue& catalogue_after);

// Numbers that differ, or whose they are, with what is touched by it: "low: was
// 80 (rule set), is now 70 (site); touches confidence". In order of name, then
// the visits planned. Pure.
[[nodiscard]] std::vector<std::string> CompareNumbers(const Site& before,
                                                      const Site& after);

// Which rule set, its version and title, where its settings come from, and its
// divisions. Pure.
[[nodiscard]] std::vector<std::string> CompareRuleSets(
    const v1::RuleSet& before, const v1::RuleSet& after);

// Instruments and properties, which every site shares. Pure.
[[nodiscard]] std::vector<std::string> CompareShared(
    const v1::Configuration& before, const v1::Configuration& after);

}  // namespace turnstone
