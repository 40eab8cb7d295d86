// The answers in one cell of a table of forms.
#pragma once

#include <absl/status/status.h>

#include <string>

#include "rules/measure/catalogue.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone::cli {

// Adds the answers to `form`, none for - or nothing. Points are taken for
// answers only where each answer scores alike in every question: elsewhere a
// number may be meant as the code of an answer, and would be scored the wrong
// way round. INVALID_ARGUMENT says what to write, but repeats no answer. Pure.
[[nodiscard]] absl::Status TakeAnswers(const Scale& scale,
                                       const std::string& column,
                                       v1::ScreeningResult& form);

}  // namespace turnstone::cli
