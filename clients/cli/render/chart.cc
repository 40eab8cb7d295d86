#include "clients/cli/render/chart.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "clients/cli/render/table.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

constexpr int kWidestBar = 28;

std::string ScoreText(const v1::ScorePoint& point) {
  if (point.low() == point.high()) return absl::StrCat(point.low());
  return absl::StrCat(point.low(), " to ", point.high());
}

std::string BandText(const v1::ScorePoint& point) {
  std::string text = point.band().empty() ? "more than one band" : point.band();
  if (point.low() != point.high() && !point.disagrees()) {
    text += "; answers missing";
  }
  if (point.has_prorated()) {
    absl::StrAppend(&text, "; estimate ", point.prorated());
  }
  if (point.disagrees()) {
    absl::StrAppend(&text, "; reported ", point.reported(),
                    ", answers say otherwise");
  }
  if (point.self_harm() == v1::TRUTH_TRUE) text += "; SELF-HARM ITEM POSITIVE";
  if (point.self_harm() == v1::TRUTH_UNKNOWN) {
    text += "; NO ANSWER TO THE SELF-HARM ITEM";
  }
  return text;
}

bool HasTotals(const v1::ScoreSeries& series) {
  return std::any_of(
      series.point().begin(), series.point().end(),
      [](const v1::ScorePoint& point) { return point.has_low(); });
}

std::string DayOf(const v1::ScorePoint& point, const std::string& time_zone) {
  return Date(FromProto(point.effective_time()), Zone(time_zone));
}

std::string DirectionText(v1::Direction direction) {
  switch (direction) {
    case v1::DIRECTION_HIGHER_IS_WORSE:
      return ", higher is worse";
    case v1::DIRECTION_HIGHER_IS_BETTER:
      return ", higher is better";
    default:
      return "";
  }
}

std::string ResultTable(const v1::ScoreSeries& series,
                        const std::string& time_zone) {
  Table table({"DATE", "RESULT"});
  for (const v1::ScorePoint& point : series.point()) {
    table.Add({DayOf(point, time_zone), point.result()});
  }
  return absl::StrCat(series.name(), "\n", table.ToString(2));
}

std::string TotalTable(const v1::ScoreSeries& series,
                       const std::string& time_zone) {
  Table table({"DATE", "SCORE",
               absl::StrCat(series.lowest_possible(), " to ",
                            series.highest_possible()),
               "BAND"});
  for (const v1::ScorePoint& point : series.point()) {
    table.Add({DayOf(point, time_zone), ScoreText(point),
               ScoreBar(series, point), BandText(point)});
  }
  return table.ToString(2);
}

// The course in sentences, and what the latest form's symptoms say.
std::string BelowChart(const v1::ScoreSeries& series) {
  std::string text;
  for (const std::string& sentence : series.course().sentence()) {
    text += WrapAfter("  ", sentence, 4);
  }
  const std::string& symptoms = series.point().rbegin()->symptoms();
  if (!symptoms.empty()) {
    text += WrapAfter("  Latest form: ", symptoms + ".", 4);
  }
  return text;
}

}  // namespace

std::string ScoreBar(const v1::ScoreSeries& series,
                     const v1::ScorePoint& point) {
  const int range =
      std::max(1, series.highest_possible() - series.lowest_possible());
  const int cells = std::min(kWidestBar, range + 1);
  const auto cell = [&](int score) {
    const int from_lowest =
        std::clamp(score - series.lowest_possible(), 0, range);
    return static_cast<size_t>((2 * from_lowest * (cells - 1) + range) /
                               (2 * range));
  };
  std::string bar(static_cast<size_t>(cells), '.');
  const size_t low = cell(point.low());
  const size_t high = std::max(low, cell(point.high()));
  if (low == high) {
    bar[low] = '*';
  } else {
    std::fill(bar.begin() + static_cast<std::ptrdiff_t>(low),
              bar.begin() + static_cast<std::ptrdiff_t>(high), '=');
    bar[low] = '[';
    bar[high] = ']';
  }
  return absl::StrCat("|", bar, "|");
}

std::string ScoreChart(const v1::ScoreSeries& series,
                       const std::string& time_zone) {
  if (!HasTotals(series)) return ResultTable(series, time_zone);
  return absl::StrCat(series.name(), ", ", series.lowest_possible(), " to ",
                      series.highest_possible(),
                      DirectionText(series.direction()), "\n",
                      TotalTable(series, time_zone), BelowChart(series));
}

}  // namespace turnstone::cli
