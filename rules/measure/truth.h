// Three-valued logic (Kleene's strong logic, as in SQL). Checked row by row
// against reference implementations in tests/measure.
#pragma once

#include "turnstone/v1/alert.pb.h"

namespace turnstone {

using v1::Truth;

constexpr Truth TruthOf(bool value) {
  return value ? v1::TRUTH_TRUE : v1::TRUTH_FALSE;
}
// The values are ordered false < unknown < true, so that "and" is the lesser
// and "or" the greater.
constexpr Truth And(Truth a, Truth b) { return a < b ? a : b; }
constexpr Truth Or(Truth a, Truth b) { return a < b ? b : a; }
constexpr Truth Not(Truth a) {
  if (a == v1::TRUTH_UNKNOWN) return v1::TRUTH_UNKNOWN;
  return TruthOf(a == v1::TRUTH_FALSE);
}

}  // namespace turnstone
