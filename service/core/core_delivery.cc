// What Core does so that messages get out.
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <set>

#include "rules/measure/proto_time.h"
#include "service/core/core.h"
#include "service/core/owed.h"

namespace turnstone {
namespace {

// Messages looked at for one daily message.
constexpr int kInOneDailyMax = 10000;

std::string DailyKey(const Site& site, const v1::Person& person,
                     const v1::OwedMessage& message) {
  const absl::Time day =
      NextDaily(site, person, FromProto(message.owed_since()));
  return absl::StrCat("daily/",
                      absl::FormatTime("%Y-%m-%d", day, site.calendar.zone()),
                      "/", person.id(), "/", message.channel());
}

}  // namespace

std::vector<ChannelKey> Core::Channels() const {
  std::set<ChannelKey> channels;
  for (const auto& [id, site] : setup_->sites()) {
    for (const v1::Channel& channel : site.config.channel()) {
      channels.insert({id, channel.id()});
    }
  }
  // What is owed by a channel that is no longer configured must end too.
  const auto owed = store_->Owed();
  if (owed.ok()) {
    for (const OwedByChannel& one : *owed) channels.insert(one.channel);
  }
  return {channels.begin(), channels.end()};
}

absl::StatusOr<std::optional<Envelope>> Core::NextEnvelope(
    const ChannelKey& channel) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const absl::Time now = Now();
  if (health_[channel].Rests(now)) return std::optional<Envelope>();
  absl::StatusOr<std::vector<v1::OwedMessage>> next = store_->ToSend(
      channel, "", now, 1 + static_cast<int>(sent_unrecorded_.size()));
  if (!next.ok()) return Break(next.status());
  EraseSent(*next);
  if (next->empty()) return std::optional<Envelope>();
  const v1::OwedMessage& first = next->front();
  const Site& site = *setup_->FindSite(channel.site);
  Envelope envelope;
  envelope.key = first.key();
  envelope.site = channel.site;
  envelope.site_name = site.config.name();
  envelope.time_zone = site.config.time_zone();
  envelope.person = first.person();
  envelope.messages = {first};
  envelope.now = now;
  const v1::Person* const person = site.team.FindPerson(first.person());
  const v1::Channel* const known = site.team.FindChannel(channel.channel);
  // Otherwise it goes to nobody, is refused for good, and the alert climbs.
  if (known == nullptr || person == nullptr) return std::optional(envelope);
  const auto reach = std::find_if(
      person->reach().begin(), person->reach().end(),
      [&](const v1::Reach& one) { return one.channel() == channel.channel; });
  if (reach == person->reach().end()) return std::optional(envelope);
  envelope.channel = *known;
  envelope.address = reach->address();
  if (!first.in_digest()) return std::optional(envelope);
  envelope.key = DailyKey(site, *person, first);
  // All of them, also those whose own next attempt is not due yet: after a
  // failure a daily message must not come in parts of one key.
  absl::StatusOr<std::vector<v1::OwedMessage>> all = store_->ToSend(
      channel, person->id(), absl::InfiniteFuture(), kInOneDailyMax);
  if (!all.ok()) return Break(all.status());
  EraseSent(*all);
  std::erase_if(*all, [&](const v1::OwedMessage& message) {
    return !message.in_digest() ||
           DailyKey(site, *person, message) != envelope.key;
  });
  envelope.messages = *std::move(all);
  return std::optional(envelope);
}

void Core::EraseSent(std::vector<v1::OwedMessage>& owed) const {
  std::erase_if(owed, [this](const v1::OwedMessage& message) {
    return sent_unrecorded_.contains(message.key());
  });
}

void Core::StageDelivery(const Envelope& envelope, const absl::Status& result) {
  // Broken already, or by this: then nothing is staged, and after a restart
  // the message is still owed.
  if (CheckUsable().ok()) (void)StageResult(envelope, result);
}

absl::Status Core::StageResult(const Envelope& envelope,
                               const absl::Status& result) {
  const absl::Time now = Now();
  staged_sendings_.push_back({envelope, result});
  // What goes to nobody says nothing of the channel.
  if (envelope.channel.by_case() != v1::Channel::BY_NOT_SET) {
    const ChannelKey channel{envelope.site, envelope.channel.id()};
    const auto staged = staged_health_.try_emplace(channel, health_[channel]);
    staged.first->second.Take(result, now);
  }
  Audit(ServiceActor(), result.ok() ? "message sent" : "message not sent",
        envelope.key, std::string(result.message()));
  for (const v1::OwedMessage& sent : envelope.messages) {
    absl::StatusOr<std::optional<v1::OwedMessage>> current =
        CurrentMessage(sent.key());
    if (!current.ok()) return current.status();
    if (!current->has_value()) continue;
    v1::OwedMessage& message = **current;
    TakeResult(result, now, message);
    staged_messages_[message.key()] = message;
    if (message.status() != v1::MESSAGE_STATUS_GIVEN_UP) continue;
    absl::Status status = ClimbIfNobodyReached(message);
    if (!status.ok()) return status;
  }
  return absl::OkStatus();
}

