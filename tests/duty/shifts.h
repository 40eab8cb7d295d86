// Rotas written as in a site's file, and shifts as lines of text.
#pragma once

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <gmock/gmock.h>
#include <google/protobuf/text_format.h>

#include <string>
#include <vector>

#include "rules/duty/rota.h"
#include "tests/measure/moments.h"

namespace turnstone {

template <typename Message>
Message Written(const std::string& text) {
  Message message;
  EXPECT_TRUE(google::protobuf::TextFormat::ParseFromString(text, &message))
      << text;
  return message;
}

inline Rota RotaOf(const std::string& text,
                   const std::string& zone = "Europe/Dublin") {
  return Rota(Written<v1::Rota>("role: \"lead\" " + text), Zone(zone));
}

// "2027-01-04T09:00Z a, b (rotation)": from when on, and who. Seconds are shown
// where there are any.
inline std::string ShownShift(const Shift& shift) {
  const bool whole = absl::ToUnixSeconds(shift.from) % 60 == 0;
  return absl::StrCat(
      absl::FormatTime(whole ? "%Y-%m-%dT%H:%MZ" : "%Y-%m-%dT%H:%M:%SZ",
                       shift.from, absl::UTCTimeZone()),
      " ",
      shift.persons.empty() ? "nobody" : absl::StrJoin(shift.persons, ", "),
      shift.why.empty() ? "" : absl::StrCat(" (", shift.why, ")"));
}

// The shifts between two moments, one a line. Fails the test where they leave a
// hole, or do not end at `until`.
inline std::vector<std::string> ShiftsOf(const Rota& rota,
                                         const std::string& from,
                                         const std::string& until,
                                         const std::vector<Swap>& swaps = {}) {
  std::vector<std::string> lines;
  absl::Time end = Moment(from);
  for (const Shift& shift : rota.Between(Moment(from), Moment(until), swaps)) {
    EXPECT_EQ(shift.from, end);
    EXPECT_LT(shift.from, shift.until);
    end = shift.until;
    lines.push_back(ShownShift(shift));
  }
  EXPECT_EQ(end, Moment(until));
  return lines;
}

}  // namespace turnstone
