#include "rules/prove/form_answers.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <tuple>
#include <utility>

#include "rules/prove/big_count.h"

namespace turnstone {
std::vector<Beside> EveryBeside() {
  std::vector<Beside> all;
  for (const bool enrolled : {false, true}) {
    for (const std::optional<bool> willing :
         {std::optional<bool>(), std::optional<bool>(false),
          std::optional<bool>(true)}) {
      all.push_back({enrolled, willing});
    }
  }
  return all;
}

FormAnswers::FormAnswers(const Site& site, const Catalogue& catalogue,
                         const Scale& scale, const std::set<size_t>& looked_at)
    : groups_(scale, looked_at) {
  for (const Beside& beside : EveryBeside()) {
    for (const auto& [sketch, group] : groups_.groups()) {
      Ask(site, catalogue,
          {group.forms,
           sketch,
           false,
           beside,
           group.smallest,
           groups_.FormOf(group.smallest),
           {},
           {}});
    }
    for (const int total : groups_.Totals()) {
      SameForms forms;
      forms.forms = 1;
      forms.total_alone = true;
      forms.beside = beside;
      forms.size.points = total;
      forms.form.set_instrument(scale.definition().id());
      forms.form.set_reported_total(total);
      Ask(site, catalogue, std::move(forms));
    }
  }
  const auto order = [](const SameForms& forms) {
    return std::tie(forms.total_alone, forms.size, forms.beside);
  };
  std::sort(all_.begin(), all_.end(),
            [&](const SameForms& a, const SameForms& b) {
              return order(a) < order(b);
            });
  for (size_t i = 0; i < all_.size(); ++i) {
    if (all_[i].total_alone) continue;
    places_[{all_[i].sketch, all_[i].beside}] = i;
  }
}

void FormAnswers::Ask(const Site& site, const Catalogue& catalogue,
                      SameForms forms) {
  const CaseEvents events(site, "form");
  for (const v1::Event& event : EventsOf(forms.form, forms.beside, events)) {
    // Every form made here can be scored.
    (void)forms.history.Apply(event, catalogue);
  }
  if (forms.total_alone) {
    forms.sketch =
        SketchOf(groups_.looked_at(),
                 forms.history.facts().back().As<Screening>()->score);
  }
  forms.said = AskAtOnce(site, forms.history);
  all_.push_back(std::move(forms));
}

const SameForms& FormAnswers::Find(const FormSketch& sketch,
                                   const Beside& beside) const {
  return all_[places_.at({sketch, beside})];
}

uint64_t FormAnswers::cases() const {
  uint64_t forms = 0;
  for (const SameForms& same : all_) forms = Plus(forms, same.forms);
  return forms;
}

std::vector<v1::Event> FormAnswers::EventsOf(v1::ScreeningResult form,
                                             const Beside& beside,
                                             const CaseEvents& events,
                                             int person) {
  std::vector<v1::Event> made;
  if (beside.willing) form.set_willing(*beside.willing);
  if (beside.enrolled) made.push_back(events.Enrolment(0, person));
  made.push_back(events.Form(form, 0, person));
  return made;
}

std::vector<std::string> FormAnswers::WordsOf(const v1::ScreeningResult& form,
                                              const Beside& beside) const {
  std::vector<std::string> words;
  if (beside.enrolled) words.emplace_back("enrolled in the programme");
  std::string wish = "; the wish is not known";
  if (beside.willing) {
    wish = *beside.willing ? "; wants the programme"
                           : "; does not want the programme";
  }
  words.push_back(absl::StrCat(FormInWords(groups_.scale(), form), wish));
  return words;
}

std::string FormInWords(const Scale& scale, const v1::ScreeningResult& form) {
  const absl::StatusOr<Score> score = ScoreForm(scale, form);
  if (!score.ok()) return "a form that cannot be scored";
  std::string text =
      absl::StrCat(scale.definition().name(), ", total ", score->total.low);
  if (!score->total.IsPoint()) absl::StrAppend(&text, "-", score->total.high);
  if (score->reported) return absl::StrCat(text, ", reported without answers");
  std::vector<std::string> parts;
  for (size_t i = 0; i < score->points.size(); ++i) {
    const v1::Item& item = scale.definition().item(static_cast<int>(i));
    if (!score->answered[i] && !item.unscored()) {
      parts.push_back(absl::StrCat("\"", item.label(), "\" unanswered"));
    } else if (score->points[i] && *score->points[i] > scale.ItemRange(i).low) {
      parts.push_back(
          absl::StrCat("\"", item.label(), "\" ", *score->points[i]));
    }
  }
  if (parts.empty()) return absl::StrCat(text, ": everything at its lowest");
  return absl::StrCat(text, ": ", absl::StrJoin(parts, ", "),
                      "; everything else at its lowest");
}

}  // namespace turnstone
