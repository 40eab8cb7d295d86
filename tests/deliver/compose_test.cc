// What goes out, against texts written by hand. Formats: RFC 5322 (e-mail),
// RFC 2045 (quoted-printable), CloudEvents 1.0 (JSON event format). The
// Message-IDs are by sha256sum. The wording is our own.
#include "service/deliver/compose.h"

#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_replace.h>
#include <absl/strings/str_split.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <vector>

#include "platform/files.h"
#include "service/deliver/quoted_printable.h"
#include "tests/deliver/envelopes.h"

namespace turnstone {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;
using Json = nlohmann::json;

std::string Golden(const std::string& name) {
  const auto text = ReadFile(
      absl::StrCat(TURNSTONE_SOURCE_DIR, "/tests/deliver/golden/", name));
  EXPECT_TRUE(text.ok()) << text.status();
  return *text;
}

// A mail as it is on the wire.
std::string GoldenMail(const std::string& name) {
  return absl::StrReplaceAll(Golden(name), {{"\n", "\r\n"}});
}

TEST(ComposeMailTest, WholeMails) {
  EXPECT_EQ(*ComposeMail(MailEnvelope()), GoldenMail("alert.eml"));
  EXPECT_EQ(*ComposeMail(DailyEnvelope()), GoldenMail("daily.eml"));
  EXPECT_EQ(*ComposeMail(HandOverEnvelope()), GoldenMail("hand_over.eml"));
  EXPECT_EQ(*ComposeMail(SignOfLifeEnvelope()), GoldenMail("sign_of_life.eml"));
}

std::vector<std::string> HeaderLines(const std::string& mail) {
  const std::string headers = mail.substr(0, mail.find("\r\n\r\n"));
  return absl::StrSplit(headers, "\r\n");
}

// A line break in whatever comes from outside starts neither a header nor,
// in the body, a line of its own.
TEST(ComposeMailTest, NothingIsInjected) {
  const std::string bad = "x\r\nBcc: someone@else.example\n\rRun: this";
  Envelope envelope = MailEnvelope();
  envelope.key = bad;
  envelope.site = bad;
  envelope.site_name = bad;
  envelope.person = bad;
  envelope.time_zone = bad;
  envelope.messages[0].set_alert_id(bad);
  envelope.messages[0].set_reason(bad);
  const auto mail = ComposeMail(envelope);
  ASSERT_TRUE(mail.ok());
  EXPECT_EQ(HeaderLines(*mail).size(), 9U);
  // As it is read: without the breaks that only keep lines short.
  const std::string read = absl::StrReplaceAll(*mail, {{"=\r\n", ""}});
  for (const absl::string_view line : absl::StrSplit(read, "\r\n")) {
    EXPECT_FALSE(absl::StartsWith(line, "Bcc:")) << line;
    EXPECT_FALSE(absl::StartsWith(line, "Run:")) << line;
    EXPECT_LE(line.size(), 998U);  // RFC 5322 section 2.1.1
    EXPECT_EQ(line.find_first_of("\r\n"), absl::string_view::npos);
  }
}

TEST(ComposeMailTest, HeadersAreAscii) {
  Envelope envelope = MailEnvelope();
  envelope.messages[0].set_alert_id("Ä-17");
  for (const std::string& line : HeaderLines(*ComposeMail(envelope))) {
    for (const char c : line) EXPECT_TRUE(c >= ' ' && c <= '~') << line;
  }
}

TEST(ComposeMailTest, BadAddressesAreRefused) {
  for (const std::string bad :
       {"", "r.sorrel", "@team.example", "r.sorrel@", "a@b@team.example",
        "a b@team.example", "a@team.example\r\nBcc: b@else.example",
        "a@team.example>", "a@team.example,b@else.example", "\"a\"@x.example",
        "sörrel@team.example"}) {
    Envelope to = MailEnvelope();
    to.address = bad;
    const absl::Status refused = ComposeMail(to).status();
    EXPECT_TRUE(absl::IsInvalidArgument(refused)) << bad;
    EXPECT_THAT(std::string(refused.message()),
                AllOf(HasSubstr("\"r.sorrel\""), HasSubstr("name@domain")));
    // Not this message's fault: it may go once the channel is mended.
    Envelope from = MailEnvelope();
    from.channel.mutable_smtp()->set_from(bad);
    EXPECT_TRUE(absl::IsFailedPrecondition(ComposeMail(from).status())) << bad;
  }
}

TEST(ComposeMailTest, AddressesAreNotRepeatedInErrors) {
  Envelope envelope = MailEnvelope();
  envelope.address = "quiet harbour@team.example";
  EXPECT_THAT(std::string(ComposeMail(envelope).status().message()),
              Not(HasSubstr("harbour")));
}

std::string MessageIdOf(const Envelope& envelope) {
  const auto mail = ComposeMail(envelope);
  for (const std::string& line : HeaderLines(*mail)) {
    if (absl::StartsWith(line, "Message-ID: ")) return line;
  }
  return "";
}

TEST(ComposeMailTest, OnlyARepeatHasTheSameMessageId) {
  Envelope repeat = MailEnvelope();
  repeat.now += absl::Minutes(5);
  EXPECT_EQ(MessageIdOf(repeat), MessageIdOf(MailEnvelope()));
  Envelope next = MailEnvelope();
  next.key = "A-17/4/r.sorrel/mail";
  EXPECT_NE(MessageIdOf(next), MessageIdOf(MailEnvelope()));
  // The same person and day at another site.
  Envelope elsewhere = MailEnvelope();
  elsewhere.site = "harbour-row";
  EXPECT_NE(MessageIdOf(elsewhere), MessageIdOf(MailEnvelope()));
}

TEST(ComposeMailTest, TimesAreTheSites) {
  Envelope envelope = MailEnvelope();
  envelope.time_zone = "Europe/Berlin";
  EXPECT_THAT(*ComposeMail(envelope),
              AllOf(HasSubstr("by Sat 6 Feb 2027 10:00 CET,"),
                    HasSubstr("Date: Sat, 06 Feb 2027 04:12:00 +0100\r\n")));
}

TEST(QuotedPrintableTest, FollowsTheRules) {
  EXPECT_EQ(QuotedPrintable("1=1\n"), "1=3D1\r\n");
  EXPECT_EQ(QuotedPrintable("end \ntab\t\n"), "end=20\r\ntab=09\r\n");
  EXPECT_EQ(QuotedPrintable("é\n\n"), "=C3=A9\r\n\r\n");
  const std::string x(76, 'x');
  EXPECT_EQ(QuotedPrintable(x + "\n"), x + "\r\n");
  EXPECT_EQ(QuotedPrintable(x + "yz\n"), x.substr(1) + "=\r\nxyz\r\n");
  // What is written out is not broken in the middle.
  EXPECT_EQ(QuotedPrintable(x.substr(3) + "=yz\n"),
            x.substr(3) + "=\r\n=3Dyz\r\n");
}

TEST(ComposeCloudEventTest, WholeEvent) {
  EXPECT_EQ(Json::parse(ComposeCloudEvent(MailEnvelope())),
            Json::parse(Golden("alert.json")));
}

TEST(ComposeCloudEventTest, DailyMessageListsTheMostPressingFirst) {
  const Json event = Json::parse(ComposeCloudEvent(DailyEnvelope()));
  EXPECT_FALSE(event.contains("subject"));
  EXPECT_EQ(event["data"]["priority"], "urgent");
  std::vector<std::string> ids;
  for (const Json& alert : event["data"]["alerts"]) {
    ids.push_back(alert["alertId"]);
  }
  EXPECT_EQ(ids, (std::vector<std::string>{"A-18", "A-19", "A-20"}));
  EXPECT_FALSE(event["data"]["alerts"][2].contains("deadline"));
}

TEST(ComposeCloudEventTest, HandOverHasNoAlert) {
  const Json event = Json::parse(ComposeCloudEvent(HandOverEnvelope()));
  EXPECT_FALSE(event.contains("subject"));
  const Json& only = event["data"]["alerts"][0];
  EXPECT_FALSE(only.contains("alertId"));
  EXPECT_EQ(only["open"], "turnstone handover");
}

TEST(ComposeCloudEventTest, SignOfLifeSaysWhatItIs) {
  const Json data =
      Json::parse(ComposeCloudEvent(SignOfLifeEnvelope()))["data"];
  ASSERT_EQ(data["alerts"].size(), 1);
  EXPECT_EQ(data["alerts"][0]["signOfLife"], true);
  EXPECT_EQ(data["alerts"][0]["deadline"], "2027-02-07T07:30:00Z");
  EXPECT_EQ(data["alerts"][0]["open"], "turnstone alerts");
  EXPECT_FALSE(data["alerts"][0].contains("alertId"));
}

TEST(ComposeCloudEventTest, TakesBytesThatAreNoUtf8) {
  Envelope envelope = MailEnvelope();
  envelope.messages[0].set_reason("\xff\n\"");
  const Json event = Json::parse(ComposeCloudEvent(envelope));
  EXPECT_EQ(event["data"]["alerts"][0]["reason"], "\xef\xbf\xbd\n\"");
}

}  // namespace
}  // namespace turnstone
