// Why an alert exists, and why a rule said nothing. Whole pages against texts
// written by hand; the layout is our own. Source: explain.proto.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tests/cli/fake_service.h"
#include "tests/cli/golden.h"
#include "tests/cli/program.h"
#include "tests/cli/samples.h"

namespace turnstone::cli {
namespace {

using testing::HasSubstr;
using testing::Not;

v1::RuleOutcome Says(v1::Outcome said, const std::string& rule,
                     const std::string& title, const std::string& why) {
  v1::RuleOutcome outcome;
  outcome.set_rule(rule);
  outcome.set_rule_version(2);
  outcome.set_title(title);
  outcome.set_outcome(said);
  outcome.set_why(why);
  return outcome;
}

v1::AlertExplanation ToldExplanation() {
  v1::AlertExplanation told;
  *told.mutable_alert() = ToldAlert();
  told.set_event("PHQ-9 18 to 21; self-harm item positive");
  const auto add = [&told](v1::Outcome said, const std::string& rule,
                           const std::string& title,
                           const std::string& why) -> v1::RuleOutcome& {
    return *told.add_outcome() = Says(said, rule, title, why);
  };
  add(v1::OUTCOME_DID_NOT_RAISE, "harbour-below", "Below the range",
      "The PHQ-9 total lies in 18 to 21, which is not 9 or less.");
  add(v1::OUTCOME_NOT_ASKED, "harbour-visits", "Two missed visits",
      "It is asked when the outcome of a visit comes in.");
  add(v1::OUTCOME_RAISED_FOR_REVIEW, "harbour-above", "Above the range",
      "To be checked by a person, information is missing: the PHQ-9 total lies "
      "in 18 to 21.")
      .set_priority(v1::PRIORITY_URGENT);
  v1::RuleOutcome& own =
      add(v1::OUTCOME_RAISED, "self-harm-positive",
          "Self-harm item answered above zero",
          "The self-harm item of the PHQ-9 scores at least 1 point.");
  own.set_priority(v1::PRIORITY_STAT);
  *own.mutable_trace() = told.alert().occurrence(0).trace();
  *add(v1::OUTCOME_NOT_YET, "harbour-after", "Nobody has talked about it",
       "It is asked 1 working day after a PHQ-9.")
       .mutable_due() = Stamp("2027-03-04T17:00:00Z");
  *add(v1::OUTCOME_WAITS, "harbour-offer", "In range and willing",
       "Information is missing.")
       .mutable_due() = Stamp("2027-03-05T17:00:00Z");
  add(v1::OUTCOME_RAISED, "harbour-total",
      "The total is not what the sender reckoned",
      "The reported total cannot come from the answers.")
      .set_priority(v1::PRIORITY_ROUTINE);
  add(v1::OUTCOME_NOT_ASKED, "harbour-practice", "Practice out of reach",
      "It is asked when a practice report comes in.");
  return told;
}

v1::ConditionTrace Saw(const std::string& condition, v1::Truth truth,
                       const std::string& text) {
  v1::ConditionTrace trace;
  trace.set_condition(condition);
  trace.set_truth(truth);
  trace.set_text(text);
  return trace;
}

v1::RuleExplanation ToldSilence() {
  v1::RuleExplanation told;
  told.set_site("harbour-row");
  told.set_participant("P-0042");
  told.set_time_zone("Europe/Dublin");
  told.set_caution("Not a diagnosis and not an emergency service.");
  told.set_event("PHQ-9 9 (mild)");
  *told.mutable_event_time() = Stamp("2027-02-03T10:00:00Z");
  told.set_asks(
      "asked when a PHQ-9 comes in; raised when the PHQ-9 total is 10 to 19 "
      "and the participant is not enrolled");
  v1::RuleOutcome& outcome = *told.mutable_outcome();
  outcome = Says(v1::OUTCOME_DID_NOT_RAISE, "harbour-enter",
                 "In range, and not enrolled",
                 "The PHQ-9 total is 9 (mild), which is not 10 to 19.");
  outcome.set_rule_version(3);
  v1::ConditionTrace& trace = *outcome.mutable_trace();
  trace = Saw("", v1::TRUTH_FALSE, "all of");
  *trace.add_part() = Saw("score", v1::TRUTH_FALSE,
                          "the PHQ-9 total is 9 (mild), which is not 10 to 19");
  trace.mutable_part(0)->add_setting("lower = 10 (rule set)");
  *trace.add_part() = Saw("", v1::TRUTH_FALSE, "not");
  *trace.mutable_part(1)->add_part() =
      Saw("enrolled", v1::TRUTH_TRUE, "in the programme since 4 Jan 2027");
  *trace.add_part() =
      Saw("willing", v1::TRUTH_TRUE, "the participant is willing");
  told.add_change("if PHQ-9 of 3 Feb had item 3 at 2 instead of 1");
  told.add_change("if the enrolment of 4 Jan had not been on record");
  told.set_why_then("The PHQ-9 total is 10 (moderate), which is 10 to 19.");
  return told;
}

class Why : public testing::Test {
 protected:
  Why() {
    program_.server = service_.address();
    service_.why = [this](const v1::ExplainAlertRequest& request,
                          v1::AlertExplanation& explanation) {
      asked_alert_ = request;
      explanation = told_;
      return grpc::Status::OK;
    };
    service_.why_not = [this](const v1::ExplainRuleRequest& request,
                              v1::RuleExplanation& explanation) {
      asked_rule_ = request;
      explanation = silence_;
      return grpc::Status::OK;
    };
  }
  std::string Page(const std::vector<std::string>& words) {
    const Outcome outcome = program_.Run(words);
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    return outcome.out;
  }
  std::string WhyNot() {
    return Page({"participant", "P-0042", "--why-not", "harbour-enter"});
  }

