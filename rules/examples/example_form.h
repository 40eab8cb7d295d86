// A questionnaire as examples write it.
#pragma once

#include <optional>
#include <string>

#include "rules/measure/catalogue.h"
#include "turnstone/v1/event.pb.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// What is wrong with an example, and what to write instead.
struct ExampleError {
  std::string wrong;
  std::string write;
  // Index of the fact it stands in; absent: the example as a whole.
  std::optional<int> fact = std::nullopt;
};

// Fills in `screening`. Points are looked up among each item's answers; for an
// item that is not scored they are the place of the answer in its list, from
// 0. A form of which every item is "-" was declined as a whole. Pure.
[[nodiscard]] std::optional<ExampleError> ReadForm(
    const v1::ExampleForm& form, const Catalogue& catalogue,
    v1::ScreeningResult& screening);

// The answer of item `item` that has so many points (see ReadForm); empty if
// there is none. Pure.
[[nodiscard]] std::string AnswerWith(const Scale& scale, size_t item,
                                     int points);

}  // namespace turnstone
