#include "tests/bench/rules_alone.h"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <set>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "rules/engine/decide.h"
#include "tests/bench/clips_side.h"
#include "tests/bench/clips_steps.h"
#include "tests/bench/invented_events.h"
#include "tests/bench/measured.h"
#include "tests/bench/progress.h"

namespace turnstone {
namespace {

// Rule, participant, event.
using Prompt = std::tuple<std::string, std::string, std::string>;

struct Judged {
  std::set<Prompt> prompts;
  int64_t questions = 0;
};

// By participant, each in the order in which it happened.
std::map<std::string, Course> Courses(int people) {
  std::map<std::string, Course> courses;
  for (InventedEvent& invented : InventEvents(people)) {
    Course& course = courses[invented.event.participant()];
    course.push_back(std::move(invented.event));
  }
  for (auto& [participant, course] : courses) {
    std::stable_sort(course.begin(), course.end(),
                     [](const v1::Event& a, const v1::Event& b) {
                       return a.effective_time().seconds() <
                              b.effective_time().seconds();
                     });
  }
  return courses;
}

// Past every deadline of the course.
absl::Time EndOf(const Course& course) {
  return HappenedAt(course.back()) + absl::Hours(24 * 30);
}

Judged JudgeByUs(const std::map<std::string, Course>& courses,
                 const Setup& setup) {
  const Site& site = *setup.FindSite("pebble-bay");
  Judged judged;
  for (const auto& [participant, course] : courses) {
    History history;
    Agenda agenda;
    absl::Time asked_until = absl::InfinitePast();
    const auto ask = [&, &who = participant](absl::Time from, absl::Time now) {
      for (const Judgement& one :
           Judge(site, history, agenda, {from, asked_until, now})) {
        ++judged.questions;
        if (!one.raise) continue;
        judged.prompts.emplace(site.rules.rule(one.rule).id(), who,
                               history.facts()[one.at].key.event_id);
      }
      asked_until = now;
    };
    for (const v1::Event& event : course) {
      const auto change = history.Apply(event, setup.catalogue());
      agenda.Refresh(history, change->from, std::nullopt, site);
      ask(change->from, HappenedAt(event));
    }
    ask(absl::InfiniteFuture(), EndOf(course));
  }
  return judged;
}

Judged JudgeByClips(const std::map<std::string, Course>& courses,
                    const std::vector<Steps>& all_steps, ClipsSide& clips) {
  Judged judged;
  auto steps = all_steps.begin();
  for (const auto& [participant, course] : courses) {
    for (const Step& step : *steps++) {
      if (step.fact.kind != nullptr) clips.Assert(step.fact);
      clips.Ask(step.question);
    }
    for (const auto& [rule, id] : clips.Finish()) {
      judged.prompts.emplace(rule, participant,
                             course[static_cast<size_t>(id)].event_id());
    }
  }
  return judged;
}

size_t Differ(const std::set<Prompt>& a, const std::set<Prompt>& b) {
  std::vector<Prompt> differ;
  std::set_symmetric_difference(a.begin(), a.end(), b.begin(), b.end(),
                                std::back_inserter(differ));
  return differ.size();
}

}  // namespace

nlohmann::ordered_json CompareRulesAlone(int people, int repeats) {
  Progress("ten rules, by us and by CLIPS");
  const auto courses = Courses(people);
  const Setup setup(TenRules(), "");
  std::vector<Steps> steps;
  double events = 0;
  for (const auto& [participant, course] : courses) {
    steps.push_back(StepsOf(course, setup));
    events += static_cast<double>(course.size());
  }
  ClipsSide clips(std::string(TURNSTONE_SOURCE_DIR) +
                  "/tests/bench/ten_rules.clp");
  std::vector<double> ours;
  std::vector<double> theirs;
  Judged us;
  Judged them;
  for (int repeat = 0; repeat < repeats; ++repeat) {
    auto begin = BenchClock::now();
    us = JudgeByUs(courses, setup);
    ours.push_back(Since(begin) / 1e6);
    begin = BenchClock::now();
    them = JudgeByClips(courses, steps, clips);
    theirs.push_back(Since(begin) / 1e6);
  }
  const auto questions = static_cast<double>(us.questions);
  return {{"people", people},
          {"events", events},
          {"questions", us.questions},
          {"prompts", us.prompts.size()},
          {"differ", Differ(us.prompts, them.prompts)},
          {"events_per_second", events / Median(ours)},
          {"events_per_second_clips", events / Median(theirs)},
          {"questions_per_second", questions / Median(ours)},
          {"questions_per_second_clips", questions / Median(theirs)}};
}

}  // namespace turnstone
