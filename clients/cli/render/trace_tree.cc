#include <absl/strings/str_cat.h>

#include "clients/cli/render/alert_page.h"
#include "clients/cli/render/text.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

// Truth words stand below each other; what was seen is indented by depth.
constexpr size_t kTextColumn = 13;

// "item unanswered? the self-harm item was answered": the word in front is the
// answer to that question.
std::string Asked(const v1::ConditionTrace& trace) {
  if (trace.condition().empty()) return trace.text();
  return trace.condition() + "? " + trace.text();
}

v1::Truth Denied(v1::Truth truth) {
  if (truth == v1::TRUTH_TRUE) return v1::TRUTH_FALSE;
  return truth == v1::TRUTH_FALSE ? v1::TRUTH_TRUE : truth;
}

// `deciding`: with this truth, read through every "not" above it, a condition
// made the whole come out as it did.
void Append(const v1::ConditionTrace& trace, size_t depth, v1::Truth deciding,
            const std::string& mark, std::string& tree) {
  const size_t column = kTextColumn + 2 * depth;
  tree += WrapAfter(Pad("    " + Word(trace.truth()), column), Asked(trace),
                    column + 2);
  if (!mark.empty() && trace.part().empty() && trace.truth() == deciding) {
    tree += Wrap(absl::StrCat("(", mark, ")"), column + 2);
  }
  for (const std::string& setting : trace.setting()) {
    tree += Wrap("number: " + setting, column + 2);
  }
  const v1::Truth inner = trace.text() == "not" ? Denied(deciding) : deciding;
  for (const v1::ConditionTrace& part : trace.part()) {
    Append(part, depth + 1, inner, mark, tree);
  }
}

}  // namespace

std::string TraceTree(const v1::ConditionTrace& trace,
                      const std::string& mark) {
  std::string tree;
  Append(trace, 0, trace.truth(), mark, tree);
  return tree;
}

}  // namespace turnstone::cli
