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

void Append(const v1::ConditionTrace& trace, size_t depth, std::string& tree) {
  const size_t column = kTextColumn + 2 * depth;
  tree += WrapAfter(Pad("    " + Word(trace.truth()), column), Asked(trace),
                    column + 2);
  for (const std::string& setting : trace.setting()) {
    tree += Wrap("number: " + setting, column + 2);
  }
  for (const v1::ConditionTrace& part : trace.part()) {
    Append(part, depth + 1, tree);
  }
}

}  // namespace

std::string TraceTree(const v1::ConditionTrace& trace) {
  std::string tree;
  Append(trace, 0, tree);
  return tree;
}

}  // namespace turnstone::cli
