#include "rules/engine/course.h"

#include <algorithm>
#include <string>

#include "rules/engine/baseline.h"
#include "rules/engine/course_wording.h"
#include "rules/measure/change.h"
#include "rules/measure/change_preset.h"
#include "rules/measure/proto_time.h"
#include "rules/measure/reliable_change.h"
#include "rules/measure/trend.h"

namespace turnstone {
namespace {

constexpr double kDaysInWeek = 7;

Interval TotalOf(const Fact& fact) { return fact.As<Screening>()->score.total; }

// In the preset's standard errors of the difference; `higher` is how much
// higher the latest total is.
v1::PresetVerdict VerdictOf(const v1::ChangePreset& preset, Interval worse,
                            std::optional<int> higher) {
  v1::PresetVerdict verdict;
  verdict.set_preset(preset.name());
  verdict.set_points(PointsOf(preset));
  verdict.set_worse(AtLeast(worse, verdict.points()));
  verdict.set_better(AtLeast({-worse.high, -worse.low}, verdict.points()));
  if (higher && preset.has_standard_deviation()) {
    verdict.set_reliable_change_index(ReliableChangeIndex(
        0, *higher, {preset.standard_deviation(), preset.reliability()}));
  }
  return verdict;
}

// Totals from the baseline on, days counted from it; empty where answers leave
// one of them a range.
std::vector<TimedValue> TotalsSince(const Fact& baseline,
                                    const std::vector<const Fact*>& forms) {
  std::vector<TimedValue> totals;
  for (auto form = std::find(forms.begin(), forms.end(), &baseline);
       form != forms.end(); ++form) {
    const Interval total = TotalOf(**form);
    if (!total.IsPoint()) return {};
    const absl::Duration since = (*form)->effective - baseline.effective;
    totals.push_back({absl::FDivDuration(since, absl::Hours(24)),
                      static_cast<double>(total.low)});
  }
  return totals;
}

// REQUIRES: a line could be drawn.
v1::ScoreTrend ToMessage(const Trend& trend) {
  v1::ScoreTrend message;
  message.set_count(trend.count);
  message.set_slope_per_week(trend.theil_sen->slope * kDaysInWeek);
  message.set_slope_low(trend.theil_sen->slope_95.low * kDaysInWeek);
  message.set_slope_high(trend.theil_sen->slope_95.high * kDaysInWeek);
  message.set_s(trend.mann_kendall.s);
  message.set_p_two_sided(trend.mann_kendall.p_two_sided);
  message.set_approximate(!trend.mann_kendall.exact);
  message.set_rises_in_a_row(trend.rises_in_a_row);
  message.set_falls_in_a_row(trend.falls_in_a_row);
  message.set_least_squares_per_week(trend.least_squares->slope * kDaysInWeek);
  if (trend.least_squares->slope_error) {
    message.set_least_squares_error(*trend.least_squares->slope_error *
                                    kDaysInWeek);
  }
  return message;
}

void AddSentence(const std::string& sentence, v1::ScoreCourse& course) {
  if (!sentence.empty()) course.add_sentence(sentence);
}

void AddTrend(const std::vector<TimedValue>& totals, v1::ScoreCourse& course) {
  if (totals.empty()) {
    course.add_sentence("No trend: in one of the totals answers are missing.");
    return;
  }
  const Trend trend = MeasureTrend(totals);
  if (trend.theil_sen) *course.mutable_trend() = ToMessage(trend);
  AddSentence(TrendInWords(trend), course);
}

}  // namespace

v1::ScoreCourse MeasureCourse(const std::vector<const Fact*>& forms,
                              const Fact* enrolment, absl::TimeZone zone) {
  const Fact& latest = *forms.back();
  const Fact& baseline =
      *BaselineAmong({forms.begin(), forms.end() - 1}, enrolment);
  const Scale& scale = *latest.As<Screening>()->scale;
  const Interval worse = Worsening(scale, TotalOf(baseline), TotalOf(latest));
  std::optional<int> higher;
  if (worse.IsPoint()) higher = TotalOf(latest).low - TotalOf(baseline).low;
  v1::ScoreCourse course;
  *course.mutable_baseline_time() = ToProto(baseline.effective);
  course.set_worse_low(worse.low);
  course.set_worse_high(worse.high);
  for (const v1::ChangePreset& preset : scale.definition().change_preset()) {
    *course.add_verdict() = VerdictOf(preset, worse, higher);
  }
  AddSentence(ChangeSentence(baseline, latest, zone), course);
  AddSentence(VerdictSentence(course), course);
  AddSentence(PercentSentence(baseline, latest), course);
  AddTrend(TotalsSince(baseline, forms), course);
  return course;
}

}  // namespace turnstone
