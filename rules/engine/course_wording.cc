#include "rules/engine/course_wording.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "rules/engine/wording.h"
#include "rules/measure/change.h"
#include "rules/measure/time_words.h"

namespace turnstone {
namespace {

std::string Points(int count) { return count == 1 ? " point" : " points"; }
std::string Percents(int /*count*/) { return " %"; }

// "7 points better", "3 to 7 points better", "between 2 points worse and 3
// points better". `up` and `down` say which way a number above 0 goes.
std::string Span(Interval change, std::string (*unit)(int),
                 const std::string& up, const std::string& down) {
  if (change.low < 0 && change.high > 0) {
    return absl::StrCat("between ", change.high, unit(change.high), " ", up,
                        " and ", -change.low, unit(-change.low), " ", down);
  }
  const auto [least, most] =
      std::minmax({std::abs(change.low), std::abs(change.high)});
  return absl::StrCat(least == most ? "" : absl::StrCat(least, " to "), most,
                      unit(most), " ", change.high > 0 ? up : down);
}

// Why a total is a range: ", answers are missing"; empty if none is.
std::string WhyRange(const Fact& baseline, const Fact& latest) {
  bool missing = false;
  bool disagrees = false;
  for (const Fact* fact : {&baseline, &latest}) {
    const Score& score = fact->As<Screening>()->score;
    disagrees = disagrees || score.disagrees;
    missing = missing || (!score.total.IsPoint() &&
                          score.answered_items < score.scored_items);
  }
  return absl::StrCat(
      missing ? ", answers are missing" : "",
      disagrees ? ", a reported total disagrees with its answers" : "");
}

enum class Reading { kBetter, kWorse, kNeither, kUnknown };

Reading ReadingOf(const v1::PresetVerdict& verdict) {
  if (verdict.better() == v1::TRUTH_TRUE) return Reading::kBetter;
  if (verdict.worse() == v1::TRUTH_TRUE) return Reading::kWorse;
  if (Or(verdict.better(), verdict.worse()) == v1::TRUTH_FALSE) {
    return Reading::kNeither;
  }
  return Reading::kUnknown;
}

// How a group of presets begins: in front of the sentence, and further on.
struct Lead {
  Reading reading;
  const char* first;
  const char* later;
};
// Some presets are smallest important differences, not reliable changes, so
// neither is said of all.
constexpr std::array<Lead, 4> kLeads = {{
    {Reading::kBetter, "Enough to count as an improvement by ", ""},
    {Reading::kWorse, "Enough to count as a worsening by ", ""},
    {Reading::kNeither, "Not enough to count as a change by ", "not by "},
    {Reading::kUnknown,
     "Whether it is enough to count as a change cannot be "
     "told by ",
     "cannot be told by "},
}};

int Percent(int part, int of) {
  const int nearest = (200 * std::abs(part) + of) / (2 * of);
  return part < 0 ? -nearest : nearest;
}

}  // namespace

std::string ChangeSentence(const Fact& baseline, const Fact& latest,
                           absl::TimeZone zone) {
  const auto& from = *baseline.As<Screening>();
  const auto& to = *latest.As<Screening>();
  const Interval worse =
      Worsening(*from.scale, from.score.total, to.score.total);
  const auto day = [zone](const Fact& fact) {
    return DayInWords(fact.effective, zone);
  };
  return absl::StrCat("From ", ShortTotal(baseline), " on ", day(baseline),
                      " to ", ShortTotal(latest), " on ", day(latest), ": ",
                      worse == Interval{0, 0}
                          ? "no change"
                          : Span(worse, Points, "worse", "better"),
                      WhyRange(baseline, latest), ".");
}

std::string VerdictSentence(const v1::ScoreCourse& course) {
  std::string sentence;
  for (const Lead& lead : kLeads) {
    std::string group;
    for (const v1::PresetVerdict& verdict : course.verdict()) {
      if (ReadingOf(verdict) != lead.reading) continue;
      const bool first = sentence.empty() && group.empty();
      absl::StrAppend(&group, group.empty() ? "" : ", ", verdict.preset(), " (",
                      verdict.points(), first ? Points(verdict.points()) : "",
                      ")");
    }
    if (group.empty()) continue;
    absl::StrAppend(&sentence, sentence.empty() ? lead.first : "; ",
                    sentence.empty() ? "" : lead.later, group);
  }
  return sentence.empty() ? "" : sentence + ".";
}

std::string PercentSentence(const Fact& baseline, const Fact& latest) {
  const Scale& scale = *baseline.As<Screening>()->scale;
  const Interval from = baseline.As<Screening>()->score.total;
  const Interval to = latest.As<Screening>()->score.total;
  if (scale.Range().low != 0 || from.low == 0 ||
      scale.definition().direction() != v1::DIRECTION_HIGHER_IS_WORSE) {
    return "";
  }
  // The larger the baseline, the larger the share of it that a fall is.
  const Interval rise{Percent(to.low - from.high, from.high),
                      Percent(to.high - from.low, from.low)};
  if (rise == Interval{0, 0}) return "";
  std::string sentence =
      absl::StrCat(Span(rise, Percents, "above", "below"), " the baseline.");
  sentence[0] = absl::ascii_toupper(static_cast<unsigned char>(sentence[0]));
  return sentence;
}

}  // namespace turnstone
