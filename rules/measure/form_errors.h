// What to tell the sender of a form that does not fit its instrument: the
// field as it is written in JSON, what is wrong, and what to send instead.
// Never what was answered, and never how much an answer counts.
#pragma once

#include <absl/status/status.h>

#include <cstddef>

#include "rules/measure/catalogue.h"

namespace turnstone {

// All are INVALID_ARGUMENT. `at` is the index into the form's answers.
[[nodiscard]] absl::Status UnknownQuestion(const Scale& scale, int at);
[[nodiscard]] absl::Status AnsweredTwice(const Scale& scale, int at,
                                         size_t item);
[[nodiscard]] absl::Status NeitherAnswerNorReason(int at);
[[nodiscard]] absl::Status UnknownAnswer(const Scale& scale, int at,
                                         size_t item);
[[nodiscard]] absl::Status UnattainableTotal(const Scale& scale);
[[nodiscard]] absl::Status NothingMeasured(const Scale& scale);
// Of an instrument that keeps only a result: something else was sent, or a
// result it does not have, or none.
[[nodiscard]] absl::Status OnlyAResult(const Scale& scale);
[[nodiscard]] absl::Status UnknownResult(const Scale& scale);
// A result was sent of an instrument that has items.
[[nodiscard]] absl::Status NoResult(const Scale& scale);

}  // namespace turnstone
