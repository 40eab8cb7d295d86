// Forms that give each total an instrument has.
#pragma once

#include <vector>

#include "rules/measure/catalogue.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

struct FormOfTotal {
  int total = 0;
  v1::ScreeningResult form;
};

// Every total with each number of points on the self-harm item, if there is
// one: a form each, all scored items answered. In order of the total. Pure.
// REQUIRES: the instrument has items.
[[nodiscard]] std::vector<FormOfTotal> CompleteForms(const Scale& scale);

}  // namespace turnstone
