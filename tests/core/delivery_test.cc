// Messages from the moment they are owed to their end. The people, channels
// and ladders are those of the shipped site: on Monday 4 January 2027 m.rowan
// is on duty, reached by two channels; every clinician is reached by one.
#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <optional>

#include "rules/measure/proto_time.h"
#include "service/core/owed.h"
#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::UnorderedElementsAre;

const ChannelKey kMail{"pebble-bay", "mail"};

absl::Status Taken() { return absl::OkStatus(); }
absl::Status Later() { return absl::UnavailableError("451 try again"); }
absl::Status Refused() {
  return absl::InvalidArgumentError("550 no such user");
}

class DeliveryTest : public CoreFixture {
 protected:
  // Stat: every clinician and m.rowan are told at once.
  v1::Event SelfHarm(const std::string& id) {
    return Phq9Total(id, clock_.Now(), 12, 1);
  }
  std::optional<Envelope> Next(const ChannelKey& channel = kMail) {
    const auto envelope = core_->NextEnvelope(channel);
    EXPECT_TRUE(envelope.ok()) << envelope.status();
    return envelope.value_or(std::nullopt);
  }
  void Record(const Envelope& envelope, const absl::Status& result) {
    core_->StageDelivery(envelope, result);
    EXPECT_TRUE(core_->Commit().ok());
  }
  // Everything the channel has to send now, in that order, with that result.
  std::vector<std::string> SendAll(const absl::Status& result,
                                   const ChannelKey& channel = kMail) {
    std::vector<std::string> keys;
    while (const std::optional<Envelope> envelope = Next(channel)) {
      keys.push_back(envelope->key);
      Record(*envelope, result);
    }
    return keys;
  }
  // "key status" of every message, by key.
  std::vector<std::string> Messages() {
    v1::ListOutboxRequest request;
    for (int status = 1; status <= 4; ++status) {
      request.add_status(static_cast<v1::MessageStatus>(status));
    }
    request.set_page_size(500);
    const v1::Outbox outbox =
        core_->ListOutbox(request, SiteScope::All()).value();
    std::vector<std::string> lines;
    for (const v1::OwedMessage& message : outbox.message()) {
      lines.push_back(
          absl::StrCat(message.key(), " ",
                       v1::MessageStatus_Name(message.status()).substr(15)));
    }
    std::sort(lines.begin(), lines.end());
    return lines;
  }
  v1::ChannelState State() {
    const v1::Outbox outbox = core_->ListOutbox({}, SiteScope::All()).value();
    for (const v1::ChannelState& state : outbox.channel()) {
      if (state.channel() == kMail.channel) return state;
    }
    return {};
  }
};

// The channel other than mail.
ChannelKey OtherChannel() {
  const v1::Configuration shipped = WithoutSignOfLife();
  for (const v1::Channel& channel : shipped.site(0).channel()) {
    if (channel.id() != "mail") return {"pebble-bay", channel.id()};
  }
  return {};
}

TEST_F(DeliveryTest, OwedWithTheAlertOrNotAtAll) {
  ASSERT_TRUE(core_->StageSubmit(SelfHarm("e1"), by_).ok());
  Start(std::nullopt);  // as after a crash before the commit
  EXPECT_THAT(Messages(), IsEmpty());
  Submit(SelfHarm("e1"));
  Start(std::nullopt);
  EXPECT_THAT(
      Messages(),
      UnorderedElementsAre(
          "A-1/1/a.fennel/mail OWED", "A-1/1/m.rowan/mail OWED",
          absl::StrCat("A-1/1/m.rowan/", OtherChannel().channel, " OWED"),
          "A-1/1/r.sorrel/mail OWED"));
}

TEST_F(DeliveryTest, AMessageTellsNothingOfTheParticipant) {
  v1::Event event = SelfHarm("e1");
  event.set_participant("quite-a-name");
  Submit(event);
  const std::optional<Envelope> envelope = Next();
  ASSERT_TRUE(envelope.has_value());
  EXPECT_EQ(envelope->messages.size(), 1);
  const std::string text = envelope->messages[0].DebugString();
  EXPECT_THAT(text, testing::Not(HasSubstr("quite-a-name")));
  EXPECT_THAT(text, testing::Not(HasSubstr("self-harm")));
  EXPECT_EQ(envelope->address, "a.fennel@pebble-bay.example");
  EXPECT_EQ(envelope->messages[0].priority(), v1::PRIORITY_STAT);
  // The second rung of the site's ladder for stat: 15 minutes on.
  EXPECT_EQ(FromProto(envelope->messages[0].deadline()),
            clock_.Now() + absl::Minutes(15));
}

