#include "tests/scenarios/sentences.h"

#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>

#include <algorithm>
#include <array>
#include <map>
#include <regex>
#include <string>
#include <vector>

#include "rules/measure/work_calendar.h"
#include "tests/support/events.h"

namespace turnstone::scenarios {
namespace {

constexpr size_t kSelfHarmItem = 8;

absl::Status NotUnderstood(const std::string& what) {
  return absl::InvalidArgumentError(
      absl::StrCat("not understood: \"", what, "\"; see GRAMMAR.md"));
}

using Items = std::array<std::optional<int>, 9>;

// What stands behind the total, one thing at a time.
absl::Status TakeDetail(const std::string& detail, Items& items,
                        v1::ScreeningResult& form) {
  static const std::regex positive("self-harm item ([0-3])");
  std::smatch match;
  if (std::regex_match(detail, match, positive)) {
    items[kSelfHarmItem] = std::stoi(match[1]);
  } else if (detail == "self-harm item unanswered") {
    items[kSelfHarmItem].reset();
  } else if (detail == "another item unanswered") {
    items[kSelfHarmItem - 1].reset();
  } else if (detail == "willing" || detail == "not willing") {
    form.set_willing(detail == "willing");
  } else {
    return NotUnderstood(detail);
  }
  return absl::OkStatus();
}

// `total` is that of the items that have an answer.
absl::StatusOr<v1::Event> Screening(const std::string& id, absl::Time when,
                                    int total, const std::string& details) {
  Items items;
  items.fill(0);
  v1::ScreeningResult extra;
  const std::vector<std::string> all =
      absl::StrSplit(details, ", ", absl::SkipEmpty());
  for (const std::string& detail : all) {
    absl::Status status = TakeDetail(detail, items, extra);
    if (!status.ok()) return status;
  }
  int left = total - items[kSelfHarmItem].value_or(0);
  for (size_t i = 0; i < kSelfHarmItem; ++i) {
    if (!items[i]) continue;
    items[i] = std::clamp(left, 0, 3);
    left -= *items[i];
  }
  if (left != 0) return NotUnderstood(absl::StrCat("a total of ", total));
  v1::Event event = Phq9(id, when, {items.begin(), items.end()});
  event.mutable_screening_result()->MergeFrom(extra);
  return event;
}

v1::Event Enrolment(const std::string& id, absl::Time when,
                    const std::string& clinician) {
  v1::Event event = Enrolled(id, when);
  event.mutable_enrolment()->set_clinician(clinician);
  return event;
}

absl::StatusOr<v1::Event> Visit(const std::string& id, absl::Time when,
                                const std::string& visit,
                                const std::string& outcome) {
  static const std::map<std::string, v1::VisitOutcomeKind> kinds = {
      {"attended", v1::VISIT_OUTCOME_KIND_ATTENDED},
      {"no answer", v1::VISIT_OUTCOME_KIND_NO_ANSWER},
      {"refused at the door", v1::VISIT_OUTCOME_KIND_REFUSED_AT_DOOR},
      {"cancelled with notice", v1::VISIT_OUTCOME_KIND_CANCELLED_WITH_NOTICE},
  };
  const auto kind = kinds.find(outcome);
  if (kind == kinds.end()) return NotUnderstood(outcome);
  return Outcome(id, when, visit, kind->second);
}

absl::StatusOr<v1::Event> CorrectionOf(const v1::Event& last,
                                       const std::string& id, absl::Time when,
                                       const std::string& instead,
                                       absl::TimeZone zone) {
  if (instead.empty()) return Withdrawn(id, when, last);
  absl::StatusOr<v1::Event> event =
      EventOf(instead, last.event_id(), when, zone, std::nullopt);
  if (!event.ok()) return event.status();
  *event->mutable_effective_time() = last.effective_time();
  event->set_site(last.site());
  event->set_participant(last.participant());
  return Replaced(id, when, *event);
}

}  // namespace

absl::StatusOr<absl::Time> ReadLocal(const std::string& text,
                                     absl::TimeZone zone) {
  absl::CivilSecond local;
  if (!absl::ParseCivilTime(
          absl::StrCat(text.substr(0, 10), "T",
                       text.substr(std::min<size_t>(text.size(), 11)), ":00"),
          &local)) {
    return NotUnderstood(text);
  }
  return LocalToAbsolute(local, zone);
}

absl::StatusOr<v1::Event> EventOf(const std::string& sentence,
                                  const std::string& id, absl::Time when,
                                  absl::TimeZone zone,
                                  const std::optional<v1::Event>& last) {
  static const std::regex screening("phq-9 ([0-9]{1,3})(?:, (.*))?");
  static const std::regex enrolment("enrolled(?: with clinician (\\S+))?");
  static const std::regex planned("(visit-[0-9]+) planned for (.{16})");
  static const std::regex outcome("(visit-[0-9]+) ([a-z ]+)");
  static const std::regex practice("practice confidence ([0-9]{1,4})");
  static const std::regex correction(
      "the last one (?:was (.+)|never happened)");
  std::smatch match;
  if (std::regex_match(sentence, match, screening)) {
    return Screening(id, when, std::stoi(match[1]), match[2]);
  }
  if (std::regex_match(sentence, match, enrolment)) {
    return Enrolment(id, when, match[1]);
  }
  if (std::regex_match(sentence, match, planned)) {
    const auto start = ReadLocal(match[2], zone);
    if (!start.ok()) return start.status();
    return Planned(id, when, match[1], *start);
  }
  if (std::regex_match(sentence, match, outcome)) {
    return Visit(id, when, match[1], match[2]);
  }
  if (std::regex_match(sentence, match, practice)) {
    return Confidence(id, when, std::stoi(match[1]));
  }
  if (sentence == "discharged, completed") return Discharged(id, when);
  if (last && std::regex_match(sentence, match, correction)) {
    return CorrectionOf(*last, id, when, match[1], zone);
  }
  return NotUnderstood(sentence);
}

}  // namespace turnstone::scenarios
