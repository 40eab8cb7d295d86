#include "rules/examples/example_form.h"

#include <absl/strings/numbers.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_split.h>

#include <algorithm>
#include <iterator>
#include <set>
#include <vector>

namespace turnstone {
namespace {

// What may stand for an answer to the item: "0, 1, 2, 3".
std::string Choices(const Scale& scale, size_t item) {
  const std::vector<v1::Answer> answers = scale.AnswersTo(item);
  std::set<int> points;
  for (size_t i = 0; i < answers.size(); ++i) {
    const AnswerKey* key = scale.FindAnswer(item, answers[i].code());
    points.insert(key->points.value_or(static_cast<int>(i)));
  }
  return absl::StrJoin(points, ", ");
}

std::optional<ExampleError> ReadPoints(const std::vector<std::string>& points,
                                       const Scale& scale,
                                       v1::ScreeningResult& screening) {
  const v1::Instrument& instrument = scale.definition();
  if (std::ssize(points) > instrument.item_size()) {
    return ExampleError{
        absl::StrCat("there are points for ", points.size(), " items, but ",
                     instrument.id(), " has ", instrument.item_size()),
        "write them in the order of the items, parted by spaces"};
  }
  for (size_t i = 0; i < points.size(); ++i) {
    if (points[i] == "-") continue;
    const v1::Item& item = instrument.item(static_cast<int>(i));
    int number = 0;
    const std::string answer = absl::SimpleAtoi(points[i], &number)
                                   ? AnswerWith(scale, i, number)
                                   : "";
    if (answer.empty()) {
      return ExampleError{
          absl::StrCat("\"", points[i], "\" is no answer to item ", i + 1,
                       " of ", instrument.id(), ", \"", item.label(), "\""),
          absl::StrCat("write one of ", Choices(scale, i),
                       ", or - for unanswered")};
    }
    v1::ItemAnswer* given = screening.add_answers();
    given->set_question(item.code());
    given->set_answer(answer);
  }
  return std::nullopt;
}

void DeclineAll(const Scale& scale, v1::ScreeningResult& screening) {
  for (const v1::Item& item : scale.definition().item()) {
    v1::ItemAnswer* given = screening.add_answers();
    given->set_question(item.code());
    given->set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
  }
}

std::optional<ExampleError> ReadTotal(int total, const Scale& scale,
                                      v1::ScreeningResult& screening) {
  const Interval range = scale.Range();
  screening.set_reported_total(total);
  if (range.low <= total && total <= range.high &&
      total % scale.Multiplier() == 0) {
    return std::nullopt;
  }
  return ExampleError{
      absl::StrCat(scale.definition().id(), " has no total of ", total),
      absl::StrCat("write one from ", range.low, " to ", range.high,
                   scale.Multiplier() == 1
                       ? ""
                       : absl::StrCat(" in steps of ", scale.Multiplier()))};
}

std::optional<ExampleError> ReadResult(const v1::ExampleForm& form,
                                       const Scale& scale,
                                       v1::ScreeningResult& screening) {
  screening.set_result(form.result());
  const bool alone = form.points().empty() && !form.has_total();
  if (alone && scale.FindResult(form.result()) != nullptr) return std::nullopt;
  std::vector<std::string> codes;
  for (const v1::Result& result : scale.definition().result()) {
    codes.push_back(result.code());
  }
  return ExampleError{
      alone ? absl::StrCat(scale.definition().id(), " has no result \"",
                           form.result(), "\"")
            : absl::StrCat("of ", scale.definition().id(),
                           " only a result is kept"),
      absl::StrCat("write result: with one of ", absl::StrJoin(codes, ", "),
                   alone ? "" : ", and neither points nor total")};
}

}  // namespace

std::string AnswerWith(const Scale& scale, size_t item, int points) {
  int place = 0;
  for (const v1::Answer& answer : scale.AnswersTo(item)) {
    const AnswerKey* key = scale.FindAnswer(item, answer.code());
    if (key->points.value_or(place) == points) return answer.code();
    ++place;
  }
  return "";
}

std::optional<ExampleError> ReadForm(const v1::ExampleForm& form,
                                     const Catalogue& catalogue,
                                     v1::ScreeningResult& screening) {
  const Scale* scale = catalogue.Find(form.instrument());
  if (scale == nullptr) {
    return ExampleError{
        absl::StrCat("there is no instrument \"", form.instrument(), "\""),
        absl::StrCat("write one of ", catalogue.Ids())};
  }
  screening.set_instrument(scale->definition().id());
  if (form.has_willing()) screening.set_willing(form.willing());
  if (!scale->HasItems()) return ReadResult(form, *scale, screening);
  if (!form.result().empty()) {
    return ExampleError{
        absl::StrCat(scale->definition().id(), " has items, not results"),
        "write points: or total: instead"};
  }
  const std::vector<std::string> points =
      absl::StrSplit(form.points(), ' ', absl::SkipEmpty());
  if (points.empty() && !form.has_total()) {
    return ExampleError{"the form says nothing",
                        "write points: \"2 1 0 ...\" (\"-\" if it was declined "
                        "as a whole), total: or both"};
  }
  if (auto error = ReadPoints(points, *scale, screening)) return error;
  if (!points.empty() && screening.answers().empty()) {
    DeclineAll(*scale, screening);
  }
  if (!form.has_total()) return std::nullopt;
  return ReadTotal(form.total(), *scale, screening);
}

}  // namespace turnstone
