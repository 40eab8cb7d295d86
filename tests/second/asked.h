// One question: a rule, asked about one fact at some moment.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "tests/second/facts.h"
#include "turnstone/v1/alert.pb.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone::second {

struct Asked {
  const World& world;
  const std::vector<Fact>& facts;
  size_t about = 0;  // index of the fact
  absl::Time moment;

  [[nodiscard]] const Fact& subject() const { return facts[about]; }
};

// The fact itself and everything that happened up to the moment, in order.
[[nodiscard]] std::vector<const Fact*> InSight(const Asked& asked);
// The same, up to the fact itself.
[[nodiscard]] std::vector<const Fact*> UpToSubject(const Asked& asked);
// Forms with the instrument, up to the one the rule is asked about, else up to
// the moment.
[[nodiscard]] std::vector<const Fact*> Forms(const Asked& asked,
                                             const std::string& instrument);
// The last enrolment; null if there is none.
[[nodiscard]] const Fact* LastEnrolment(const Asked& asked);
// The last enrolment or discharge; null if there is neither. Of both at one
// moment the enrolment: nobody is lost from sight by how two events are named
// (the proto is silent).
[[nodiscard]] const Fact* LastTurn(const Asked& asked);
// Something that shows the participant in touch with the team.
[[nodiscard]] bool ShowsContact(const Fact& fact);

inline v1::Truth Say(bool value) {
  return value ? v1::TRUTH_TRUE : v1::TRUTH_FALSE;
}
// False if any is; else unknown if any is; else true.
[[nodiscard]] v1::Truth EveryOne(const std::vector<v1::Truth>& answers);
// The same if all of `answers` are the same, else unknown.
[[nodiscard]] v1::Truth Agreed(const std::vector<v1::Truth>& answers);
// Tries every number from `low` to `high`.
[[nodiscard]] v1::Truth OfEach(int low, int high,
                               const std::function<v1::Truth(int)>& answer);

// The kinds of condition, by what they look at. Each returns nothing for the
// kinds of the others.
[[nodiscard]] std::optional<v1::Truth> OfTheForm(const v1::Condition& condition,
                                                 const Asked& asked);
[[nodiscard]] std::optional<v1::Truth> OfTheCourse(
    const v1::Condition& condition, const Asked& asked);
[[nodiscard]] std::optional<v1::Truth> OfTheRecord(
    const v1::Condition& condition, const Asked& asked);
[[nodiscard]] std::optional<v1::Truth> OfTheVisits(
    const v1::Condition& condition, const Asked& asked);

[[nodiscard]] v1::Truth Holds(const v1::Condition& condition,
                              const Asked& asked);

}  // namespace turnstone::second