TEST_F(DeliveryTest, SentOnceAndOnRecord) {
  Submit(SelfHarm("e1"));
  EXPECT_THAT(SendAll(Taken()),
              ElementsAre("A-1/1/a.fennel/mail", "A-1/1/m.rowan/mail",
                          "A-1/1/r.sorrel/mail"));
  EXPECT_THAT(SendAll(Taken()), IsEmpty());
  Start(std::nullopt);
  EXPECT_THAT(SendAll(Taken()), IsEmpty());
  EXPECT_THAT(SendAll(Taken(), OtherChannel()).size(), 1);
}

TEST_F(DeliveryTest, WithoutARecordItIsSentAgainWithTheSameKey) {
  Submit(SelfHarm("e1"));
  const std::string key = Next()->key;
  core_->StageDelivery(*Next(), Taken());
  Start(std::nullopt);  // as after a crash before the commit
  EXPECT_EQ(Next()->key, key);
}

TEST_F(DeliveryTest, WhatFailedIsTriedAgainAfterAPauseThatGrows) {
  Submit(SelfHarm("e1"));
  const Envelope envelope = *Next();
  Record(envelope, Later());
  // 30 s, a fifth more or less.
  const absl::Time again = core_->NextSending().value();
  EXPECT_EQ(again, clock_.Now());  // the others are still to be sent
  SendAll(Taken());
  SendAll(Taken(), OtherChannel());
  const absl::Duration first = core_->NextSending().value() - clock_.Now();
  EXPECT_GE(first, absl::Seconds(24));
  EXPECT_LE(first, absl::Seconds(36));
  clock_.MoveTo(core_->NextSending().value());
  ASSERT_EQ(Next()->key, envelope.key);
  EXPECT_EQ(Next()->messages[0].last_error(), "451 try again");
  Record(*Next(), Later());
  const absl::Duration second = core_->NextSending().value() - clock_.Now();
  EXPECT_GE(second, absl::Seconds(48));
  EXPECT_LE(second, absl::Seconds(72));
}

TEST_F(DeliveryTest, AChannelThatKeepsFailingRestsAndIsTriedAgain) {
  Submit(SelfHarm("e1"));
  EXPECT_EQ(SendAll(Later()).size(), 3);
  EXPECT_EQ(State().failures_in_a_row(), 3);
  EXPECT_EQ(State().owed(), 3);
  EXPECT_EQ(FromProto(State().rests_until()), clock_.Now() + absl::Minutes(1));
  clock_.MoveTo(clock_.Now() + absl::Seconds(59));
  EXPECT_FALSE(Next().has_value());
  clock_.MoveTo(clock_.Now() + absl::Seconds(1));
  ASSERT_TRUE(Next().has_value());
  Record(*Next(), Taken());
  EXPECT_EQ(State().failures_in_a_row(), 0);
}

TEST_F(DeliveryTest, ReceivingWithdrawsWhatIsOwed) {
  Submit(SelfHarm("e1"));
  const Envelope under_way = *Next();
  ASSERT_TRUE(Work("receive {}", person_).ok());
  EXPECT_FALSE(Next().has_value());
  EXPECT_THAT(Messages(), Each(HasSubstr("WITHDRAWN")));
  // It had left already: what became of it is told as it was.
  Record(under_way, Taken());
  EXPECT_THAT(Messages(),
              testing::Contains(absl::StrCat(under_way.key, " SENT")));
}

TEST_F(DeliveryTest, WhatWasWithdrawnUnderWayAndFailedIsNotTriedAgain) {
  Submit(SelfHarm("e1"));
  const Envelope under_way = *Next();
  ASSERT_TRUE(Work("receive {}", person_).ok());
  Record(under_way, Refused());
  EXPECT_THAT(Messages(), Each(HasSubstr("WITHDRAWN")));
}

