// What is known at some moment: the events recorded by then, corrections
// applied, in the order in which they happened.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tests/second/form.h"

namespace turnstone::second {

struct Fact {
  absl::Time when;
  std::string source;
  std::string id;
  const v1::Event* event = nullptr;  // as it stands now
  std::optional<Form> form;          // of a screening
};

// `recorded`: in the order of recording; outlives the facts. Facts of the same
// moment stand in order of source and id (rules/engine/history.h; the proto is
// silent).
[[nodiscard]] std::vector<Fact> FactsFrom(
    const World& world, const std::vector<v1::Event>& recorded);

}  // namespace turnstone::second