absl::StatusOr<std::optional<v1::OwedMessage>> Core::CurrentMessage(
    const std::string& key) {
  const auto staged = staged_messages_.find(key);
  if (staged != staged_messages_.end()) return std::optional(staged->second);
  absl::StatusOr<std::optional<v1::OwedMessage>> stored =
      store_->FindMessage(key);
  if (!stored.ok()) return Break(stored.status());
  return stored;
}

absl::Status Core::ClimbIfNobodyReached(const v1::OwedMessage& given_up) {
  if (given_up.alert_id().empty()) return absl::OkStatus();
  absl::StatusOr<Resolved> found =
      ResolveAlert(given_up.alert_id(), SiteScope::All());
  if (!found.ok()) return found.status();
  Participant& participant = *found->first;
  if (found->second->escalation().rung_telling() != given_up.telling()) {
    return absl::OkStatus();  // the next rung was reached since
  }
  const std::string telling =
      absl::StrCat(given_up.alert_id(), "/", given_up.telling());
  absl::StatusOr<std::vector<v1::OwedMessage>> all =
      store_->MessagesUnder(telling);
  if (!all.ok()) return Break(all.status());
  for (const v1::OwedMessage& message : WithStaged(*all, telling)) {
    if (message.status() != v1::MESSAGE_STATUS_GIVEN_UP) {
      return absl::OkStatus();
    }
  }
  return StageEffects(
      participant,
      participant.ReachedNobody(
          given_up.alert_id(),
          "at once, for no message of the rung before could be delivered",
          MomentAt(participant.key().site)));
}

std::vector<v1::OwedMessage> Core::WithStaged(
    const std::vector<v1::OwedMessage>& stored,
    const std::string& prefix) const {
  std::map<std::string, v1::OwedMessage> all;
  for (const v1::OwedMessage& message : stored) all[message.key()] = message;
  const std::string begin = absl::StrCat(prefix, "/");
  for (auto at = staged_messages_.lower_bound(begin);
       at != staged_messages_.end() && at->first.starts_with(begin); ++at) {
    all[at->first] = at->second;
  }
  std::vector<v1::OwedMessage> messages;
  messages.reserve(all.size());
  for (auto& [key, message] : all) messages.push_back(std::move(message));
  return messages;
}

absl::StatusOr<std::vector<v1::OwedMessage>> Core::OwedNow(
    const std::string& alert_id) {
  absl::StatusOr<std::vector<v1::OwedMessage>> stored =
      store_->OwedOf(alert_id);
  if (!stored.ok()) return Break(stored.status());
  std::vector<v1::OwedMessage> owed = WithStaged(*stored, alert_id);
  std::erase_if(owed, [](const v1::OwedMessage& message) {
    return message.status() != v1::MESSAGE_STATUS_OWED;
  });
  return owed;
}

absl::Status Core::StageMessages(const Telling& telling) {
  absl::StatusOr<std::vector<v1::OwedMessage>> owed = OwedNow(telling.alert_id);
  if (!owed.ok()) return owed.status();
  for (const v1::OwedMessage& message : telling.messages) {
    for (const v1::OwedMessage& older : *owed) {
      if (!message.in_digest() && older.person() == message.person() &&
          older.channel() == message.channel()) {
        StageWithdrawal(older);
      }
    }
    staged_messages_[message.key()] = message;
  }
  return absl::OkStatus();
}

void Core::StageWithdrawal(v1::OwedMessage message) {
  Withdraw(Now(), message);
  staged_messages_[message.key()] = message;
}

absl::Status Core::WithdrawMessages(const std::string& alert_id) {
  absl::StatusOr<std::vector<v1::OwedMessage>> owed = OwedNow(alert_id);
  if (!owed.ok()) return owed.status();
  for (const v1::OwedMessage& message : *owed) StageWithdrawal(message);
  return absl::OkStatus();
}

absl::Status Core::WithdrawUnder(const std::string& prefix) {
  absl::StatusOr<std::vector<v1::OwedMessage>> stored =
      store_->MessagesUnder(prefix);
  if (!stored.ok()) return Break(stored.status());
  for (const v1::OwedMessage& message : WithStaged(*stored, prefix)) {
    StageWithdrawal(message);
  }
  return absl::OkStatus();
}

}  // namespace turnstone