TEST_F(DeliveryTest, WhereNobodyCanBeReachedTheNextRungIsReachedAtOnce) {
  Submit(SelfHarm("e1"));
  SendAll(Refused(), OtherChannel());
  EXPECT_EQ(Alert("A-1").escalation().tellings(), 1);
  // With the last one of the rung the ladder goes on: two leads are told.
  EXPECT_THAT(SendAll(Refused()),
              ElementsAre("A-1/1/a.fennel/mail", "A-1/1/m.rowan/mail",
                          "A-1/1/r.sorrel/mail", "A-1/2/m.rowan/mail",
                          "A-1/2/t.linnet/mail"));
  EXPECT_EQ(Alert("A-1").escalation().tellings(), 2);
  EXPECT_THAT(Alert("A-1").history().rbegin()->text(),
              HasSubstr("at once, for no message of the rung before could be"));
  SendAll(Refused(), OtherChannel());
  EXPECT_EQ(Alert("A-1").escalation().tellings(), 3);
  // The last rung repeats in its own time only.
  SendAll(Refused());
  SendAll(Refused(), OtherChannel());
  EXPECT_EQ(Alert("A-1").escalation().tellings(), 3);
  AskDue();
  EXPECT_GT(core_->NextDue().value(), clock_.Now());
}

TEST_F(DeliveryTest, OneThatGotThroughIsEnough) {
  Submit(SelfHarm("e1"));
  SendAll(Taken(), OtherChannel());
  SendAll(Refused());
  EXPECT_EQ(Alert("A-1").escalation().tellings(), 1);
}

TEST_F(DeliveryTest, ANewerTellingTakesThePlaceOfWhatIsStillOwed) {
  Submit(SelfHarm("e1"));
  // 15 minutes on both leads are told; m.rowan was owed one already.
  MoveTo(clock_.Now() + absl::Minutes(15));
  EXPECT_THAT(Messages(),
              testing::IsSupersetOf(
                  {"A-1/1/m.rowan/mail WITHDRAWN", "A-1/1/r.sorrel/mail OWED",
                   "A-1/2/m.rowan/mail OWED", "A-1/2/t.linnet/mail OWED"}));
}

TEST_F(DeliveryTest, OutboxOfAnUnknownAlertIsRefused) {
  v1::ListOutboxRequest request;
  request.set_alert_id("A-999");
  EXPECT_TRUE(
      absl::IsNotFound(core_->ListOutbox(request, SiteScope::All()).status()));
}

TEST_F(DeliveryTest, AfterADayOfTryingItIsGivenUp) {
  v1::OwedMessage message;
  message.set_key("A-1/1/x/mail");
  message.set_status(v1::MESSAGE_STATUS_OWED);
  absl::Time now = At("2027-01-04T10:00:00Z");
  TakeResult(Later(), now, message);
  TakeResult(Later(), now + kTryFor - absl::Seconds(1), message);
  EXPECT_EQ(message.status(), v1::MESSAGE_STATUS_OWED);
  TakeResult(Later(), now + kTryFor, message);
  EXPECT_EQ(message.status(), v1::MESSAGE_STATUS_GIVEN_UP);
  EXPECT_EQ(message.attempts(), 3);
  EXPECT_FALSE(message.has_next_attempt_at());
}

TEST_F(DeliveryTest, WhoHasLeftTheTeamIsReachedByNobody) {
  Submit(SelfHarm("e1"));
  v1::Configuration configuration = WithoutSignOfLife();
  auto& people = *configuration.mutable_site(0)->mutable_person();
  for (int i = people.size() - 1; i >= 0; --i) {
    if (people.Get(i).id() == "a.fennel") people.DeleteSubrange(i, 1);
  }
  ASSERT_TRUE(core_->Activate(configuration).ok());
  const Envelope envelope = *Next();
  EXPECT_EQ(envelope.person, "a.fennel");
  EXPECT_TRUE(envelope.address.empty());
  EXPECT_EQ(envelope.channel.by_case(), v1::Channel::BY_NOT_SET);
  // Whatever comes of it says nothing of the channel.
  Record(envelope, Later());
  EXPECT_EQ(State().failures_in_a_row(), 0);
  Record(*Next(), Later());
  EXPECT_EQ(State().failures_in_a_row(), 1);
}

