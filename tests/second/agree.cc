#include "tests/second/agree.h"

#include <algorithm>
#include <iterator>

#include "tests/second/random_history.h"

namespace turnstone::second {
namespace {

std::string Line(const std::string& who, const Verdict& verdict) {
  return "only " + who + ": " + verdict.rule + " about " + verdict.source +
         " " + verdict.id + ", due " + absl::FormatTime(verdict.due) + ", " +
         v1::Truth_Name(verdict.truth) + ", " +
         v1::Priority_Name(verdict.priority) + "\n";
}

// REQUIRES: both in order.
std::string Compared(const std::vector<Verdict>& engine,
                     const std::vector<Verdict>& second) {
  if (engine == second) return "";
  std::string lines;
  std::vector<Verdict> only;
  std::set_difference(engine.begin(), engine.end(), second.begin(),
                      second.end(), std::back_inserter(only));
  for (const Verdict& verdict : only) lines += Line("the engine", verdict);
  only.clear();
  std::set_difference(second.begin(), second.end(), engine.begin(),
                      engine.end(), std::back_inserter(only));
  for (const Verdict& verdict : only) lines += Line("the second", verdict);
  return lines;
}

std::vector<v1::Event> EventsOf(const std::vector<Recorded>& history) {
  std::vector<v1::Event> events;
  events.reserve(history.size());
  for (const Recorded& recorded : history) events.push_back(recorded.event);
  return events;
}

}  // namespace

Pair::Pair(const v1::Configuration& configuration, const Setup& setup,
           const std::string& site)
    : setup_(&setup),
      site_(setup.FindSite(site)),
      world_(MakeWorld(configuration, site)) {}

std::string Pair::Differ(const std::vector<Recorded>& history,
                         absl::Time now) const {
  return Compared(AskedAtOnce(*setup_, *site_, history, now),
                  MustBeRaised(world_, EventsOf(history), now));
}

std::string Pair::DifferOnTheWay(const std::vector<Recorded>& history,
                                 absl::Time now) const {
  StepByStep engine(*setup_, *site_);
  std::vector<v1::Event> events;
  for (const Recorded& recorded : history) {
    engine.PassTime(recorded.at);
    engine.TakeIn(recorded);
    events.push_back(recorded.event);
    std::string lines =
        Compared(engine.Raised(), MustBeRaised(world_, events, recorded.at));
    if (!lines.empty()) return lines;
  }
  engine.PassTime(now);
  return Compared(engine.Raised(), MustBeRaised(world_, events, now));
}

std::set<std::string> Pair::Speak(const std::vector<Recorded>& history,
                                  absl::Time now) const {
  std::set<std::string> rules;
  for (const Verdict& verdict : MustBeRaised(world_, EventsOf(history), now)) {
    rules.insert(verdict.rule);
  }
  return rules;
}

std::set<std::string> Pair::Rules() const {
  std::set<std::string> rules;
  for (const v1::Rule& rule : world_.rules.rule()) rules.insert(rule.id());
  return rules;
}

std::vector<Recorded> Shrunk(
    std::vector<Recorded> history,
    const std::function<bool(const std::vector<Recorded>&)>& fails) {
  for (size_t i = 0; i < history.size();) {
    std::vector<Recorded> fewer = Without(history, i);
    if (!fewer.empty() && fails(fewer)) {
      history = std::move(fewer);
      i = 0;
    } else {
      ++i;
    }
  }
  return history;
}

std::string Listed(const std::vector<Recorded>& history) {
  std::string words;
  for (const Recorded& recorded : history) {
    words += "recorded " + absl::FormatTime(recorded.at) + ": " +
             recorded.event.ShortDebugString() + "\n";
  }
  return words;
}

}  // namespace turnstone::second
