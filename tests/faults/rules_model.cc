#include "tests/faults/rules_model.h"

#include <absl/strings/str_cat.h>

#include <map>
#include <optional>

namespace turnstone::faults {
namespace {

constexpr int kItems = 9;
constexpr int kMostPoints = 3;  // of an item
constexpr int kAboveRange = 20;
constexpr int kConfident = 90;               // percent
constexpr char kSelfHarmItem[] = "44260-8";  // LOINC, item 9

std::optional<int> PointsOf(const v1::ItemAnswer& answer) {
  // LOINC answer list LL358-3.
  static const auto& points = *new std::map<std::string, int>{
      {"LA6568-5", 0}, {"LA6569-3", 1}, {"LA6570-1", 2}, {"LA6571-9", 3}};
  const auto found = points.find(answer.answer());
  if (found == points.end()) return std::nullopt;
  return found->second;
}

struct Form {
  int answered = 0;
  int points = 0;
  std::optional<int> self_harm;
};

Form FormOf(const v1::ScreeningResult& result) {
  Form form;
  for (const v1::ItemAnswer& answer : result.answers()) {
    const std::optional<int> points = PointsOf(answer);
    if (!points) continue;
    ++form.answered;
    form.points += *points;
    if (answer.question() == kSelfHarmItem) form.self_harm = points;
  }
  return form;
}

// Some total that the answers allow is above the programme's range.
bool MayBeAbove(const v1::ScreeningResult& result, const Form& form) {
  if (form.answered == 0 && result.has_reported_total()) {
    return result.reported_total() >= kAboveRange;
  }
  const int most = form.points + (kItems - form.answered) * kMostPoints;
  return most >= kAboveRange;
}

}  // namespace

const std::vector<std::string>& KnownRules() {
  static const auto& rules = *new std::vector<std::string>{
      "self-harm-positive", "self-harm-unanswered", "score-above-range",
      "low-practice-confidence"};
  return rules;
}

std::vector<std::string> MustRaise(const v1::Event& fact) {
  std::vector<std::string> rules;
  if (fact.has_screening_result() &&
      fact.screening_result().instrument() == "phq-9") {
    const Form form = FormOf(fact.screening_result());
    if (!form.self_harm) rules.emplace_back("self-harm-unanswered");
    if (form.self_harm.value_or(0) > 0) {
      rules.emplace_back("self-harm-positive");
    }
    if (MayBeAbove(fact.screening_result(), form)) {
      rules.emplace_back("score-above-range");
    }
  }
  if (fact.has_practice_report() && fact.practice_report().has_confidence() &&
      fact.practice_report().confidence() < kConfident) {
    rules.emplace_back("low-practice-confidence");
  }
  return rules;
}

std::vector<Standing> StandingOf(const v1::Event& event) {
  if (!event.has_correction()) return {{event, ""}};
  if (!event.correction().has_replacement()) return {};
  return {{event.correction().replacement(),
           absl::StrCat(event.source(), " ", event.event_id())}};
}

}  // namespace turnstone::faults
