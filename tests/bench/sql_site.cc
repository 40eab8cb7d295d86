#include "tests/bench/sql_site.h"

#include <algorithm>

#include "rules/engine/fact_content.h"
#include "tests/bench/site_rules.h"

namespace turnstone {
namespace {

int64_t Seconds(const v1::Event& event) {
  return event.effective_time().seconds();
}

}  // namespace

SqlSite::SqlSite(const std::string& path, const Setup& setup)
    : setup_(setup), file_(path) {
  file_.Script(SiteTables());
  std::map<std::string, std::string> queries = SiteQueries(setup);
  queries["begin"] = "BEGIN IMMEDIATE";
  queries["form"] = "INSERT INTO form VALUES (?, ?, ?, ?, ?, ?)";
  queries["plan"] = "INSERT INTO plan VALUES (?, ?, ?, ?)";
  queries["outcome"] = "INSERT INTO outcome VALUES (?, ?, ?, ?)";
  queries["stay"] = "INSERT INTO stay VALUES (?, ?, ?)";
  queries["report"] = "INSERT INTO report VALUES (?, ?, ?)";
  for (const auto& [name, sql] : queries) {
    statements_[name] = file_.Prepare(sql);
  }
}

void SqlSite::InsertForm(const v1::Event& event) {
  const absl::StatusOr<FactContent> content =
      MakeContent(event, setup_.catalogue());
  const auto& form = std::get<Screening>(*content);
  const std::optional<int> item =
      form.score.points[*form.scale->SelfHarmItem()];
  file_.Run(statements_["form"],
            {event.participant(), Seconds(event), event.event_id(),
             int64_t{form.score.total.low}, int64_t{form.score.total.high},
             item ? Value(int64_t{*item}) : Value()});
}

// `about`: as the queries number it.
void SqlSite::Ask(const std::string& rules, const Values& about) {
  for (auto rule = statements_.lower_bound(rules);
       rule != statements_.end() && rule->first.rfind(rules, 0) == 0; ++rule) {
    file_.Run(rule->second, about);
  }
}

void SqlSite::Insert(const v1::Event& event) {
  const std::string& who = event.participant();
  const int64_t at = Seconds(event);
  if (event.has_screening_result()) {
    InsertForm(event);
  } else if (event.has_visit_planned()) {
    const v1::VisitPlanned& plan = event.visit_planned();
    file_.Run(statements_["plan"],
              {who, at, plan.visit(), plan.planned_start().seconds()});
  } else if (event.has_visit_outcome()) {
    const v1::VisitOutcome& outcome = event.visit_outcome();
    file_.Run(statements_["outcome"],
              {who, at, outcome.visit(), int64_t{outcome.outcome()}});
  } else if (event.has_practice_report()) {
    file_.Run(statements_["report"],
              {who, at, int64_t{event.practice_report().confidence()}});
  } else {
    file_.Run(statements_["stay"],
              {who, at, int64_t{event.has_discharge() ? 1 : 0}});
  }
}

Measured SqlSite::TakeIn(const Requests& requests, size_t batch) {
  Measured measured;
  measured.events = static_cast<int64_t>(requests.size());
  const auto begin = BenchClock::now();
  for (size_t i = 0; i < requests.size();) {
    const auto commit_begin = BenchClock::now();
    file_.Run(statements_["begin"], {});
    for (const size_t end = std::min(i + batch, requests.size()); i < end;
         ++i) {
      const v1::Event& event = requests[i].event();
      Insert(event);
      const Values about{event.participant(), Seconds(event)};
      if (event.has_screening_result()) Ask("form rule", about);
      if (event.has_visit_outcome()) Ask("outcome rule", about);
    }
    file_.Commit();
    measured.micros.push_back(Since(commit_begin));
  }
  measured.seconds = Since(begin) / 1e6;
  return measured;
}

double SqlSite::Nightly(absl::Time accounted_until) {
  const auto begin = BenchClock::now();
  file_.Run(statements_["begin"], {});
  Ask("nightly", {});
  file_.Run(statements_["unaccounted"], {absl::ToUnixSeconds(accounted_until)});
  file_.Commit();
  return Since(begin) / 1e6;
}

Prompts SqlSite::Found() {
  Prompts prompts;
  for (const Values& row :
       file_.Rows(file_.Prepare("SELECT participant, rule FROM prompt"))) {
    prompts.emplace(std::get<std::string>(row[0]),
                    std::get<std::string>(row[1]));
  }
  return prompts;
}

}  // namespace turnstone
