#include "tests/faults/event_watch.h"

namespace turnstone::faults {

void EventWatch::Sent(const v1::Event& event) {
  sent_[{event.source(), event.event_id()}].insert(event.SerializeAsString());
}

void EventWatch::Accepted(const v1::Event& event,
                          const v1::SubmitResponse& answer) {
  const std::vector<std::string> alerts(answer.alert_id().begin(),
                                        answer.alert_id().end());
  const auto [told, is_new] = accepted_.try_emplace(
      {event.source(), event.event_id()},
      Told{event.SerializeAsString(), answer.sequence(), alerts});
  if (is_new) return;
  if (told->second.content != event.SerializeAsString() ||
      told->second.sequence != answer.sequence() ||
      told->second.alerts != alerts || !answer.repeated_submission()) {
    findings_.Add("BrokeOnce", event.event_id(), " was accepted as number ",
                  told->second.sequence, " and then otherwise as number ",
                  answer.sequence());
  }
}

void EventWatch::Refused(const v1::Event& event, const absl::Status& why,
                         bool wrong) {
  if (wrong) return;
  const bool two_contents =
      sent_[{event.source(), event.event_id()}].size() > 1;
  if (absl::IsAlreadyExists(why) && two_contents) return;
  findings_.Add(absl::IsAlreadyExists(why) ? "BrokeOnce" : "BrokeDurable",
                event.event_id(),
                " is refused and nothing is wrong with it: ", why.ToString());
}

void EventWatch::Read(const StoredEvent& stored) {
  const Id id{stored.event.source(), stored.event.event_id()};
  const std::string content = stored.event.SerializeAsString();
  if (!read_.try_emplace(id, stored.sequence, content).second) {
    findings_.Add("BrokeOnce", id.second, " is on record twice");
  }
  if (!sent_[id].contains(content)) {
    findings_.Add("BrokeOnce", id.second, " was never sent like that");
  }
}

void EventWatch::EndReading() {
  for (const auto& [id, told] : accepted_) {
    const auto found = read_.find(id);
    if (found == read_.end()) {
      findings_.Add("BrokeDurable", id.second, " was accepted as number ",
                    told.sequence, " and is gone");
    } else if (found->second != std::pair(told.sequence, told.content)) {
      findings_.Add("BrokeDurable", id.second, " was accepted as number ",
                    told.sequence, " and is on record otherwise, as number ",
                    found->second.first);
    }
  }
  std::set<int64_t> sequences;
  for (const auto& [id, record] : read_) sequences.insert(record.first);
  if (!sequences.empty() &&
      *sequences.rbegin() != static_cast<int64_t>(sequences.size())) {
    findings_.Add("BrokeDurable", "there is a gap in the sequence of events");
  }
}

}  // namespace turnstone::faults
