#include <absl/strings/str_cat.h>

#include <nlohmann/json.hpp>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/replay_page.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

using OrderedJson = nlohmann::ordered_json;

std::string InUtc(absl::Time time) {
  return absl::FormatTime("%Y-%m-%dT%H:%M:%SZ", time, absl::UTCTimeZone());
}

OrderedJson ToJson(const Verdict& verdict) {
  OrderedJson json = {{"eventSource", CleanLine(verdict.event.source)},
                      {"eventId", CleanLine(verdict.event.event_id)},
                      {"effectiveTime", InUtc(verdict.effective)},
                      {"due", InUtc(verdict.due)},
                      {"asked", InUtc(verdict.asked)},
                      {"kind", Word(verdict.kind)},
                      {"priority", Word(verdict.priority)},
                      {"forReview", verdict.truth == v1::TRUTH_UNKNOWN},
                      {"why", CleanLine(verdict.why)}};
  if (!verdict.corrected_by.empty()) {
    json["correctedBy"] = CleanLine(verdict.corrected_by);
  }
  return json;
}

std::string ChangeLine(const std::string& change, const Verdict* before,
                       const Verdict* after) {
  const Verdict& either = before == nullptr ? *after : *before;
  OrderedJson json = {{"change", change},
                      {"participant", CleanLine(either.participant)},
                      {"rule", CleanLine(either.rule)}};
  if (before != nullptr) json["before"] = ToJson(*before);
  if (after != nullptr) json["after"] = ToJson(*after);
  return json.dump() + "\n";
}

OrderedJson Figures(const Difference& difference, const ReplayAbout& about) {
  OrderedJson json = {{"site", CleanLine(about.site)},
                      {"events", difference.events},
                      {"participants", difference.participants},
                      {"unreadBefore", difference.unread_before.events},
                      {"unreadAfter", difference.unread_after.events},
                      {"added", difference.added.size()},
                      {"lost", difference.lost.size()},
                      {"changed", difference.changed.size()},
                      {"lostSafety", LostSafety(difference).size()},
                      {"rules", OrderedJson::array()},
                      {"weeks", OrderedJson::array()}};
  for (const auto& [rule, counts] : difference.rules) {
    json["rules"].push_back({{"rule", CleanLine(rule)},
                             {"before", counts.before},
                             {"after", counts.after}});
  }
  for (const auto& [monday, kinds] : difference.weeks) {
    for (const auto& [kind, counts] : kinds) {
      json["weeks"].push_back({{"from", absl::FormatCivilTime(monday)},
                               {"kind", Word(kind)},
                               {"before", counts.before},
                               {"after", counts.after}});
    }
  }
  return json;
}

}  // namespace

std::string ReplayJson(const Difference& difference, const ReplayAbout& about) {
  std::string lines = Figures(difference, about).dump() + "\n";
  for (const Verdict& verdict : difference.lost) {
    absl::StrAppend(&lines, ChangeLine("lost", &verdict, nullptr));
  }
  for (const Verdict& verdict : difference.added) {
    absl::StrAppend(&lines, ChangeLine("added", nullptr, &verdict));
  }
  for (const ChangedVerdict& changed : difference.changed) {
    absl::StrAppend(&lines,
                    ChangeLine("changed", &changed.before, &changed.after));
  }
  return lines;
}

}  // namespace turnstone::cli
