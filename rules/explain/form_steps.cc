#include <absl/strings/str_cat.h>

#include "rules/examples/example_form.h"
#include "rules/explain/steps.h"

namespace turnstone {
namespace {

// Place among the form's answers of the one to that item.
std::optional<int> PlaceOf(size_t item, const v1::ScreeningResult& form,
                           const Scale& scale) {
  for (int i = 0; i < form.answers_size(); ++i) {
    if (scale.FindItem(form.answers(i).question()) == item) return i;
  }
  return std::nullopt;
}

// Absent: unanswered, or the answer is not scored.
std::optional<int> PointsOf(size_t item, const v1::ScreeningResult& form,
                            const Scale& scale) {
  const std::optional<int> place = PlaceOf(item, form, scale);
  if (!place || !form.answers(*place).has_answer()) return std::nullopt;
  return scale.FindAnswer(item, form.answers(*place).answer())->points;
}

class Collector {
 public:
  Collector(const v1::ScreeningResult& form, const Scale& scale)
      : form_(form), scale_(scale) {}

  void Item(size_t item) {
    const std::optional<int> points = PointsOf(item, form_, scale_);
    const Interval range = scale_.ItemRange(item);
    for (int other = range.low; other <= range.high; ++other) {
      if (points && other != *points - 1 && other != *points + 1) continue;
      Answer(item, other,
             points ? absl::StrCat("instead of ", *points)
                    : "instead of no answer");
    }
    if (!points) return;
    FormStep& step = Add(absl::StrCat("had no answer to item ", item + 1));
    step.instead.mutable_answers()->DeleteSubrange(
        *PlaceOf(item, form_, scale_), 1);
  }

  void Wish() {
    if (form_.has_willing()) {
      Add("did not say whether the participant is willing")
          .instead.clear_willing();
    }
    for (const bool willing : {true, false}) {
      if (form_.has_willing() && form_.willing() == willing) continue;
      Add(willing ? "said that the participant is willing"
                  : "said that the participant is not willing")
          .instead.set_willing(willing);
    }
  }

  void Results() {
    for (const v1::Result& result : scale_.definition().result()) {
      if (result.code() == form_.result()) continue;
      Add(absl::StrCat("had the result \"", result.label(), "\""))
          .instead.set_result(result.code());
    }
  }

  std::vector<FormStep> Take() { return std::move(steps_); }

 private:
  FormStep& Add(const std::string& words) {
    return steps_.emplace_back(FormStep{form_, words});
  }

  void Answer(size_t item, int points, const std::string& instead_of) {
    const std::string code = AnswerWith(scale_, item, points);
    if (code.empty()) return;
    v1::ScreeningResult& form = Add(absl::StrCat("had item ", item + 1, " at ",
                                                 points, " ", instead_of))
                                    .instead;
    const std::optional<int> place = PlaceOf(item, form, scale_);
    v1::ItemAnswer& answer =
        place ? *form.mutable_answers(*place) : *form.add_answers();
    if (!place) {
      answer.set_question(
          scale_.definition().item(static_cast<int>(item)).code());
    }
    answer.set_answer(code);
  }

  const v1::ScreeningResult& form_;
  const Scale& scale_;
  std::vector<FormStep> steps_;
};

}  // namespace

std::vector<FormStep> FormSteps(const v1::ScreeningResult& form,
                                const Scale& scale) {
  Collector collector(form, scale);
  const auto items = static_cast<size_t>(scale.definition().item_size());
  for (size_t item = 0; item < items; ++item) collector.Item(item);
  collector.Wish();
  if (form.has_result()) collector.Results();
  return collector.Take();
}

}  // namespace turnstone
