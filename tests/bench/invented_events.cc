#include "tests/bench/invented_events.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <optional>
#include <random>
#include <string>
#include <utility>

#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

constexpr int kVisits = 8;

class Inventor {
 public:
  explicit Inventor(const Pace& pace)
      : day_(pace.day), begin_within_(pace.begin_within) {}

  std::vector<InventedEvent> Invent(int people) {
    const absl::Time first = At("2027-01-04T09:00:00Z");
    for (int i = 0; i < people; ++i) {
      participant_ = absl::StrCat("p-", 1000 + i);
      Course(first + day_ * Draw(0, begin_within_));
    }
    std::stable_sort(events_.begin(), events_.end(),
                     [](const InventedEvent& a, const InventedEvent& b) {
                       return a.recorded < b.recorded;
                     });
    return std::move(events_);
  }

 private:
  int Draw(int low, int high) {
    const auto span = static_cast<unsigned>(high - low + 1);
    return low + static_cast<int>(random_() % span);
  }
  bool OneIn(int count) { return Draw(1, count) == 1; }

  // One in twelve comes in a day late.
  void Post(v1::Event event) {
    event.set_source("urn:example:invented");
    event.set_participant(participant_);
    event.set_event_id(absl::StrCat(participant_, "-", event.event_id()));
    absl::Time recorded =
        absl::FromUnixSeconds(event.effective_time().seconds());
    if (OneIn(12)) recorded += day_;
    events_.push_back({recorded, std::move(event)});
  }

  void Form(const std::string& id, absl::Time when) {
    std::vector<std::optional<int>> items;
    items.reserve(9);
    for (int item = 0; item < 8; ++item) {
      items.emplace_back(Draw(std::max(0, mood_ - 2), std::min(3, mood_ + 1)));
    }
    items.emplace_back(OneIn(20) ? 1 : 0);
    if (OneIn(15)) items[static_cast<size_t>(Draw(0, 8))].reset();
    v1::Event form = Phq9(id, when, items);
    if (OneIn(2)) form.mutable_screening_result()->set_willing(true);
    Post(std::move(form));
  }

  void Visit(int number, absl::Time when) {
    const std::string visit = absl::StrCat("visit-", number);
    Post(Planned(visit + "-plan", when - 7 * day_, visit, when));
    if (OneIn(10)) {
      return Post(
          Outcome(visit, when, visit, v1::VISIT_OUTCOME_KIND_NO_ANSWER));
    }
    Form(visit + "-form", when - day_ / 72);
    if (!OneIn(30)) {
      Post(Outcome(visit, when, visit, v1::VISIT_OUTCOME_KIND_ATTENDED));
    }
    Post(Confidence(visit + "-practice", when, Draw(5, 10) * 10));
  }

  void Course(absl::Time first) {
    mood_ = Draw(0, 4);
    Form("entry", first);
    Post(Enrolled("enrolled", first + 3 * day_));
    for (int visit = 1; visit <= kVisits; ++visit) {
      Visit(visit, first + (3 + 7 * visit) * day_);
    }
    Form("closing", first + 66 * day_);
    Post(Discharged("discharged", first + 67 * day_));
  }

  const absl::Duration day_;
  const int begin_within_;
  std::mt19937 random_{20270104};
  std::string participant_;
  int mood_ = 0;  // 0 to 4: totals of 4, 8, 12, 16 and 20 or so
  std::vector<InventedEvent> events_;
};

}  // namespace

// 101 short days of 4 minutes: from 9:00 to 15:44.
Pace WithinADay() { return {absl::Minutes(4), 30}; }

std::vector<InventedEvent> InventEvents(int people, const Pace& pace) {
  return Inventor(pace).Invent(people);
}

v1::Configuration TenRules() {
  v1::Configuration configuration = ShippedConfiguration();
  auto* rules = configuration.mutable_rule_set(0)->mutable_rule();
  rules->DeleteSubrange(10, rules->size() - 10);
  return configuration;
}

v1::Configuration Candidate(v1::Configuration configuration) {
  for (v1::Setting& setting :
       *configuration.mutable_rule_set(0)->mutable_setting()) {
    if (setting.name() == "above-range") setting.set_value(18);
  }
  return configuration;
}

}  // namespace turnstone
