// One row of a table of forms, and the event it stands for.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <string>

#include "rules/measure/catalogue.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone::cli {

// Cells as written; see `turnstone measure --help` for what they may hold.
struct FormRow {
  int line = 0;  // from 1
  std::string participant;
  std::string date;
  std::string instrument;
  std::string answers;
  std::string total;
};

// INVALID_ARGUMENT names the column and says what to write, but never repeats
// an answer or a total. A day counts as noon in `zone`. Pure.
[[nodiscard]] absl::StatusOr<v1::Event> EventFrom(const FormRow& row,
                                                  const Catalogue& catalogue,
                                                  absl::TimeZone zone);

}  // namespace turnstone::cli
