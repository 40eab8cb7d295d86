// A filled-in form, scored by hand: answer by answer, then every total the
// missing answers leave.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tests/second/world.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone::second {

struct Form {
  std::string instrument;  // id
  bool higher_is_worse = true;
  // Every total from `low` to `high` is possible.
  int low = 0;
  int high = 0;
  // The reported total cannot come from the answers.
  bool disagrees = false;
  // Not declined as a whole.
  bool done = false;
  // By item; nothing where unanswered or not scored.
  std::vector<std::optional<int>> points;
  std::vector<std::string> codes;
  std::vector<bool> answered;
  // Index of the self-harm item; nothing if the instrument has none.
  std::optional<size_t> self_harm_item;
  // The result counts like a self-harm item answered positively.
  bool result_is_self_harm = false;
};

[[nodiscard]] Form ReadForm(const World& world,
                            const v1::ScreeningResult& result);

}  // namespace turnstone::second
