#include "rules/check/review_examples.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <set>

#include "rules/check/suggest.h"
#include "rules/engine/wording.h"
#include "rules/examples/boundary.h"
#include "rules/examples/example_setup.h"
#include "rules/examples/formula.h"
#include "rules/examples/run_example.h"

namespace turnstone {
namespace {

void CheckKindsShown(const v1::Rule& rule, const Place& place) {
  std::set<int> shown;
  for (const v1::Example& example : rule.example()) {
    shown.insert(example.shows());
  }
  std::vector<std::string> lacking;
  for (int kind = v1::ExampleKind_MIN + 1; kind <= v1::ExampleKind_MAX;
       ++kind) {
    if (shown.contains(kind)) continue;
    lacking.push_back(v1::ExampleKind_Name(static_cast<v1::ExampleKind>(kind)));
  }
  if (lacking.empty()) return;
  place.Report("example-missing",
               absl::StrCat("rule \"", rule.id(), "\" has no example for ",
                            absl::StrJoin(lacking, ", ")),
               "add example { shows: ... fact { day: 0 ... } } for each");
}

// What the example says the rule answers; unspecified, and reported, if that
// cannot be told.
v1::ExampleAnswer CheckStated(const v1::Example& example, const Place& place) {
  if (example.shows() == v1::EXAMPLE_KIND_UNSPECIFIED) {
    place.Report(
        "example-unreadable", "the example does not say what it shows",
        absl::StrCat("write shows: with one of ",
                     OneOf(ValueNames(*v1::ExampleKind_descriptor()))));
    return v1::EXAMPLE_ANSWER_UNSPECIFIED;
  }
  const v1::ExampleAnswer stated = StatedAnswer(example);
  if (stated == v1::EXAMPLE_ANSWER_UNSPECIFIED) {
    place.Report(
        "example-unreadable", "the example does not say what the rule answers",
        absl::StrCat("write answer: with one of ",
                     OneOf(ValueNames(*v1::ExampleAnswer_descriptor()))));
    return stated;
  }
  const bool fires = stated == v1::RAISES || stated == v1::RAISES_FOR_REVIEW;
  if ((example.shows() == v1::FIRES && !fires) ||
      (example.shows() == v1::SILENT && fires)) {
    place.Report("example-unreadable",
                 absl::StrCat(v1::ExampleKind_Name(example.shows()),
                              " cannot go with the answer ",
                              v1::ExampleAnswer_Name(stated)),
                 "leave answer out, or choose another kind");
    return v1::EXAMPLE_ANSWER_UNSPECIFIED;
  }
  return stated;
}

void ReportUnreadable(const ExampleError& error, const Place& place) {
  const Place at = error.fact ? place.At("fact", *error.fact) : place;
  at.Report("example-unreadable", error.wrong, error.write);
}

void CheckBoundary(const ExampleCase& example, const Setup& setup, int rule,
                   const Place& place) {
  if (NearestOtherAnswer(example, setup, rule)) return;
  place.Report("example-not-at-a-boundary",
               "the answer stays the same whatever one thing is otherwise",
               "move the example to where a point, a day, a visit, a percent, "
               "an outcome or a reason makes the difference, or write shows: "
               "FIRES or SILENT");
}

// Adds what it shows to `shown`.
void ReviewExample(const Setup& setup, int rule, int example,
                   const Place& place, std::vector<Shown>& shown) {
  const v1::Rule& reviewed = ExampleSite(setup).rules.rule(rule);
  const auto read = ReadExample(reviewed.example(example), setup, rule);
  if (const auto* error = std::get_if<ExampleError>(&read)) {
    return ReportUnreadable(*error, place);
  }
  const auto& tried = std::get<ExampleCase>(read);
  const ExampleRun run = RunExample(tried, setup, rule);
  AddShown(reviewed.condition(), SinglesIn(run.trace), shown);
  const v1::ExampleAnswer stated =
      CheckStated(reviewed.example(example), place);
  if (stated == v1::EXAMPLE_ANSWER_UNSPECIFIED) return;
  if (run.answer != stated) {
    place.Report(
        "example-wrong",
        absl::StrCat("the example says that rule \"", reviewed.id(), "\" ",
                     AnswerInWords(stated), ", but it ",
                     AnswerInWords(run.answer), ": ", WhyInWords(run.trace)),
        "mend the example, or the rule");
  } else if (reviewed.example(example).shows() == v1::BOUNDARY) {
    CheckBoundary(tried, setup, rule, place);
  }
}

}  // namespace

std::vector<Shown> ReviewExamples(const Setup& setup, int rule,
                                  const Place& place) {
  const v1::Rule& reviewed = ExampleSite(setup).rules.rule(rule);
  std::vector<Shown> shown(SinglesOf(reviewed.condition()).size());
  CheckKindsShown(reviewed, place);
  for (int i = 0; i < reviewed.example_size(); ++i) {
    ReviewExample(setup, rule, i, place.At("example", i), shown);
  }
  return shown;
}

}  // namespace turnstone
