#include "tests/reference/trend_results.h"

namespace turnstone::reference {
namespace {

using Figure = std::optional<double>;
using Results = std::vector<TrendResult>;

// Of a part of the trend that may be absent.
template <typename Part, typename Member>
std::function<Figure(const Trend&)> In(std::optional<Part> Trend::*part,
                                       Member member) {
  return [=](const Trend& trend) -> Figure {
    if (!(trend.*part)) return std::nullopt;
    return std::invoke(member, *(trend.*part));
  };
}

template <typename Member>
std::function<Figure(const Trend&)> InTest(Member member) {
  return [=](const Trend& trend) -> Figure {
    return std::invoke(member, trend.mann_kendall);
  };
}

// None where there were too many orders to go through.
Figure Exactly(const MannKendall& test, double p) {
  return test.exact ? Figure(p) : std::nullopt;
}
Figure TwoSided(Figure z) {
  return z ? Figure(NormalTwoSided(*z)) : std::nullopt;
}
Figure Low(const std::optional<SlopeRange>& range) {
  return range ? Figure(range->low) : std::nullopt;
}
Figure High(const std::optional<SlopeRange>& range) {
  return range ? Figure(range->high) : std::nullopt;
}

Results OfTest() {
  using Test = MannKendall;
  return {
      {"S", InTest(&Test::s)},
      {"tau_a", InTest(&Test::tau_a)},
      {"tau_b", InTest(&Test::tau_b)},
      {"mk_exact_p_two_sided",
       InTest([](const Test& t) { return Exactly(t, t.p_two_sided); })},
      {"mk_exact_p_upper",
       InTest([](const Test& t) { return Exactly(t, t.p_upper); })},
      {"mk_z_cont_corr", InTest(&Test::z_corrected)},
      {"mk_p_cont_corr",
       InTest([](const Test& t) { return TwoSided(t.z_corrected); })},
      {"mk_z", InTest(&Test::z)},
      {"mk_p_normal", InTest([](const Test& t) { return TwoSided(t.z); })},
  };
}

Results OfTheilSen() {
  using Line = TheilSenLine;
  constexpr auto kLine = &Trend::theil_sen;
  return {
      {"theil_slope", In(kLine, &Line::slope)},
      {"theil_intercept_separate", In(kLine, &Line::intercept)},
      {"theil_lo95",
       In(kLine, [](const Line& line) { return Low(line.slope_95); })},
      {"theil_hi95",
       In(kLine, [](const Line& line) { return High(line.slope_95); })},
  };
}

Results OfLeastSquares() {
  using Line = LeastSquaresLine;
  constexpr auto kLine = &Trend::least_squares;
  return {
      {"ols_slope", In(kLine, &Line::slope)},
      {"ols_intercept", In(kLine, &Line::intercept)},
      {"ols_slope_se", In(kLine, &Line::slope_error)},
      {"ols_r", In(kLine, &Line::r)},
      {"ols_p_two_sided", In(kLine, &Line::p_two_sided)},
      {"ols_lo95",
       In(kLine, [](const Line& line) { return Low(line.slope_95); })},
      {"ols_hi95",
       In(kLine, [](const Line& line) { return High(line.slope_95); })},
  };
}

Results All() {
  Results all = {{"n", [](const Trend& trend) { return Figure(trend.count); }}};
  for (const Results& some : {OfTest(), OfTheilSen(), OfLeastSquares()}) {
    all.insert(all.end(), some.begin(), some.end());
  }
  return all;
}

}  // namespace

const Results& TrendResults() {
  static const auto* const kResults = new Results(All());
  return *kResults;
}

}  // namespace turnstone::reference
