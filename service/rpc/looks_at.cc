#include "service/rpc/looks_at.h"

namespace turnstone {
namespace {

Look AtAlert(const std::string& what, const v1::Alert& alert) {
  return {what, {alert.site(), alert.participant()}, alert.alert_id()};
}

}  // namespace

LookList LooksAt(const v1::ListAlertsResponse& seen) {
  LookList looks;
  for (const v1::Alert& alert : seen.alert()) {
    looks.push_back(AtAlert("saw a list with the alert", alert));
  }
  return looks;
}

LookList LooksAt(const v1::Alert& seen) {
  return {AtAlert("saw the alert", seen)};
}

LookList LooksAt(const v1::AlertExplanation& seen) {
  return {AtAlert("saw why the alert was raised", seen.alert())};
}

LookList LooksAt(const v1::ParticipantView& seen) {
  return {{"saw the participant's page", {seen.site(), seen.participant()}}};
}

LookList LooksAt(const RuleAsked& explained) {
  return {{"saw what a rule says of the participant", explained.whom}};
}

LookList LooksAt(const v1::ShadowPage& seen) {
  const std::string what = "saw what rules in shadow say of the participant";
  LookList looks;
  for (const v1::ShadowVerdict& verdict : seen.verdict()) {
    looks.push_back({what, {verdict.site(), verdict.participant()}});
  }
  for (const v1::MissingInShadow& missing : seen.missing()) {
    looks.push_back({what, {missing.site(), missing.participant()}});
  }
  return looks;
}

LookList LooksAt(const v1::DueList& seen) {
  LookList looks;
  for (const v1::DueItem& item : seen.item()) {
    looks.push_back({"saw what falls due for the participant",
                     {item.site(), item.participant()}});
  }
  return looks;
}

LookList LooksAt(const v1::Outbox& seen) {
  LookList looks;
  for (const v1::OwedMessage& message : seen.message()) {
    looks.push_back({"saw the messages owed", {message.site(), ""}});
  }
  return looks;
}

LookList LooksAt(const v1::Burden& seen) {
  return {{"saw what alerts asked of people", {seen.site(), ""}}};
}

LookList LooksAt(const v1::Disclosures& seen) {
  return {{"saw who had looked", {seen.site(), seen.participant()}}};
}

LookList LooksAt(const v1::Handover& seen) {
  LookList looks;
  for (const v1::Alert& alert : seen.alert()) {
    looks.push_back(AtAlert("saw a hand-over with the alert", alert));
  }
  return looks;
}

LookList LooksAt(const std::vector<v1::Alert>& followed) {
  LookList looks;
  looks.reserve(followed.size());
  for (const v1::Alert& alert : followed) {
    looks.push_back(AtAlert("followed the alert", alert));
  }
  return looks;
}

LookList LooksAt(const Core::EventPage& replayed) {
  LookList looks;
  looks.reserve(replayed.events.size());
  for (const StoredEvent& stored : replayed.events) {
    looks.push_back({"read the participant's events",
                     {replayed.site, stored.event.participant()}});
  }
  return looks;
}

}  // namespace turnstone
