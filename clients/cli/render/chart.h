// A small chart of scores, one line each, time going down.
#pragma once

#include <string>

#include "turnstone/v1/measure.pb.h"

namespace turnstone::cli {

// "|.......*....|": where a score lies in the instrument's range; "[===]" where
// missing answers leave a range of scores.
[[nodiscard]] std::string ScoreBar(const v1::ScoreSeries& series,
                                   const v1::ScorePoint& point);

// "PHQ-9, 0 to 27, higher is worse", a line for every form, and below them how
// the totals have gone. Where only results are kept, those alone.
[[nodiscard]] std::string ScoreChart(const v1::ScoreSeries& series,
                                     const std::string& time_zone);

}  // namespace turnstone::cli
