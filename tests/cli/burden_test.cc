// The burden of alerts as the program tells it. The page is written by hand;
// source of the published figures: ANSI/ISA-18.2-2016, IEC 62682, Ancker 2017
// (BMC Med Inform Decis Mak 17:36). The layout is our own.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>
#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "clients/cli/render/burden_chart.h"
#include "clients/cli/render/burden_page.h"
#include "rules/measure/proto_time.h"
#include "tests/cli/fake_service.h"
#include "tests/cli/golden.h"
#include "tests/cli/program.h"
#include "tests/cli/samples.h"

namespace turnstone::cli {
namespace {

v1::Times Took(int count, int64_t median, int64_t ninetieth, int64_t longest) {
  v1::Times times;
  times.set_count(count);
  times.set_median(median);
  times.set_ninetieth_percentile(ninetieth);
  times.set_longest(longest);
  return times;
}

void AddPerson(v1::Burden& burden, const std::string& id, int alerts,
               int tellings, int received) {
  v1::PersonLoad& load = *burden.add_by_person();
  load.set_person(id);
  load.set_alerts(alerts);
  load.set_tellings(tellings);
  load.set_received(received);
}

void AddRule(v1::Burden& burden, const std::string& title, int alerts,
             int repeats, int without_action) {
  v1::RuleLoad& load = *burden.add_by_rule();
  load.set_title(title);
  load.set_alerts(alerts);
  load.set_repeats(repeats);
  load.set_without_action(without_action);
}

void AddDay(v1::Burden& burden, const std::string& day, int alerts) {
  burden.add_by_day()->set_day(day);
  burden.mutable_by_day()->rbegin()->set_alerts(alerts);
}

// Three and a half days, over the change to summer time.
v1::Burden Sample() {
  v1::Burden burden;
  burden.set_site("harbour-row");
  burden.set_time_zone("Europe/Dublin");
  *burden.mutable_from() = Stamp("2027-03-26T00:00:00Z");
  *burden.mutable_to() = Stamp("2027-03-30T23:00:00Z");
  *burden.mutable_now() = Stamp("2027-03-29T11:00:00Z");
  burden.set_days(83.0 / 24);
  burden.set_alerts(8);
  burden.set_repeats(3);
  burden.set_tellings(21);
  const std::vector<std::pair<v1::Priority, int>> shares = {
      {v1::PRIORITY_STAT, 1},
      {v1::PRIORITY_ASAP, 2},
      {v1::PRIORITY_URGENT, 3},
      {v1::PRIORITY_ROUTINE, 2}};
  for (const auto& [priority, alerts] : shares) {
    v1::PriorityShare& share = *burden.add_by_priority();
    share.set_priority(priority);
    share.set_alerts(alerts);
  }
  AddPerson(burden, "t.linnet", 6, 14, 3);
  AddPerson(burden, "r.sorrel", 4, 7, 2);
  AddPerson(burden, "m.teal", 0, 0, 2);
  AddRule(burden, "Visits missed in a row", 4, 3, 1);
  AddRule(burden, "Score above the programme's range", 3, 0, 1);
  AddRule(burden, "Self-harm item answered positively", 1, 0, 0);
  AddDay(burden, "2027-03-26", 2);
  AddDay(burden, "2027-03-27", 0);
  AddDay(burden, "2027-03-28", 1);
  AddDay(burden, "2027-03-29", 5);
  *burden.mutable_to_receive() = Took(7, 1200, 11400, 11400);
  *burden.mutable_to_close() = Took(3, 5400, 100800, 100800);
  burden.set_not_received(1);
  burden.set_open_over_24_hours(2);
  burden.set_without_action(2);
  burden.set_participants(5);
  burden.set_most_repeats(2);
  burden.set_raised_again_within_30_days(1);
  return burden;
}

TEST(BurdenPageTest, TellsWhatAlertsAskedOfPeople) {
  EXPECT_EQ(BurdenPage(Sample()), Golden("burden"));
}

TEST(BurdenPageTest, OfNothingPromisesNothing) {
  v1::Burden burden;
  burden.set_site("harbour-row");
  burden.set_time_zone("Europe/Dublin");
  *burden.mutable_from() = Stamp("2027-04-01T11:00:00Z");
  *burden.mutable_to() = Stamp("2027-04-02T11:00:00Z");
  EXPECT_EQ(BurdenPage(burden),
            "What alerts asked of people at harbour-row\n"
            "  From          Thu 1 Apr 2027 12:00 IST\n"
            "  To            Fri 2 Apr 2027 12:00 IST\n"
            "  Passed        0.0 days\n"
            "  Alerts        0 (- a day), of 0 participants\n"
            "  Tellings      0\n"
            "\n"
            "No alert was raised in this time\n"
            "  That alone does not show that nobody needed one.\n");
}

// 2027-01-04 is a Monday. 96 alerts are twice the widest bar, of 48 marks; one
// alert must still be seen.
TEST(BurdenChartTest, GathersWeeksAndKeepsBarsOnThePage) {
  v1::Burden burden;
  absl::CivilDay day(2027, 1, 4);
  for (int i = 0; i < 63; ++i, ++day) {
    AddDay(burden, absl::FormatCivilTime(day), i == 0 || i == 8 ? 48 : 0);
  }
  burden.mutable_by_day(1)->set_alerts(48);
  burden.mutable_by_day(15)->set_alerts(1);
  const std::vector<std::string> lines =
      absl::StrSplit(BurdenChart(burden), '\n');
  ASSERT_EQ(lines.size(), 11U);  // a heading, nine weeks, the end
  EXPECT_EQ(lines[0], "  WEEK FROM        ALERTS");
  EXPECT_EQ(lines[1], "  Mon 4 Jan 2027   96      " + std::string(48, '#'));
  EXPECT_EQ(lines[2], "  Mon 11 Jan 2027  48      " + std::string(24, '#'));
  EXPECT_EQ(lines[3], "  Mon 18 Jan 2027  1       #");
  EXPECT_EQ(lines[4], "  Mon 25 Jan 2027  0");
}

TEST(BurdenPageTest, StaysOnThePage) {
  const std::vector<std::string> lines =
      absl::StrSplit(BurdenPage(Sample()), '\n');
  for (const std::string& line : lines) EXPECT_LE(line.size(), 78U) << line;
}

class BurdenCommandTest : public testing::Test {
 protected:
  BurdenCommandTest() {
    service_.on_call = [this](const v1::GetOnCallRequest& request,
                              v1::OnCall& on_call) {
      EXPECT_EQ(request.site(), asked_site_);
      on_call.set_time_zone("Europe/Dublin");
      *on_call.mutable_at() = Stamp("2027-03-31T10:00:00Z");
      return grpc::Status::OK;
    };
    service_.burden = [this](const v1::GetBurdenRequest& request,
                             v1::Burden& burden) {
      asked_ = request;
      burden = Sample();
      return grpc::Status::OK;
    };
    program_.server = service_.address();
  }
  // "from to", in UTC.
  std::string Asked() const {
    const auto utc = [](const google::protobuf::Timestamp& time) {
      return absl::FormatTime("%Y-%m-%dT%H:%M:%SZ", FromProto(time),
                              absl::UTCTimeZone());
    };
    return absl::StrCat(utc(asked_.from()), " ", utc(asked_.to()));
  }