TEST_F(DeliveryTest, RoutineOnesComeInOneMessageADay) {
  for (const char* participant : {"p1", "p2"}) {
    v1::Event below =
        Phq9Total(absl::StrCat("e-", participant), clock_.Now(), 5);
    below.set_participant(participant);
    Submit(below);
  }
  ASSERT_THAT(Alerts(),
              ElementsAre("A-1 score-below-range", "A-2 score-below-range"));
  EXPECT_FALSE(Next().has_value());
  // a.fennel chose 08:30; for r.sorrel it is when the working day begins.
  MoveTo(At("2027-01-05T08:30:00Z"));
  ASSERT_TRUE(Next().has_value());
  EXPECT_EQ(Next()->key, "daily/2027-01-05/a.fennel/mail");
  EXPECT_EQ(Next()->messages.size(), 2);
  Record(*Next(), Later());
  EXPECT_FALSE(Next().has_value());
  MoveTo(At("2027-01-05T09:00:00Z"));
  EXPECT_THAT(SendAll(Taken()), ElementsAre("daily/2027-01-05/a.fennel/mail",
                                            "daily/2027-01-05/r.sorrel/mail"));
  EXPECT_THAT(Messages(), Each(HasSubstr("SENT")));
}

TEST_F(DeliveryTest, ADailyMessageThatFailedStaysWhole) {
  for (const char* participant : {"p1", "p2"}) {
    v1::Event below =
        Phq9Total(absl::StrCat("e-", participant), clock_.Now(), 5);
    below.set_participant(participant);
    Submit(below);
  }
  MoveTo(At("2027-01-05T08:30:00Z"));
  Record(*Next(), Later());
  // The pauses of the two differ; the sooner one takes the other along.
  clock_.MoveTo(core_->NextSending().value());
  ASSERT_TRUE(Next().has_value());
  EXPECT_EQ(Next()->key, "daily/2027-01-05/a.fennel/mail");
  EXPECT_EQ(Next()->messages.size(), 2);
}

TEST_F(DeliveryTest, ARungThatNoMessageReachesIsPassedAtOnce) {
  v1::Configuration configuration = WithoutSignOfLife();
  for (v1::Person& person : *configuration.mutable_site(0)->mutable_person()) {
    // All whom the first rung for stat tells.
    if (person.role() == "clinician" || person.id() == "m.rowan") {
      person.clear_reach();
    }
  }
  ASSERT_TRUE(core_->Activate(configuration).ok());
  Submit(SelfHarm("e1"));
  EXPECT_EQ(Alert("A-1").escalation().tellings(), 2);
  EXPECT_THAT(Alert("A-1").history(1).text(),
              HasSubstr("no message can reach any of them"));
  EXPECT_THAT(Messages(), testing::Contains("A-1/2/t.linnet/mail OWED"));
}

TEST_F(DeliveryTest, AMessageOfYesterdayIsNotMixedIntoThatOfToday) {
  Submit(Phq9Total("e1", clock_.Now(), 5));
  MoveTo(At("2027-01-05T08:30:00Z"));
  Record(*Next(), Later());
  MoveTo(At("2027-01-05T10:00:00Z"));
  v1::Event below = Phq9Total("e2", clock_.Now(), 5);
  below.set_participant("p2");
  Submit(below);
  MoveTo(At("2027-01-06T08:30:00Z"));
  ASSERT_EQ(Next()->key, "daily/2027-01-05/a.fennel/mail");
  EXPECT_EQ(Next()->messages.size(), 1);
  Record(*Next(), Taken());
  EXPECT_EQ(Next()->key, "daily/2027-01-05/r.sorrel/mail");
  Record(*Next(), Taken());
  ASSERT_TRUE(Next().has_value());
  EXPECT_EQ(Next()->key, "daily/2027-01-06/a.fennel/mail");
  EXPECT_EQ(Next()->messages[0].alert_id(), "A-2");
}

}  // namespace
}  // namespace turnstone
