// What one rule answers about one fact, once everything it waits for is over.
#pragma once

#include <optional>

#include "rules/engine/history.h"
#include "rules/engine/setup.h"
#include "rules/measure/truth.h"
#include "turnstone/v1/alert.pb.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// `rule`: an index into the site's rules, here as below. Pure, as are all.
[[nodiscard]] bool IsAskedAbout(const Site& site, int rule, const Fact& fact);

// The answer that counts: the first, or the second where the rule waits while
// it cannot tell. With `trace`, also what each of its conditions saw then.
// Absent if the rule is not asked about the fact. The same as Decide gives when
// all questions have fallen due.
[[nodiscard]] std::optional<Truth> AskRule(const Site& site, int rule,
                                           const History& history, size_t at,
                                           v1::ConditionTrace* trace);

// What an answer that counts leads to.
[[nodiscard]] v1::ExampleAnswer LeadsTo(Truth truth);

}  // namespace turnstone
