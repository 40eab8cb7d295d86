// What must hold of every participant's history, whatever it is. No outside
// source: these are the promises of rule.proto and event.proto.
#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <string>
#include <tuple>
#include <vector>

#include "rules/engine/condition.h"
#include "rules/engine/decide.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

const Setup& Shipped() {
  static const Setup setup = ShippedSetup();
  return setup;
}
const Site& PebbleBay() { return *Shipped().FindSite("pebble-bay"); }

absl::Time Day(int day) {
  return At("2027-01-04T10:00:00Z") + absl::Hours(24) * day;
}
const absl::Time kEnd = Day(400);

using Items = std::vector<std::optional<int>>;

Items DrawItems() {
  Items items(9);
  for (std::optional<int>& item : items) {
    const int drawn = *rc::gen::inRange(0, 9);
    // One answer in nine is missing.
    if (drawn < 8) item = drawn / 2;
  }
  if (std::none_of(items.begin(), items.end(),
                   [](const auto& item) { return item.has_value(); })) {
    items[0] = 0;
  }
  return items;
}

v1::Event DrawEvent(const std::string& id, int day) {
  const absl::Time when = Day(day);
  const std::string visit = "visit-" + std::to_string(*rc::gen::inRange(1, 5));
  switch (*rc::gen::inRange(0, 8)) {
    case 0:
      return Enrolled(id, when);
    case 1:
      return Discharged(id, when);
    case 2:
      return Planned(id, when, visit, when + absl::Hours(48));
    case 3:
      return Outcome(
          id, when, visit,
          static_cast<v1::VisitOutcomeKind>(*rc::gen::inRange(1, 7)));
    case 4:
      return Confidence(id, when, *rc::gen::inRange(0, 101));
    default:
      return Phq9(id, when, DrawItems());
  }
}

std::vector<v1::Event> DrawEvents() {
  std::vector<v1::Event> events;
  const int count = *rc::gen::inRange(1, 9);
  events.reserve(static_cast<size_t>(count));
  for (int i = 0; i < count; ++i) {
    events.push_back(
        DrawEvent("e" + std::to_string(i), *rc::gen::inRange(0, 60)));
  }
  return events;
}

// What every rule says in the end: rule, fact, due, truth, raised, priority,
// words. The name of a correction is history, so it is left out.
using Said =
    std::tuple<std::string, EventKey, absl::Time, int, bool, int, std::string>;

std::vector<Answer> AnswersAfter(const std::vector<v1::Event>& events) {
  History history;
  for (const v1::Event& event : events) {
    RC_ASSERT(history.Apply(event, Shipped().catalogue()).ok());
  }
  Agenda agenda;
  agenda.Refresh(history, absl::InfinitePast(), std::nullopt, PebbleBay());
  return Decide(PebbleBay(), history, agenda,
                {absl::InfinitePast(), absl::InfinitePast(), kEnd});
}

std::vector<Said> SaidAfter(const std::vector<v1::Event>& events) {
  std::vector<Said> said;
  for (const Answer& answer : AnswersAfter(events)) {
    said.emplace_back(answer.rule->id(), answer.fact, answer.due, answer.truth,
                      answer.raise, answer.priority, answer.why);
  }
  return said;
}

RC_GTEST_PROP(Engine, OrderOfArrivalDoesNotMatter, ()) {
  const std::vector<v1::Event> events = DrawEvents();
  std::vector<v1::Event> shuffled = events;
  for (size_t i = shuffled.size(); i > 1; --i) {
    std::swap(shuffled[i - 1], shuffled[*rc::gen::inRange<size_t>(0, i)]);
  }
  RC_ASSERT(SaidAfter(events) == SaidAfter(shuffled));
}

RC_GTEST_PROP(Engine, ACorrectionIsAsIfTheMistakeHadNotBeenMade, ()) {
  std::vector<v1::Event> right = DrawEvents();
  const size_t at = *rc::gen::inRange<size_t>(0, right.size());
  // The mistake: another form, or another time.
  std::vector<v1::Event> mended = right;
  v1::Event& wrong = mended[at];
  if (wrong.has_screening_result()) {
    wrong = Phq9(wrong.event_id(), Day(*rc::gen::inRange(0, 60)), DrawItems());
  } else {
    *wrong.mutable_effective_time() =
        DrawEvent("other", *rc::gen::inRange(0, 60)).effective_time();
  }
  mended.push_back(Replaced("correction", Day(61), right[at]));
  RC_ASSERT(SaidAfter(mended) == SaidAfter(right));
}

