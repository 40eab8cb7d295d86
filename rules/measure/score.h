// Scoring a filled-in form: completeness first, then an interval that holds
// every total the missing answers could still give. Where an instrument keeps
// only a result, the form's result is taken as it is.
#pragma once

#include <absl/status/statusor.h>

#include <optional>
#include <string>
#include <vector>

#include "rules/measure/catalogue.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

struct Score {
  // What rules use. From the answers, if there is any; widened to hold the
  // reported total where that cannot come from them. Without a single answer,
  // the reported total.
  Interval total;
  std::optional<int> reported;
  // The reported total cannot come from the answers given.
  bool disagrees = false;
  int scored_items = 0;
  int answered_items = 0;  // of the scored ones
  // By item index; absent where unanswered or not scored.
  std::vector<std::optional<int>> points;
  // By item index.
  std::vector<bool> answered;
  // The instrument's estimate of the total; absent when complete or not
  // allowed. Never for a rule to use.
  std::optional<int> prorated;
  // Code of the result, where the instrument keeps only that; every field above
  // is then empty or 0.
  std::optional<std::string> result;
};

// INVALID_ARGUMENT, with what to send instead, when a question, an answer or a
// result is not the instrument's, a question is answered twice, the reported
// total is out of range, or the form has neither answers nor a total nor a
// result. Pure.
[[nodiscard]] absl::StatusOr<Score> ScoreForm(const Scale& scale,
                                              const v1::ScreeningResult& form);

}  // namespace turnstone
