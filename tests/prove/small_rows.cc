#include "tests/prove/small_rows.h"

namespace turnstone {
namespace {

// Two questions with two answers each, the first about self-harm.
constexpr char kInstrument[] = R"(
  id: "small" name: "Small" direction: DIRECTION_HIGHER_IS_WORSE
  item { code: "q-1" label: "First" answers: "a" self_harm: true }
  item { code: "q-2" label: "Second" answers: "a" }
  answer_list { id: "a" answer { code: "no" score: 0 }
                        answer { code: "yes" score: 1 } })";

constexpr char kSite[] = R"(
  id: "bay" time_zone: "Europe/Dublin" rule_set: "rules" planned_visits: 2
  calendar { working_day: MONDAY day_start: "09:00" day_end: "17:00" })";

}  // namespace

const std::vector<std::string>& OnForms() {
  static const std::string small = R"(instrument: "small" )";
  static const std::string change = small + "at_least { value: 1 } ";
  static const std::vector<std::string> conditions = {
      "worse_by { " + change + "than: COMPARED_WITH_BASELINE }",
      "worse_by { " + change + "than: COMPARED_WITH_PREVIOUS }",
      "worse_by { " + change + "than: COMPARED_WITH_BEST }",
      "better_by { " + change + "than: COMPARED_WITH_BASELINE }",
      "better_by { " + change + "than: COMPARED_WITH_BEST }",
      "worse_by { " + change +
          "than: COMPARED_WITH_BASELINE in_a_row { value: 2 } }",
      "worse_by { " + change +
          "than: COMPARED_WITH_BEST in_a_row { value: 2 } }",
      "better_by { " + change +
          "than: COMPARED_WITH_PREVIOUS in_a_row { value: 2 } }",
      "worse_by { " + small +
          "than: COMPARED_WITH_BEST at_least_percent { value: 100 } }",
      "worse_in_a_row { " + small + "times { value: 2 } }",
      "score { " + change + "in_a_row { value: 2 } }",
      "outcome { " + small +
          "is: COURSE_OUTCOME_WORSE is: COURSE_OUTCOME_NO_CHANGE "
          "remission_at_most { value: 0 } response_percent { value: 50 } "
          "reliable_change { value: 1 } }",
      "screenings { " + small +
          "at_least { value: 2 } total_at_most { value: 0 } }",
      "screenings { " + small + "at_least { value: 3 } }",
      "self_harm_earlier { within_days { value: 7 } }",
      "self_harm_earlier { within_days { value: 20 } }",
      "screened_within { " + small + "days { value: 7 } }",
      "screened_within { " + small + "days { value: 14 } }",
      "enrolled {}",
      "item { self_harm: true at_least { value: 1 } }",
  };
  return conditions;
}

const std::vector<std::string>& OnVisits() {
  static const std::vector<std::string> conditions = {
      "missed_in_a_row { at_least { value: 1 } }",
      "missed_in_a_row { at_least { value: 2 } }",
      "missed_in_a_row { at_least { value: 3 } }",
      "attended_visits { at_least { value: 1 } }",
      "attended_visits {}",
      "not { attended_visits { at_least { value: 3 } } }",
      R"(any_of { condition { missed_in_a_row { at_least { value: 2 } } }
                  condition { attended_visits { at_least { value: 2 } } } })",
      "enrolled {}",
  };
  return conditions;
}

turnstone::Setup SmallSetup(const std::string& when,
                            const std::string& condition) {
  v1::Configuration all;
  *all.add_instrument() = Read<v1::Instrument>(kInstrument);
  *all.add_site() = Read<v1::SiteConfig>(kSite);
  v1::RuleSet& rules = *all.add_rule_set();
  rules.set_id("rules");
  *rules.add_rule() = Read<v1::Rule>(
      "id: \"rule\" kind: ALERT_KIND_OUTREACH priority: PRIORITY_ASAP when "
      "{ " +
      when + " } condition { " + condition + " }");
  return turnstone::Setup(all, "");
}

std::vector<std::vector<int>> RowsOf(int below, int length) {
  std::vector<std::vector<int>> rows = {{}};
  for (int i = 0; i < length; ++i) {
    std::vector<std::vector<int>> longer;
    for (const std::vector<int>& row : rows) {
      for (int next = 0; next < below; ++next) {
        longer.push_back(row);
        longer.back().push_back(next);
      }
    }
    rows = longer;
  }
  return rows;
}

}  // namespace turnstone