  Program program_;
  FakeService service_;
  v1::AlertExplanation told_ = ToldExplanation();
  v1::RuleExplanation silence_ = ToldSilence();
  v1::ExplainAlertRequest asked_alert_;
  v1::ExplainRuleRequest asked_rule_;
};

TEST_F(Why, IsASentenceUnlessMoreIsAskedFor) {
  EXPECT_EQ(Page({"alert", "A-17", "--why"}), Golden("why_sentence"));
  EXPECT_EQ(Page({"alert", "--why", "A-17"}), Golden("why_sentence"));
  EXPECT_EQ(asked_alert_.alert_id(), "A-17");
  EXPECT_EQ(asked_alert_.occurrence(), 0);
}

TEST_F(Why, ShowsTheRuleConditionByCondition) {
  EXPECT_EQ(Page({"alert", "A-17", "--why=rule"}), Golden("why_rule"));
}

TEST_F(Why, ShowsEveryOtherRuleThoseThatRaisedFirst) {
  *told_.mutable_alert()->mutable_occurrence(0)->mutable_no_longer_since() =
      Stamp("2027-03-04T08:00:00Z");
  *told_.add_outcome_now() =
      Says(v1::OUTCOME_NOT_ASKED, "self-harm-positive",
           "Self-harm item answered above zero",
           "A correction withdrew the event, so nothing is asked of it.");
  EXPECT_EQ(Page({"alert", "A-17", "--why=all"}), Golden("why_all"));
}

// Whoever reads but the sentence must not act on what no longer holds.
TEST_F(Why, SaysInTheSentenceTooThatItIsOtherwiseNow) {
  *told_.add_outcome_now() =
      Says(v1::OUTCOME_DID_NOT_RAISE, "self-harm-positive", "", "It is 0.");
  EXPECT_THAT(Page({"alert", "A-17", "--why"}),
              HasSubstr("the rules in force now: did not raise. It is 0.\n"));
}

TEST_F(Why, CountsReasonsFromOne) {
  told_.set_occurrence(1);
  const std::string page =
      Page({"alert", "A-17", "--why", "--occurrence", "2"});
  EXPECT_EQ(asked_alert_.occurrence(), 1);
  EXPECT_THAT(page, HasSubstr("reason 2 of 2"));
  const Outcome none =
      program_.Run({"alert", "A-17", "--why", "--occurrence", "0"});
  EXPECT_EQ(none.code, 2);
  EXPECT_THAT(none.err, HasSubstr("at least 1"));
  EXPECT_EQ(program_.Run({"alert", "A-17", "--occurrence", "1"}).code, 2)
      << "without --why it would be passed over in silence";
}

TEST_F(Why, NamesTheDepthsWhereOneIsMistyped) {
  const Outcome outcome = program_.Run({"alert", "A-17", "--why=everything"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_THAT(outcome.err, HasSubstr("write --why, --why=rule or --why=all"));
}

TEST_F(Why, GoesToProgramsWhole) {
  const std::string json = Page({"alert", "A-17", "--why", "--json"});
  EXPECT_THAT(json, HasSubstr("\"outcome\":\"OUTCOME_RAISED_FOR_REVIEW\""));
  EXPECT_THAT(Page({"participant", "P-0042", "--why-not", "x", "--json"}),
              HasSubstr("\"whyThen\":"));
}

TEST_F(Why, ShowsWhatKeptARuleSilentAndWhatItWouldHaveTaken) {
  EXPECT_EQ(Page({"participant", "P-0042", "--site", "harbour-row", "--why-not",
                  "harbour-enter"}),
            Golden("why_not"));
  EXPECT_EQ(asked_rule_.participant(), "P-0042");
  EXPECT_EQ(asked_rule_.site(), "harbour-row");
  EXPECT_EQ(asked_rule_.rule(), "harbour-enter");
}

TEST_F(Why, SaysSoWhereNoSmallChangeWouldHaveBeenEnough) {
  silence_.clear_change();
  EXPECT_THAT(WhyNot(), HasSubstr("no one or two small changes were found"));
}

TEST_F(Why, NamesTheAlertWhereTheRuleDidRaise) {
  silence_.mutable_outcome()->set_outcome(v1::OUTCOME_RAISED);
  silence_.set_alert_id("A-8");
  const std::string page = WhyNot();
  EXPECT_THAT(page, HasSubstr("It is not silent\n  It did raise: see A-8."));
  EXPECT_THAT(page, Not(HasSubstr("would have")));
  silence_.mutable_outcome()->set_outcome(v1::OUTCOME_DID_NOT_RAISE);
  EXPECT_THAT(WhyNot(), HasSubstr("It did raise once, see A-8; by what is "));
}

// No alert, although it raises: somebody must see that.
TEST_F(Why, DoesNotPassOverARuleThatRaisesWithoutAnAlert) {
  silence_.mutable_outcome()->set_outcome(v1::OUTCOME_RAISED_FOR_REVIEW);
  EXPECT_THAT(WhyNot(), HasSubstr("there is no alert"));
}

TEST_F(Why, SaysWhenTheRuleWillBeAsked) {
  *silence_.mutable_outcome()->mutable_due() = Stamp("2027-03-05T17:00:00Z");
  silence_.mutable_outcome()->set_outcome(v1::OUTCOME_WAITS);
  EXPECT_THAT(WhyNot(), HasSubstr("asked again Fri 5 Mar 2027 17:00 GMT"));
  silence_.mutable_outcome()->set_outcome(v1::OUTCOME_NOT_YET);
  const std::string page = WhyNot();
  EXPECT_THAT(page, HasSubstr("that is due Fri 5 Mar 2027 17:00 GMT"));
  EXPECT_THAT(page, HasSubstr("What it would see now"));
}

TEST_F(Why, SaysThatTheRuleWasNeverAsked) {
  silence_.mutable_outcome()->set_outcome(v1::OUTCOME_NOT_ASKED);
  silence_.mutable_outcome()->clear_trace();
  silence_.clear_event();
  silence_.clear_event_time();
  const std::string page = WhyNot();
  EXPECT_THAT(page, HasSubstr("It was never asked"));
  EXPECT_THAT(page, Not(HasSubstr("happened")));
}

TEST_F(Why, CleansWhatItShows) {
  silence_.set_event("\x1b[2J");
  EXPECT_THAT(WhyNot(), HasSubstr("\\u001b[2J"));
  told_.set_event("\x1b[2J");
  EXPECT_THAT(Page({"alert", "A-17", "--why=rule"}), HasSubstr("\\u001b[2J"));
}

}  // namespace
}  // namespace turnstone::cli
