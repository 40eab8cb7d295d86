#include <absl/strings/ascii.h>
#include <absl/strings/escaping.h>
#include <absl/strings/str_cat.h>

#include <algorithm>

#include "service/core/digest.h"
#include "service/deliver/compose.h"
#include "service/deliver/mail_address.h"
#include "service/deliver/message_words.h"
#include "service/deliver/quoted_printable.h"

namespace turnstone {
namespace {

constexpr char kFixedHeaders[] =
    "\r\n"
    "Auto-Submitted: auto-generated\r\n"
    "MIME-Version: 1.0\r\n"
    "Content-Type: text/plain; charset=utf-8\r\n"
    "Content-Transfer-Encoding: quoted-printable\r\n"
    "\r\n";

constexpr char kCaution[] =
    "This message leaves out everything about the participant, on purpose.\n"
    "\n"
    "A prompt for clinical judgement, not a diagnosis and not an emergency\n"
    "service. Follow your site's protocol and the law where you are. In\n"
    "immediate danger call the local emergency number.\n";

// One line of text, whatever it was.
std::string OneLine(std::string text) {
  std::replace_if(
      text.begin(), text.end(),
      [](char c) { return absl::ascii_iscntrl(static_cast<unsigned char>(c)); },
      ' ');
  return text;
}

// What a header can carry as it is.
std::string HeaderText(std::string text) {
  std::replace_if(
      text.begin(), text.end(),
      [](char c) {
        return !absl::ascii_isprint(static_cast<unsigned char>(c));
      },
      '?');
  return text;
}

absl::TimeZone ZoneOf(const Envelope& envelope) {
  absl::TimeZone zone = absl::UTCTimeZone();
  if (!absl::LoadTimeZone(envelope.time_zone, &zone))
    return absl::UTCTimeZone();
  return zone;
}

// "Sat 6 Feb 2027 09:00 GMT".
std::string DateTime(absl::Time time, absl::TimeZone zone) {
  return absl::FormatTime("%a %-d %b %E4Y %H:%M %Z", time, zone);
}

std::string TitleOf(const v1::OwedMessage& message) {
  if (message.sign_of_life()) return "Sign of life";
  if (message.alert_id().empty()) return "Hand-over";
  return absl::StrCat("Alert ", message.alert_id(), ", priority ",
                      PriorityWord(message.priority()));
}

std::string AlertCount(const Envelope& envelope) {
  const size_t count = envelope.messages.size();
  return count == 1 ? "1 alert" : absl::StrCat(count, " alerts");
}

std::string SubjectOf(const Envelope& envelope,
                      const v1::OwedMessage& most_pressing) {
  if (IsDaily(envelope)) {
    return absl::StrCat(
        "turnstone: your daily message, ", AlertCount(envelope),
        ", most pressing: ", PriorityWord(most_pressing.priority()));
  }
  if (most_pressing.sign_of_life()) return "turnstone: working";
  if (most_pressing.alert_id().empty()) return "turnstone: a hand-over for you";
  return absl::StrCat("turnstone: alert ", most_pressing.alert_id(),
                      ", priority ", PriorityWord(most_pressing.priority()));
}

std::string ReasonLines(const v1::OwedMessage& message, absl::TimeZone zone) {
  std::string lines =
      absl::StrCat("Why you are told: ", OneLine(message.reason()), "\n");
  if (message.sign_of_life()) {
    absl::StrAppend(
        &lines, "The next one comes on ", DateTime(DeadlineOf(message), zone),
        ".\nIf it does not, the service or the way here is down: ask "
        "whoever runs it at once.\n");
  } else if (message.has_deadline()) {
    absl::StrAppend(&lines, "If nobody acts by ",
                    DateTime(DeadlineOf(message), zone),
                    ", the next on the list is told.\n");
  }
  return lines;
}

std::string CommandLines(const v1::OwedMessage& message) {
  std::string lines = absl::StrCat(
      "Open it:               ", OneLine(OpenCommand(message)), "\n");
  if (!message.alert_id().empty()) {
    absl::StrAppend(&lines, "Say that you have it:  turnstone receive ",
                    OneLine(message.alert_id()), "\n");
  }
  return lines;
}

std::string BodyOf(const Envelope& envelope,
                   const std::vector<v1::OwedMessage>& messages) {
  std::string body = absl::StrCat(OneLine(envelope.site_name), ", for ",
                                  OneLine(envelope.person), "\n\n");
  if (IsDaily(envelope)) {
    absl::StrAppend(&body, AlertCount(envelope),
                    ", the most pressing first\n\n");
  }
  for (const v1::OwedMessage& message : messages) {
    absl::StrAppend(&body, OneLine(TitleOf(message)), "\n",
                    ReasonLines(message, ZoneOf(envelope)),
                    CommandLines(message), "\n");
  }
  return body + kCaution;
}

std::string MessageId(const Envelope& envelope) {
  const std::string& from = envelope.channel.smtp().from();
  return absl::StrCat("<",
                      absl::BytesToHexString(Sha256(
                          absl::StrCat(SourceOf(envelope), " ", envelope.key))),
                      from.substr(from.rfind('@')), ">");
}

}  // namespace

absl::StatusOr<std::string> ComposeMail(const Envelope& envelope) {
  const std::string& from = envelope.channel.smtp().from();
  if (!CheckMailAddress(from).ok()) {
    return absl::FailedPreconditionError(absl::StrCat(
        "channel \"", envelope.channel.id(), "\" of site \"", envelope.site,
        "\": `from` is ", CheckMailAddress(from).message()));
  }
  if (!CheckMailAddress(envelope.address).ok()) {
    return absl::InvalidArgumentError(absl::StrCat(
        "the address of \"", envelope.person, "\" of site \"", envelope.site,
        "\" is ", CheckMailAddress(envelope.address).message()));
  }
  const auto messages = MostPressingFirst(envelope.messages);
  const std::string date =
      absl::FormatTime(absl::RFC1123_full, envelope.now, ZoneOf(envelope));
  return absl::StrCat(
      "From: turnstone <", from, ">\r\nTo: <", envelope.address,
      ">\r\nSubject: ", HeaderText(SubjectOf(envelope, messages.front())),
      "\r\nDate: ", date, "\r\nMessage-ID: ", MessageId(envelope),
      kFixedHeaders, QuotedPrintable(BodyOf(envelope, messages)));
}

}  // namespace turnstone
