#include "tests/second/agreement.h"

#include "rules/measure/proto_time.h"

namespace turnstone::second {

void Agreement::Hold(const std::vector<Recorded>& history, bool step_by_step,
                     const std::string& name) {
  for (const Pair* pair : {&shipped_, &odd_}) {
    const absl::Time now = LongAfter(history);
    const auto differ = [&](const std::vector<Recorded>& events) {
      std::string lines = pair->Differ(events, now);
      if (!lines.empty() || !step_by_step) return lines;
      return pair->DifferOnTheWay(events, now);
    };
    const std::string first = differ(history);
    if (first.empty()) continue;
    // "only the engine: no-contact": the same in fewer events.
    const std::string what = first.substr(0, first.find(" about "));
    const std::vector<Recorded> smallest =
        Shrunk(history, [&](const std::vector<Recorded>& fewer) {
          return differ(fewer).find(what) != std::string::npos;
        });
    ADD_FAILURE() << name << "\n" << Listed(smallest) << differ(smallest);
  }
}

void Agreement::HoldEvents(const std::vector<v1::Event>& events) {
  std::vector<Recorded> history;
  history.reserve(events.size());
  for (const v1::Event& event : events) {
    history.push_back({event, FromProto(event.effective_time())});
  }
  Hold(history, false, "one of every");
}

}  // namespace turnstone::second