  FakeService service_;
  Program program_;
  std::string asked_site_;
  v1::GetBurdenRequest asked_;
};

TEST_F(BurdenCommandTest, AsksForTheLastThirtyDaysAndThisSecond) {
  const Outcome outcome = program_.Run({"burden"});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(outcome.out, BurdenPage(Sample()));
  EXPECT_EQ(Asked(), "2027-03-01T10:00:01Z 2027-03-31T10:00:01Z");
}

// The clocks in Dublin went forward on 28 March.
TEST_F(BurdenCommandTest, TakesDaysMomentsAndSpansOfTheSite) {
  asked_site_ = "harbour-row";
  const auto ask = [&](const std::string& from, const std::string& to) {
    const Outcome outcome = program_.Run(
        {"burden", "--site", "harbour-row", "--from", from, "--to", to});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    return Asked();
  };
  EXPECT_EQ(ask("2027-03-27", "2027-03-29"),
            "2027-03-27T00:00:00Z 2027-03-28T23:00:00Z");
  EXPECT_EQ(ask("2027-03-29 08:00", "2027-03-30T12:00:00Z"),
            "2027-03-29T07:00:00Z 2027-03-30T12:00:00Z");
  EXPECT_EQ(ask("7d", "2h"), "2027-03-24T10:00:00Z 2027-03-31T08:00:00Z");
}

TEST_F(BurdenCommandTest, SaysWhatToWriteInstead) {
  const Outcome outcome = program_.Run({"burden", "--from", "last week"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.err,
            "turnstone: --from is not a time;\n"
            "write a day such as 2027-02-06, a moment such as\n"
            "2027-02-06T09:00:00Z, or how long ago, such as 30d\n");
}

TEST_F(BurdenCommandTest, RefusesATimeThatEndsBeforeItBegins) {
  EXPECT_EQ(program_.Run({"burden", "--from", "2027-04-01"}).err,
            "turnstone: --from is not before now, the end of the time;\n"
            "write an earlier one, such as 30d\n");
  const Outcome outcome =
      program_.Run({"burden", "--from", "7d", "--to", "7d"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.err,
            "turnstone: --from is not before --to;\n"
            "write an earlier one, such as 30d\n");
}

TEST_F(BurdenCommandTest, GivesTheMessageToPrograms) {
  const Outcome outcome = program_.Run({"burden", "--json"});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_NE(outcome.out.find("\"openOver24Hours\":2"), std::string::npos)
      << outcome.out;
}

}  // namespace
}  // namespace turnstone::cli
