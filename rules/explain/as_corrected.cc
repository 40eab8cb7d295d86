#include "rules/explain/as_corrected.h"

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <utility>

#include "rules/measure/proto_time.h"

namespace turnstone {

std::vector<v1::Event> AsCorrected(const std::vector<v1::Event>& events) {
  // Absent: withdrawn. What is withdrawn may be put back.
  std::vector<std::optional<v1::Event>> latest;
  std::map<std::pair<std::string, std::string>, size_t> place;
  for (const v1::Event& event : events) {
    if (!event.has_correction()) {
      place[{event.source(), event.event_id()}] = latest.size();
      latest.emplace_back(event);
      continue;
    }
    const v1::Correction& correction = event.correction();
    std::optional<v1::Event>& mended = latest[place.at(
        {correction.corrected_source(), correction.corrected_event_id()})];
    mended.reset();
    if (!correction.has_replacement()) continue;
    mended = correction.replacement();
    mended->set_source(correction.corrected_source());
    mended->set_event_id(correction.corrected_event_id());
  }
  std::vector<v1::Event> standing;
  standing.reserve(latest.size());
  for (std::optional<v1::Event>& event : latest) {
    if (event) standing.push_back(*std::move(event));
  }
  std::stable_sort(standing.begin(), standing.end(),
                   [](const v1::Event& a, const v1::Event& b) {
                     return FromProto(a.effective_time()) <
                            FromProto(b.effective_time());
                   });
  return standing;
}

}  // namespace turnstone