RC_GTEST_PROP(Engine, AWithdrawnEventIsAsIfItHadNotBeenPosted, ()) {
  std::vector<v1::Event> with = DrawEvents();
  const size_t at = *rc::gen::inRange<size_t>(0, with.size());
  std::vector<v1::Event> without = with;
  without.erase(without.begin() + static_cast<std::ptrdiff_t>(at));
  with.push_back(Withdrawn("correction", Day(61), with[at]));
  RC_ASSERT(SaidAfter(with) == SaidAfter(without));
}

// Every condition on totals that is not about a missing answer itself.
constexpr const char* kOnTotals[] = {
    R"(score { instrument: "phq-9" at_least { value: 10 }
       at_most { value: 19 } })",
    R"(score { instrument: "phq-9" at_most { value: 9 }
       in_a_row { value: 2 } })",
    R"(item { self_harm: true at_least { value: 1 } })",
    R"(worse_by { instrument: "phq-9" than: COMPARED_WITH_BASELINE
       at_least { value: 6 } in_a_row { value: 2 } })",
    R"(worse_by { instrument: "phq-9" than: COMPARED_WITH_BEST
       at_least_percent { value: 30 } })",
    R"(better_by { instrument: "phq-9" than: COMPARED_WITH_BEST
       at_least { value: 2 } })",
    R"(better_by { instrument: "phq-9" than: COMPARED_WITH_PREVIOUS
       at_least_percent { value: 50 } })",
    R"(worse_in_a_row { instrument: "phq-9" times { value: 2 } })",
    R"(trend { instrument: "phq-9" direction: TREND_DIRECTION_WORSENING
       p_at_most { value: 200 } })",
    R"(outcome { instrument: "phq-9" is: COURSE_OUTCOME_PARTIAL
       is: COURSE_OUTCOME_NO_CHANGE remission_at_most { value: 4 }
       response_percent { value: 50 } reliable_change { value: 6 } })"};

Truth Told(const std::vector<v1::Event>& events, const v1::Condition& asked) {
  History history;
  for (const v1::Event& event : events) {
    RC_ASSERT(history.Apply(event, Shipped().catalogue()).ok());
  }
  const View view(PebbleBay(), history, history.facts().size() - 1, kEnd);
  return Evaluate(asked, view, nullptr);
}

RC_GTEST_PROP(Engine, CompletingFormsNeverContradictsWhatWasTold, ()) {
  std::vector<v1::Event> partial;
  std::vector<v1::Event> complete;
  const int count = *rc::gen::inRange(1, 7);
  for (int i = 0; i < count; ++i) {
    const std::string id = "e" + std::to_string(i);
    Items items = DrawItems();
    partial.push_back(Phq9(id, Day(7 * i), items));
    for (std::optional<int>& item : items) {
      if (!item) item = *rc::gen::inRange(0, 4);
    }
    complete.push_back(Phq9(id, Day(7 * i), items));
  }
  for (const char* text : kOnTotals) {
    v1::Condition condition;
    RC_ASSERT(google::protobuf::TextFormat::ParseFromString(text, &condition));
    const Truth before = Told(partial, condition);
    const Truth after = Told(complete, condition);
    RC_ASSERT(after != v1::TRUTH_UNKNOWN);
    RC_ASSERT(before == v1::TRUTH_UNKNOWN || before == after);
  }
}

// Of alerts that ask for more than routine. A routine one may be good news
// ("clearly better"), and rightly falls away when things get worse.
v1::Priority Highest(const std::vector<v1::Event>& events) {
  v1::Priority highest = v1::PRIORITY_UNSPECIFIED;
  for (const Answer& answer : AnswersAfter(events)) {
    if (answer.raise && answer.priority > v1::PRIORITY_ROUTINE) {
      highest = std::max(highest, answer.priority);
    }
  }
  return highest;
}

RC_GTEST_PROP(Engine, AWorseAnswerOnTheLatestFormNeverLowersThePriority, ()) {
  std::vector<v1::Event> events = DrawEvents();
  Items items = DrawItems();
  std::vector<size_t> can_be_worse;
  for (size_t i = 0; i < items.size(); ++i) {
    if (items[i] && *items[i] < 3) can_be_worse.push_back(i);
  }
  RC_PRE(!can_be_worse.empty());
  events.push_back(Phq9("latest", Day(61), items));
  const v1::Priority before = Highest(events);
  ++*items[can_be_worse[*rc::gen::inRange<size_t>(0, can_be_worse.size())]];
  events.back() = Phq9("latest", Day(61), items);
  RC_ASSERT(Highest(events) >= before);
}

}  // namespace
}  // namespace turnstone
