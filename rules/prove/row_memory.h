// What of a row of visits or forms a rule can still see later on.
//
// Of each kind of condition this says what it remembers of the events before
// the last one, where these are an enrolment and visits or forms of one
// instrument, a week apart (see View and the conditions in rules/engine):
//
// - missed_in_a_row: how many, up to its number;
// - attended_visits: how many, up to its number or those planned;
// - score, worse_in_a_row, and a change from the form before: the last forms;
// - a change from the baseline, outcome: the form that is the baseline;
// - a change from the best: the ends of the best total; the bounds of the
//   lowest total, or of the highest where that is better, say all of it;
// - a change so many times in a row: the last forms, each with what it was
//   held against;
// - screenings: how many there are for certain and at most, up to its number;
// - self_harm_earlier, screened_within: how long ago, in weeks, the latest
//   form was of which it speaks, up to its days;
// - item, item_unanswered, total_disagrees, willing, wish_recorded, result,
//   confidence_below, visit_accounted_for: nothing, they look at the event;
// - enrolled, discharged_as, contact_since: nothing but the enrolment, which
//   every digest tells.
//
// A trend remembers every total since the baseline, so that nothing could be
// taken together; neither it nor a kind of condition that is not named here has
// a memory.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "rules/prove/walk.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// What a set of conditions remembers.
struct RowMemory {
  int missed = 0;
  int attended = 0;
  // Forms before the last one that stand in the digest as they are.
  int last = 0;
  // So many of them with the baseline, or the best, each was held against.
  int last_with_baseline = 0;
  int last_with_best = 0;
  bool baseline = false;
  bool best = false;
  std::vector<v1::ScreeningCount> counts;
  int self_harm_days = 0;
  int screened_days = 0;
};

// Whether the condition's kinds all have a memory.
[[nodiscard]] bool HasMemory(const v1::Condition& condition);

// Adds what `condition` remembers. `instrument`: of the forms in the row; empty
// for visits. `planned_visits`: of everybody in the row. Pure.
// REQUIRES: HasMemory; its numbers are resolved.
void AddMemory(const v1::Condition& condition, const std::string& instrument,
               int planned_visits, RowMemory& memory);

}  // namespace turnstone
