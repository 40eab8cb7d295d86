// Events that come over the wire from a sender that means harm or is at fault:
// ids with letters that deceive, times that nobody lives through. Sources:
// Unicode 15 section 23.2 and UTR 36 (what deceives), timestamp.proto (years 1
// to 9999); the bounds of 2000 and five minutes are event.proto's.
#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <gtest/gtest.h>

#include <limits>
#include <string>
#include <vector>

#include "rules/check/event_check.h"
#include "rules/check/load.h"
#include "tests/check/good_files.h"

namespace turnstone {
namespace {

constexpr int64_t kClock = 1804500000;  // 2027-03-08 10:00 UTC

const Setup& HarbourRow() {
  static const Setup setup(
      LoadConfiguration(GoodFiles(), {.complete = true}).configuration.value(),
      "digest");
  return setup;
}

v1::Event Visit() {
  v1::Event event;
  event.set_source("urn:example:intake");
  event.set_event_id("e-1");
  event.set_site("harbour-row");
  event.set_participant("p-7");
  event.mutable_effective_time()->set_seconds(kClock);
  event.mutable_visit_planned()->set_visit("visit-3");
  event.mutable_visit_planned()->mutable_planned_start()->set_seconds(kClock);
  return event;
}

absl::Status Checked(const v1::Event& event) {
  return CheckEvent(event, HarbourRow(), absl::FromUnixSeconds(kClock));
}

struct Deceit {
  std::string name;
  std::string text;
};

const std::vector<Deceit> kDeceits = {
    {"Escape", "p\x1b[2J"},
    {"Nul", std::string("p\0q", 3)},
    {"Newline", "p\nq"},
    {"CarriageReturn", "p\r\nBcc: everybody@example.org"},
    {"Override", "p\xe2\x80\xae"},
    {"Isolate", "p\xe2\x81\xa6"},
    {"ZeroWidth", "p\xe2\x80\x8b"},
    {"Joiner", "p\xe2\x80\x8d"},
    {"SoftHyphen", "p\xc2\xad"},
    {"ByteOrderMark", "\xef\xbb\xbfp"},
    {"CyrillicThatLooksLatin", "\xd1\x80-7"},
    {"FullWidth", "\xef\xbc\x90"},
    {"NotUtf8", "p\xff"},
    {"OverlongSlash", "p\xc0\xaf"},
    {"PathUpwards", "../p"},
    {"Quote", "p' OR '1'='1"},
    {"Megabyte", std::string(size_t{1} << 20, 'p')},
};

class DeceitTest : public testing::TestWithParam<Deceit> {};

TEST_P(DeceitTest, IsNoIdAndIsNotRepeated) {
  using Set = void (*)(v1::Event&, const std::string&);
  const std::vector<std::pair<std::string, Set>> ids = {
      {"eventId",
       [](v1::Event& e, const std::string& id) { e.set_event_id(id); }},
      {"participant",
       [](v1::Event& e, const std::string& id) { e.set_participant(id); }},
      {"visitPlanned.visit",
       [](v1::Event& e, const std::string& id) {
         e.mutable_visit_planned()->set_visit(id);
       }},
      {"visitPlanned.clinician",
       [](v1::Event& e, const std::string& id) {
         e.mutable_visit_planned()->set_clinician(id);
       }},
      {"correction.correctedEventId",
       [](v1::Event& e, const std::string& id) {
         e.mutable_correction()->set_corrected_source("urn:example:intake");
         e.mutable_correction()->set_corrected_event_id(id);
       }},
  };
  for (const auto& [field, set] : ids) {
    v1::Event event = Visit();
    set(event, GetParam().text);
    const absl::Status status = Checked(event);
    ASSERT_EQ(status.code(), absl::StatusCode::kInvalidArgument) << field;
    const std::string message(status.message());
    EXPECT_TRUE(absl::StartsWith(message, field)) << message;
    EXPECT_TRUE(absl::StrContains(message, "A-Z a-z 0-9 . _ : or -"))
        << message;
    EXPECT_FALSE(absl::StrContains(message, GetParam().text));
  }
  // A site and an instrument are looked up, not spelt.
  v1::Event event = Visit();
  event.set_site(GetParam().text);
  EXPECT_EQ(Checked(event).code(), absl::StatusCode::kNotFound);
  event = Visit();
  event.mutable_screening_result()->set_instrument(GetParam().text);
  const std::string message(Checked(event).message());
  EXPECT_TRUE(absl::StrContains(message, "instrument is not known")) << message;
  EXPECT_FALSE(absl::StrContains(message, GetParam().text));
}

INSTANTIATE_TEST_SUITE_P(All, DeceitTest, testing::ValuesIn(kDeceits),
                         [](const auto& deceit) { return deceit.param.name; });

struct Moment {
  std::string name;
  int64_t seconds;
  int nanos;
  // Empty: taken.
  std::string advice;
};

constexpr int64_t kMost = std::numeric_limits<int64_t>::max();
constexpr int64_t kLeast = std::numeric_limits<int64_t>::min();
const std::string kCalendar = "send seconds for a year from 1 to 9999";
const std::string kSince = "send when it happened, from the year 2000 on";
const std::string kClocks = "compare the sender's clock with the service's";

const std::vector<Moment> kMoments = {
    {"Now", kClock, 0, ""},
    {"FirstOf2000", 946684800, 0, ""},
    {"ClockAFewMinutesAhead", kClock + 300, 0, ""},
    {"ClockFurtherAhead", kClock + 300, 1, kClocks},
    {"EndOf32Bits", 2147483648, 0, kClocks},  // 2038-01-19 03:14:08
    {"EndOfTheCalendar", 253402300799, 999999999, kClocks},  // 9999-12-31
    {"YearTenThousand", 253402300800, 0, kCalendar},
    {"Farthest", kMost, 0, kCalendar},
    {"Epoch", 0, 0, kSince},
    {"BeforeTheEpoch", -1, 0, kSince},     // 1969
    {"YearOne", -62135596800, 0, kSince},  // 0001-01-01
    {"YearZero", -62135596801, 0, kCalendar},
    {"Earliest", kLeast, 0, kCalendar},
    {"NanosNegative", kClock, -1, kCalendar},
    {"NanosASecond", kClock, 1000000000, kCalendar},
    {"NanosMost", kClock, std::numeric_limits<int>::max(), kCalendar},
};

class MomentTest : public testing::TestWithParam<Moment> {};

TEST_P(MomentTest, IsTakenOrRefusedWithAdvice) {
  v1::Event event = Visit();
  event.clear_payload();
  event.mutable_practice_report();
  event.mutable_effective_time()->set_seconds(GetParam().seconds);
  event.mutable_effective_time()->set_nanos(GetParam().nanos);
  const absl::Status status = Checked(event);
  EXPECT_EQ(status.ok(), GetParam().advice.empty()) << status;
  const std::string message(status.message());
  EXPECT_TRUE(absl::StrContains(message, GetParam().advice)) << message;
}

// A plan may lie ahead, but not out of the world.
TEST_P(MomentTest, IsPlannedWithinTwoYears) {
  v1::Event event = Visit();
  auto& start = *event.mutable_visit_planned()->mutable_planned_start();
  start.set_seconds(GetParam().seconds);
  start.set_nanos(GetParam().nanos);
  const absl::Status status = Checked(event);
  const int64_t away = GetParam().seconds / 86400 - kClock / 86400;
  const bool near = away > -300 && away < 700 && GetParam().nanos >= 0 &&
                    GetParam().nanos < 1000000000;
  EXPECT_EQ(status.ok(), near) << status;
  if (!near) {
    EXPECT_TRUE(absl::StartsWith(std::string(status.message()),
                                 "visitPlanned.plannedStart "));
    EXPECT_TRUE(absl::StrContains(std::string(status.message()), "; send "));
  }
}

INSTANTIATE_TEST_SUITE_P(All, MomentTest, testing::ValuesIn(kMoments),
                         [](const auto& moment) { return moment.param.name; });

// A list is no longer than the questions there are.
TEST(HostileEvent, TenThousandAnswersAreRefused) {
  v1::Event event = Visit();
  v1::ScreeningResult& form = *event.mutable_screening_result();
  form.set_instrument("mood-3");
  for (int i = 0; i < 10000; ++i) {
    v1::ItemAnswer& answer = *form.add_answers();
    answer.set_question(absl::StrCat("m", i % 3 + 1));
    answer.set_answer("always");
  }
  EXPECT_EQ(Checked(event).code(), absl::StatusCode::kInvalidArgument);
}

}  // namespace
}  // namespace turnstone
