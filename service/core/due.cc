#include "service/core/due.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/engine/condition.h"
#include "rules/engine/decide.h"
#include "rules/engine/view.h"
#include "rules/engine/wording.h"
#include "rules/measure/proto_time.h"

namespace turnstone {

std::vector<v1::DueEntry> DueQuestions(const Participant& participant,
                                       absl::Time now, absl::Time until) {
  std::vector<v1::DueEntry> entries;
  const std::vector<Question> questions =
      participant.agenda().Between(participant.history(), now, until);
  for (const Question& question : questions) {
    const auto at = participant.history().Find(question.fact);
    if (!at) continue;
    if (IsSettled(participant.site(), participant.history(), *at, question)) {
      continue;
    }
    const v1::Rule& rule = participant.site().rules.rule(question.rule);
    const View today(participant.site(), participant.history(), *at,
                     std::max(now, question.due));
    // What is settled already will raise nothing, so it is not due.
    if (Evaluate(rule.condition(), today, nullptr) == v1::TRUTH_FALSE) continue;
    v1::DueEntry& entry = entries.emplace_back();
    *entry.mutable_at() = ToProto(question.due);
    entry.set_text(absl::StrCat(rule.title(), " (",
                                FactInWords(participant.history().facts()[*at]),
                                ")"));
  }
  return entries;
}

std::vector<v1::DueItem> DueItems(Participant& participant, absl::Time now,
                                  absl::Time until) {
  const Site& site = participant.site();
  std::vector<v1::DueItem> items;
  const auto add = [&]() -> v1::DueItem& {
    v1::DueItem& item = items.emplace_back();
    item.set_site(participant.key().site);
    item.set_time_zone(site.config.time_zone());
    item.set_participant(participant.key().participant);
    return item;
  };
  for (v1::DueEntry& entry : DueQuestions(participant, now, until)) {
    v1::DueItem& item = add();
    *item.mutable_at() = entry.at();
    item.set_text(entry.text());
  }
  for (const auto& [number, alert] : participant.alerts()) {
    if (!IsOpen(alert)) continue;
    if (FromProto(alert.escalation().next_at()) > until) continue;
    v1::DueItem& item = add();
    *item.mutable_at() = alert.escalation().next_at();
    item.set_alert_id(alert.alert_id());
    item.set_priority(alert.priority());
    item.set_text(alert.escalation().next());
  }
  return items;
}

}  // namespace turnstone
