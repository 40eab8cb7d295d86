#include "rules/diff/plain_numbers.h"

#include "rules/engine/resolve_numbers.h"

namespace turnstone {

v1::RuleSet PlainNumbers(v1::RuleSet rules) {
  ForEachNumber(rules, [](v1::Number& number) { number.clear_setting(); });
  return rules;
}

}  // namespace turnstone
