#include "rules/check/review_division.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include "rules/engine/condition.h"
#include "rules/engine/resolve_numbers.h"
#include "rules/engine/view.h"
#include "rules/examples/ask_rule.h"
#include "rules/examples/complete_forms.h"
#include "rules/examples/example_setup.h"
#include "rules/measure/proto_time.h"

namespace turnstone {
namespace {

// What may be so beside the form.
struct Beside {
  bool enrolled = false;
  std::optional<bool> willing;
};

std::string BesideInWords(const Beside& beside) {
  const char* wish = "the wish not known";
  if (beside.willing) wish = *beside.willing ? "willing" : "not willing";
  return absl::StrCat(wish, beside.enrolled ? ", enrolled" : ", not enrolled");
}

History HistoryWith(v1::ScreeningResult form, const Beside& beside,
                    const Catalogue& catalogue) {
  const absl::Time day =
      absl::FromCivil(absl::CivilHour(2027, 1, 4, 10), absl::UTCTimeZone());
  History history;
  v1::Event event;
  event.set_source("division");
  if (beside.enrolled) {
    event.set_event_id("enrolment");
    *event.mutable_effective_time() = ToProto(day - absl::Hours(24));
    event.mutable_enrolment();
    (void)history.Apply(event, catalogue);
  }
  event.set_event_id("form");
  *event.mutable_effective_time() = ToProto(day);
  if (beside.willing) form.set_willing(*beside.willing);
  *event.mutable_screening_result() = std::move(form);
  (void)history.Apply(event, catalogue);
  return history;
}

// Totals of which the same is wrong, and beside what.
using Wrong =
    std::map<std::string, std::map<std::string, std::vector<std::string>>>;

class DivisionReview {
 public:
  DivisionReview(const Setup& setup, v1::Division division)
      : setup_(setup),
        site_(ExampleSite(setup)),
        division_(std::move(division)) {
    ResolveNumbers(site_.settings, division_);
    for (int i = 0; i < site_.rules.rule_size(); ++i) {
      const auto& ids = division_.rule();
      const std::string& id = site_.rules.rule(i).id();
      if (std::find(ids.begin(), ids.end(), id) != ids.end()) {
        rules_.push_back(i);
      }
    }
  }

  void Report(const Place& place) const;

 private:
  // Empty if exactly one rule speaks, or none has to; "none" or the rules.
  [[nodiscard]] std::string WrongWith(const FormOfTotal& form,
                                      const Beside& beside) const;
  void AddWrong(const std::vector<FormOfTotal>& forms, const Beside& beside,
                Wrong& wrong) const;

  const Setup& setup_;
  const Site& site_;
  v1::Division division_;
  std::vector<int> rules_;
};

std::string DivisionReview::WrongWith(const FormOfTotal& form,
                                      const Beside& beside) const {
  const History history = HistoryWith(form.form, beside, setup_.catalogue());
  const size_t at = history.facts().size() - 1;
  if (division_.has_among()) {
    const View view(site_, history, at, history.facts()[at].effective);
    if (Evaluate(division_.among(), view, nullptr) != v1::TRUTH_TRUE) return "";
  }
  std::vector<std::string> speaking;
  for (const int rule : rules_) {
    const std::optional<Truth> truth =
        AskRule(site_, rule, history, at, nullptr);
    if (truth == v1::TRUTH_FALSE) continue;
    speaking.push_back(absl::StrCat("\"", site_.rules.rule(rule).id(), "\""));
  }
  if (speaking.size() == 1) return "";
  if (!speaking.empty()) return absl::StrJoin(speaking, " and ");
  const bool none_needed = division_.has_none_at_most() &&
                           form.total <= division_.none_at_most().value();
  return none_needed ? "" : "none";
}

// "5 to 9, 12".
std::string RangesOf(const std::map<int, bool>& totals) {
  std::vector<std::string> ranges;
  for (auto first = totals.begin(); first != totals.end();) {
    if (!first->second) {
      ++first;
      continue;
    }
    auto last = first;
    auto next = std::next(first);
    while (next != totals.end() && next->second) last = next++;
    ranges.push_back(first == last
                         ? absl::StrCat(first->first)
                         : absl::StrCat(first->first, " to ", last->first));
    first = next;
  }
  return absl::StrJoin(ranges, ", ");
}

void DivisionReview::AddWrong(const std::vector<FormOfTotal>& forms,
                              const Beside& beside, Wrong& wrong) const {
  // Of each thing that is wrong, whether it is so of each total.
  std::map<std::string, std::map<int, bool>> found;
  for (const FormOfTotal& form : forms) {
    const std::string with = WrongWith(form, beside);
    if (!with.empty()) found[with][form.total] = true;
  }
  for (auto& [with, totals] : found) {
    for (const FormOfTotal& form : forms) totals.emplace(form.total, false);
    wrong[with][RangesOf(totals)].push_back(BesideInWords(beside));
  }
}

void DivisionReview::Report(const Place& place) const {
  const Scale* scale = setup_.catalogue().Find(division_.instrument());
  const std::vector<FormOfTotal> forms = CompleteForms(*scale);
  Wrong wrong;
  for (const bool enrolled : {false, true}) {
    for (const auto willing :
         {std::optional<bool>(true), std::optional<bool>(false),
          std::optional<bool>()}) {
      AddWrong(forms, {enrolled, willing}, wrong);
    }
  }
  for (const auto& [with, ranges] : wrong) {
    for (const auto& [totals, besides] : ranges) {
      const std::string of =
          absl::StrCat(scale->definition().name(), " totals of ", totals, " (",
                       absl::StrJoin(besides, "; "), ")");
      if (with == "none") {
        place.Report("division-gap",
                     absl::StrCat("no rule of the division speaks of ", of),
                     "widen one of the rules, or narrow the division with "
                     "none_at_most or among");
      } else {
        place.Report(
            "division-overlap",
            absl::StrCat("more than one rule speaks of ", of, ": ", with),
            "leave these totals to one of them");
      }
    }
  }
}

}  // namespace

void ReviewDivision(const Setup& setup, int division, const Place& place) {
  const v1::RuleSet& rules = ExampleSite(setup).rules;
  DivisionReview(setup, rules.division(division)).Report(place);
}

}  // namespace turnstone
