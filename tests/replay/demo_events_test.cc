// The events of the demonstration: with the same rules nothing changes, and
// what a replay raises is what the service raises.
#include <gmock/gmock.h>

#include <algorithm>
#include <fstream>
#include <string>
#include <tuple>
#include <vector>

#include "clients/cli/strict_json.h"
#include "rules/check/event_check.h"
#include "rules/measure/proto_time.h"
#include "tests/core/core_fixture.h"
#include "tests/replay/replay_fixture.h"

namespace turnstone {
namespace {

using testing::IsEmpty;

// In the order in which they are posted, each recorded when it happened or when
// the one before was. What the service refuses is not among them: a mistyped
// line, a form sent twice.
std::vector<std::pair<v1::Event, absl::Time>> DemoEvents(absl::Time first) {
  const turnstone::Setup shipped = ShippedSetup();
  std::vector<std::pair<v1::Event, absl::Time>> events;
  absl::Time recorded = first;
  for (const char* file : {"week01", "week02", "week03", "week04", "week05",
                           "week06", "week07", "week08", "week09", "week10",
                           "month01", "month03", "month04", "month06"}) {
    std::ifstream lines(std::string(TURNSTONE_SOURCE_DIR) + "/deploy/demo/" +
                        file + ".jsonl");
    std::string line;
    while (std::getline(lines, line)) {
      const auto event = cli::ParseEventLine(line);
      if (!event.ok()) continue;
      if (!CheckEventContent(*event, shipped.catalogue(),
                             absl::InfiniteFuture())
               .ok()) {
        continue;
      }
      const bool again = std::any_of(
          events.begin(), events.end(), [&event](const auto& earlier) {
            return earlier.first.event_id() == event->event_id() &&
                   earlier.first.source() == event->source();
          });
      if (again) continue;
      recorded = std::max(recorded, FromProto(event->effective_time()));
      events.emplace_back(*event, recorded);
    }
  }
  return events;
}

const absl::Time kFirst = At("2027-01-04T10:00:00Z");

TEST_F(ReplayTest, SameRulesChangeNothing) {
  events_ = DemoEvents(kFirst);
  ASSERT_GT(events_.size(), 200U);
  const v1::Configuration shipped = ShippedConfiguration();
  const Difference difference = Compare(shipped, shipped);
  EXPECT_THAT(difference.added, IsEmpty());
  EXPECT_THAT(difference.lost, IsEmpty());
  EXPECT_THAT(difference.changed, IsEmpty());
  EXPECT_EQ(difference.unread_after.events, 0);
  for (const auto& [rule, counts] : difference.rules) {
    EXPECT_EQ(counts.before, counts.after) << rule;
  }
}

// Two lanes: the same instruments under other names.
TEST_F(ReplayTest, SameRulesChangeNothingWhereEachSideReadsForItself) {
  events_ = DemoEvents(kFirst);
  const v1::Configuration shipped = ShippedConfiguration();
  v1::Configuration renamed = shipped;
  for (v1::Instrument& instrument : *renamed.mutable_instrument()) {
    instrument.set_name(instrument.name() + " (new print)");
  }
  const Difference difference = Compare(shipped, renamed);
  EXPECT_THAT(difference.added, IsEmpty());
  EXPECT_THAT(difference.lost, IsEmpty());
  EXPECT_THAT(difference.changed, IsEmpty());
  EXPECT_GT(difference.rules.size(), 10U);
}

// A reason: who, by which rule, about what, when, how sure, how pressing.
using Reason = std::tuple<std::string, std::string, std::string, std::string,
                          int64_t, Truth, v1::Priority>;

class DemoInService : public CoreFixture {};

// Source: the service itself, BrokeRaises and BrokeDeterministic.
TEST_F(DemoInService, RaisesWhatTheReplayRaises) {
  const auto events = DemoEvents(kFirst);
  const turnstone::Setup shipped = ShippedSetup();
  const turnstone::Setup silent(OnlyRules({}), "");
  Replay replay(silent, shipped, kReplaySite, {});
  for (const auto& [event, recorded] : events) {
    ASSERT_TRUE(replay.Take(event, recorded).ok());
    // Asked late, as after downtime, is asked all the same.
    clock_.MoveTo(recorded);
    AskDue();
    Submit(event);
  }
  std::vector<Reason> replayed;
  for (const Verdict& verdict : replay.Finish().added) {
    replayed.emplace_back(verdict.participant, verdict.rule,
                          verdict.event.event_id, verdict.corrected_by,
                          absl::ToUnixSeconds(verdict.due), verdict.truth,
                          verdict.priority);
  }
  std::vector<Reason> served;
  const auto alerts = core_->AlertsAfter("", 0, 1000, SiteScope::All()).value();
  for (const v1::Alert& alert : alerts) {
    for (const v1::Occurrence& reason : alert.occurrence()) {
      served.emplace_back(alert.participant(), alert.rule().rule(),
                          reason.event_id(), reason.corrected_by(),
                          reason.due().seconds(), reason.truth(),
                          reason.priority());
    }
  }
  std::sort(replayed.begin(), replayed.end());
  std::sort(served.begin(), served.end());
  EXPECT_GT(served.size(), 50U);
  EXPECT_EQ(replayed, served);
}

}  // namespace
}  // namespace turnstone
