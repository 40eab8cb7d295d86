#include "service/core/owed.h"

#include <absl/strings/str_cat.h>
#include <absl/time/civil_time.h>

#include <algorithm>
#include <cstdint>

#include "rules/duty/written_time.h"
#include "rules/measure/proto_time.h"
#include "rules/measure/work_calendar.h"

namespace turnstone {
namespace {

constexpr absl::Duration kFirstPause = absl::Seconds(30);
constexpr absl::Duration kLongestPause = absl::Minutes(5);
constexpr size_t kErrorCharactersMax = 300;

// FNV-1a: the same on every machine, unlike std::hash. Algorithm from memory:
// Fowler, Noll and Vo.
uint64_t HashOf(const std::string& text) {
  uint64_t hash = 14695981039346656037U;
  for (const char c : text) {
    hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211U;
  }
  return hash;
}

absl::Duration PauseAfter(int attempts, const std::string& key) {
  const int doublings = std::min(attempts - 1, 10);
  const absl::Duration pause =
      std::min(kLongestPause, kFirstPause * (int64_t{1} << doublings));
  // 80 to 120 per cent.
  const auto percent =
      static_cast<int64_t>(80 + HashOf(absl::StrCat(key, "#", attempts)) % 41);
  return pause * percent / 100;
}

void EndAs(v1::MessageStatus status, absl::Time now, v1::OwedMessage& message) {
  message.set_status(status);
  message.clear_next_attempt_at();
  *message.mutable_ended_at() = ToProto(now);
}

}  // namespace

absl::Time NextDaily(const Site& site, const v1::Person& person,
                     absl::Time time) {
  const absl::Duration at =
      ReadTimeOfDay(person.digest_at().empty()
                        ? site.config.calendar().day_start()
                        : person.digest_at())
          .value();
  const absl::TimeZone zone = site.calendar.zone();
  absl::CivilDay day = absl::ToCivilDay(time, zone);
  // Ten years without a working day count as one that ends ten years on.
  const absl::CivilDay last = day + 3660;
  while (true) {
    const absl::Time moment = LocalToAbsolute(
        absl::CivilSecond(day) + absl::ToInt64Seconds(at), zone);
    if (moment > time && (site.calendar.IsWorkingDay(day) || day > last)) {
      return moment;
    }
    ++day;
  }
}

std::vector<v1::OwedMessage> MessagesTo(const Site& site,
                                        const std::string& person,
                                        const std::string& key,
                                        absl::Time now) {
  std::vector<v1::OwedMessage> messages;
  const v1::Person* const known = site.team.FindPerson(person);
  if (known == nullptr) return messages;
  for (const v1::Reach& reach : known->reach()) {
    v1::OwedMessage& message = messages.emplace_back();
    message.set_key(absl::StrCat(key, "/", person, "/", reach.channel()));
    message.set_site(site.config.id());
    message.set_person(person);
    message.set_channel(reach.channel());
    message.set_status(v1::MESSAGE_STATUS_OWED);
    *message.mutable_owed_since() = ToProto(now);
    *message.mutable_next_attempt_at() = ToProto(now);
  }
  return messages;
}

void Withdraw(absl::Time now, v1::OwedMessage& message) {
  if (message.status() == v1::MESSAGE_STATUS_OWED) {
    EndAs(v1::MESSAGE_STATUS_WITHDRAWN, now, message);
  }
}

void TakeResult(const absl::Status& result, absl::Time now,
                v1::OwedMessage& message) {
  message.set_attempts(message.attempts() + 1);
  if (!message.has_first_tried_at()) {
    *message.mutable_first_tried_at() = ToProto(now);
  }
  if (result.ok()) {
    message.clear_last_error();
    return EndAs(v1::MESSAGE_STATUS_SENT, now, message);
  }
  message.set_last_error(
      std::string(result.message()).substr(0, kErrorCharactersMax));
  // Withdrawn while it was under way.
  if (message.status() != v1::MESSAGE_STATUS_OWED) return;
  if (absl::IsInvalidArgument(result) ||
      now - FromProto(message.first_tried_at()) >= kTryFor) {
    return EndAs(v1::MESSAGE_STATUS_GIVEN_UP, now, message);
  }
  *message.mutable_next_attempt_at() =
      ToProto(now + PauseAfter(message.attempts(), message.key()));
}

}  // namespace turnstone
