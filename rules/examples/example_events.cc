#include "rules/examples/example_events.h"

#include <absl/strings/str_cat.h>
#include <absl/time/time.h>

#include <optional>
#include <utility>

#include "rules/examples/ask_rule.h"
#include "rules/examples/example_fact.h"
#include "rules/examples/example_setup.h"
#include "rules/measure/proto_time.h"

namespace turnstone {
namespace {

constexpr int kMostFacts = 60;

std::optional<ExampleError> CheckDay(const v1::Example& example, int at) {
  const v1::ExampleFact& fact = example.fact(at);
  if (!fact.has_day() || !InRange(fact.day(), kExampleDays)) {
    return OutOfRange("day", kExampleDays);
  }
  if (at == 0 || fact.day() >= example.fact(at - 1).day()) return std::nullopt;
  return ExampleError{"the day is earlier than that of the fact before",
                      "write the facts in the order in which they happen"};
}

// Appends fact `at`, with its event, to `found`.
std::optional<ExampleError> AddFact(const v1::Example& example, int at,
                                    const Setup& setup, ExampleCase& found) {
  if (std::optional<ExampleError> error = CheckDay(example, at)) return error;
  const int day = example.fact(at).day();
  absl::Time time = ExampleTime(day);
  for (int i = at; i > 0 && example.fact(i - 1).day() == day; --i) {
    time += absl::Minutes(1);
  }
  v1::Event event;
  event.set_source("examples");
  event.set_event_id(absl::StrCat("fact-", at + 1));
  event.set_site(ExampleSite(setup).config.id());
  event.set_participant("example");
  *event.mutable_effective_time() = ToProto(time);
  std::optional<ExampleError> error =
      ReadFact(example.fact(at), setup.catalogue(), event);
  if (error) return error;
  const auto applied = found.history.Apply(event, setup.catalogue());
  found.event.push_back(std::move(event));
  if (applied.ok()) return std::nullopt;
  return ExampleError{std::string(applied.status().message()), "mend the form"};
}

std::optional<ExampleError> FindAsked(const v1::Example& example,
                                      const Site& site, int rule,
                                      ExampleCase& found) {
  const std::vector<Fact>& facts = found.history.facts();
  std::optional<size_t> asked;
  for (size_t i = 0; i < facts.size(); ++i) {
    if (!example.fact(static_cast<int>(i)).asked()) continue;
    if (asked) {
      return ExampleError{"two facts are asked about",
                          "write asked: true on one of them",
                          static_cast<int>(i)};
    }
    asked = i;
    if (IsAskedAbout(site, rule, facts[i])) continue;
    return ExampleError{"the rule is not asked about facts of this kind",
                        "write asked: true on another, or leave it out",
                        static_cast<int>(i)};
  }
  for (size_t i = facts.size(); !asked && i-- > 0;) {
    if (IsAskedAbout(site, rule, facts[i])) asked = i;
  }
  if (!asked) {
    return ExampleError{"the rule is not asked about any of these facts",
                        "add one of the kind named in the rule's when { }"};
  }
  found.asked = facts[*asked].key;
  return std::nullopt;
}

}  // namespace

std::variant<ExampleCase, ExampleError> ReadExample(const v1::Example& example,
                                                    const Setup& setup,
                                                    int rule) {
  if (!InRange(example.fact_size(), {1, kMostFacts})) {
    return ExampleError{example.fact().empty() ? "there is no fact"
                                               : "there are too many facts",
                        absl::StrCat("write fact { ... }, 1 to ", kMostFacts)};
  }
  ExampleCase found;
  found.event.reserve(static_cast<size_t>(example.fact_size()));
  for (int i = 0; i < example.fact_size(); ++i) {
    if (std::optional<ExampleError> error = AddFact(example, i, setup, found)) {
      error->fact = i;
      return *error;
    }
  }
  std::optional<ExampleError> error =
      FindAsked(example, ExampleSite(setup), rule, found);
  if (error) return *error;
  return found;
}

}  // namespace turnstone
