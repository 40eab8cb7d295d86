#include "clients/cli/render/outbox_page.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/table.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

// How far behind an attempt may be before it is called late.
constexpr absl::Duration kGrace = absl::Minutes(5);

// The zone of the site's channel; UTC if the service knows no such channel any
// more.
absl::TimeZone ZoneOf(const v1::Outbox& outbox,
                      const v1::OwedMessage& message) {
  const auto& all = outbox.channel();
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const v1::ChannelState& state) {
        return state.site() == message.site() &&
               state.channel() == message.channel();
      });
  return found == all.end() ? absl::UTCTimeZone() : Zone(found->time_zone());
}

// It has not gone out although it should have.
std::string Subject(const v1::OwedMessage& message) {
  if (message.sign_of_life()) return "sign of life";
  return message.alert_id().empty() ? "hand-over" : message.alert_id();
}

bool IsLate(const v1::OwedMessage& message, absl::Time now) {
  if (message.status() != v1::MESSAGE_STATUS_OWED) return false;
  const bool too_late =
      message.has_deadline() && FromProto(message.deadline()) <= now;
  const bool stuck = message.has_next_attempt_at() &&
                     FromProto(message.next_attempt_at()) + kGrace <= now;
  return too_late || stuck;
}

std::string ChannelText(const v1::ChannelState& channel, absl::Time now) {
  std::string text;
  if (channel.has_rests_until()) {
    text = absl::StrCat(
        "RESTS after ", Count(channel.failures_in_a_row(), "failure"),
        "; tried next at ",
        DateTime(channel.rests_until(), Zone(channel.time_zone())));
  } else if (channel.failures_in_a_row() > 0) {
    text =
        absl::StrCat("failing: ", Count(channel.failures_in_a_row(), "failure"),
                     " in a row");
  } else {
    text = "no failure";
  }
  if (!channel.last_error().empty()) {
    absl::StrAppend(&text, "\nsaid last: ", channel.last_error());
  }
  absl::StrAppend(&text, "\nowed: ", channel.owed());
  if (channel.has_oldest_owed_since()) {
    absl::StrAppend(&text, ", the oldest for ",
                    Age(now - FromProto(channel.oldest_owed_since())));
  }
  return text;
}

void ChannelSection(const v1::Outbox& outbox, Page& page) {
  page.Section("Channels");
  if (outbox.channel().empty()) {
    page.Text("none: people follow the alerts live, or are told by nobody");
    return;
  }
  Table table({"SITE", "CHANNEL", "HOW IT FARES"});
  for (const v1::ChannelState& channel : outbox.channel()) {
    table.Add({channel.site(), channel.channel(),
               ChannelText(channel, FromProto(outbox.now()))});
  }
  page.Block(table.ToString(2));
}

std::string Progress(const v1::OwedMessage& message, absl::Time now,
                     absl::TimeZone zone) {
  std::string text = Count(message.attempts(), "attempt");
  if (message.has_next_attempt_at()) {
    const bool due = FromProto(message.next_attempt_at()) <= now;
    absl::StrAppend(&text, due ? ", the next due since " : ", next ",
                    DateTime(message.next_attempt_at(), zone));
  }
  if (message.has_ended_at()) {
    absl::StrAppend(&text, ", ended ", DateTime(message.ended_at(), zone));
  }
  return text;
}

std::string MessageText(const v1::OwedMessage& message, absl::Time now,
                        absl::TimeZone zone) {
  std::string text = message.reason();
  if (IsLate(message, now)) {
    absl::StrAppend(&text, "\n- LATE: it should have gone out by now");
  }
  if (message.status() == v1::MESSAGE_STATUS_GIVEN_UP) {
    absl::StrAppend(&text, "\n- GIVEN UP: the channel did not take it");
  }
  absl::StrAppend(&text, "\n- ", Progress(message, now, zone));
  if (message.in_digest()) {
    absl::StrAppend(&text, "\n- in their daily message");
  }
  if (message.has_deadline()) {
    absl::StrAppend(&text, "\n- whoever comes next ",
                    FromProto(message.deadline()) <= now ? "was" : "is",
                    " told at ", DateTime(message.deadline(), zone));
  }
  if (!message.last_error().empty()) {
    absl::StrAppend(&text, "\n- the channel said: ", message.last_error());
  }
  return text;
}

std::string Summary(const v1::Outbox& outbox, absl::Time now) {
  int late = 0;
  int given_up = 0;
  for (const v1::OwedMessage& message : outbox.message()) {
    late += IsLate(message, now) ? 1 : 0;
    given_up += message.status() == v1::MESSAGE_STATUS_GIVEN_UP ? 1 : 0;
  }
  std::string text = Count(outbox.total(), "message");
  if (outbox.total() > outbox.message_size()) {
    absl::StrAppend(&text, ", the ", outbox.message_size(),
                    " oldest of them shown");
  }
  if (late > 0) absl::StrAppend(&text, "; ", late, " LATE");
  if (given_up > 0) absl::StrAppend(&text, "; ", given_up, " GIVEN UP");
  return text;
}

void MessageSection(const v1::Outbox& outbox, Page& page) {
  const absl::Time now = FromProto(outbox.now());
  page.Section("Messages");
  if (outbox.message().empty()) {
    page.Text("none");
    return;
  }
  page.Text(Summary(outbox, now));
  Table table({"TO\nBY", "ALERT\nPRIORITY", "STATUS\nAGE", "WHY"});
  for (const v1::OwedMessage& message : outbox.message()) {
    table.Add({absl::StrCat(message.person(), "\n", message.channel()),
               absl::StrCat(Subject(message), "\n", Word(message.priority())),
               absl::StrCat(Word(message.status()), "\n",
                            Age(now - FromProto(message.owed_since()))),
               MessageText(message, now, ZoneOf(outbox, message))});
  }
  page.Block(table.ToString(2));
}

}  // namespace

std::string OutboxPage(const v1::Outbox& raw) {
  const v1::Outbox outbox = Cleaned(raw);
  Page page;
  const absl::TimeZone zone = outbox.channel().empty()
                                  ? absl::UTCTimeZone()
                                  : Zone(outbox.channel(0).time_zone());
  page.Line("Messages owed to people, as of " + DateTime(outbox.now(), zone));
  if (!outbox.sending()) {
    page.Line("");
    page.Block(
        Wrap("THIS SERVICE SENDS NOTHING: it was started so (simulated clock, "
             "no --send). What is owed stays owed, and nobody is told of it.",
             0));
  }
  ChannelSection(outbox, page);
  MessageSection(outbox, page);
  return page.ToString();
}

}  // namespace turnstone::cli
