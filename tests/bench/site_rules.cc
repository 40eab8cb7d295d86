#include "tests/bench/site_rules.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/substitute.h>

#include <cstdlib>

namespace turnstone {
namespace {

constexpr char kTables[] = R"sql(
CREATE TABLE form (participant TEXT, at INTEGER, id TEXT, low INTEGER,
  high INTEGER, self_harm INTEGER);
CREATE INDEX form_of ON form (participant, at);
CREATE TABLE plan (participant TEXT, at INTEGER, visit TEXT, start INTEGER);
CREATE INDEX plan_of ON plan (participant, visit);
CREATE INDEX plan_start ON plan (start);
CREATE TABLE outcome (participant TEXT, at INTEGER, visit TEXT, kind INTEGER);
CREATE INDEX outcome_of ON outcome (participant, at);
CREATE TABLE stay (participant TEXT, at INTEGER, ended INTEGER);
CREATE INDEX stay_of ON stay (participant, at);
CREATE TABLE report (participant TEXT, at INTEGER, confidence INTEGER);
CREATE TABLE prompt (participant TEXT, rule TEXT,
  PRIMARY KEY (participant, rule)) WITHOUT ROWID;
)sql";

constexpr char kInsertPrompt[] =
    "INSERT OR IGNORE INTO prompt SELECT f.participant, ";

// About the form f. $0: above the range; $1: reliable change. The baseline is
// the last form up to enrolment, else the first.
constexpr const char* kFormRules[] = {
    "'score-above-range' FROM form f WHERE f.high >= $0",
    "'self-harm-positive' FROM form f WHERE f.self_harm >= 1",
    "'self-harm-unanswered' FROM form f WHERE f.self_harm IS NULL",
    "'reliable-deterioration' FROM form f WHERE f.high - coalesce("
    "(SELECT low FROM form b WHERE b.participant = f.participant "
    "AND b.at < f.at AND b.at <= (SELECT max(at) FROM stay s WHERE "
    "s.participant = f.participant AND ended = 0 AND s.at <= f.at) "
    "ORDER BY b.at DESC LIMIT 1), "
    "(SELECT low FROM form b WHERE b.participant = f.participant "
    "AND b.at < f.at ORDER BY b.at LIMIT 1)) >= $1",
};

// About the outcome f; 1 is attended, 2 no answer, 3 refused at the door. $2:
// missed in a row; $3: seconds looked back for a self-harm item.
constexpr const char* kOutcomeRules[] = {
    "'missed-visits' FROM outcome f WHERE (SELECT count(DISTINCT visit) "
    "FROM outcome m WHERE m.participant = f.participant AND m.at <= f.at AND "
    "m.kind IN (2, 3) AND m.at > coalesce((SELECT max(at) FROM outcome a WHERE "
    "a.participant = f.participant AND a.at <= f.at AND a.kind = 1), 0)) >= $2",
    "'missed-after-self-harm' FROM outcome f WHERE f.kind IN (2, 3) AND "
    "EXISTS (SELECT 1 FROM form s WHERE s.participant = f.participant AND "
    "s.at <= f.at AND s.at >= f.at - $3 AND coalesce(s.self_harm, 1) >= 1)",
};

// Nothing was recorded of the visit, and the participant was still there.
constexpr char kUnaccounted[] =
    "'visit-without-outcome' FROM plan f WHERE f.start < ?1 AND NOT EXISTS "
    "(SELECT 1 FROM outcome o WHERE o.participant = f.participant AND "
    "o.visit = f.visit AND o.at >= f.at) AND coalesce((SELECT ended FROM stay "
    "s WHERE s.participant = f.participant ORDER BY at DESC LIMIT 1), 0) = 0";

constexpr char kThisOne[] = " AND f.participant = ?1 AND f.at = ?2";

// The number that decides in the rule's condition.
int NumberIn(const v1::Condition& condition) {
  switch (condition.kind_case()) {
    case v1::Condition::kScore:
      return condition.score().at_least().value();
    case v1::Condition::kWorseBy:
      return condition.worse_by().at_least().value();
    case v1::Condition::kMissedInARow:
      return condition.missed_in_a_row().at_least().value();
    case v1::Condition::kAllOf:
      return condition.all_of()
          .condition()
          .rbegin()
          ->self_harm_earlier()
          .within_days()
          .value();
    default:
      std::abort();
  }
}

int Number(const std::string& rule_id, const Setup& setup) {
  for (const v1::Rule& rule : setup.FindSite("pebble-bay")->rules.rule()) {
    if (rule.id() == rule_id) return NumberIn(rule.condition());
  }
  std::abort();
}

}  // namespace

const std::set<std::string>& SiteRules() {
  static const auto& rules = *new std::set<std::string>{
      "score-above-range",      "self-harm-positive", "self-harm-unanswered",
      "reliable-deterioration", "missed-visits",      "missed-after-self-harm",
      "visit-without-outcome"};
  return rules;
}

std::string SiteTables() { return kTables; }

std::map<std::string, std::string> SiteQueries(const Setup& setup) {
  std::map<std::string, std::string> queries;
  int number = 0;
  const auto add = [&](const std::string& kind, const char* rule) {
    const std::string sql = absl::StrCat(
        kInsertPrompt,
        absl::Substitute(rule, Number("score-above-range", setup),
                         Number("reliable-deterioration", setup),
                         Number("missed-visits", setup),
                         Number("missed-after-self-harm", setup) * 24 * 3600));
    queries[absl::StrCat(kind, " rule ", ++number)] = sql + kThisOne;
    queries[absl::StrCat("nightly ", kind, " rule ", number)] = sql;
  };
  for (const char* rule : kFormRules) add("form", rule);
  for (const char* rule : kOutcomeRules) add("outcome", rule);
  queries["unaccounted"] = absl::StrCat(kInsertPrompt, kUnaccounted);
  return queries;
}

}  // namespace turnstone
