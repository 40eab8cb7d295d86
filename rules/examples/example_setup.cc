#include "rules/examples/example_setup.h"

namespace turnstone {

Setup SetUpExamples(const v1::RuleSet& rules,
                    const std::vector<const v1::Instrument*>& instruments) {
  v1::Configuration configuration;
  for (const v1::Instrument* instrument : instruments) {
    *configuration.add_instrument() = *instrument;
  }
  *configuration.add_rule_set() = rules;
  v1::SiteConfig& site = *configuration.add_site();
  site.set_id("examples");
  site.set_rule_set(rules.id());
  site.set_time_zone("UTC");
  site.set_planned_visits(8);
  for (const v1::Weekday day :
       {v1::MONDAY, v1::TUESDAY, v1::WEDNESDAY, v1::THURSDAY, v1::FRIDAY}) {
    site.mutable_calendar()->add_working_day(day);
  }
  site.mutable_calendar()->set_day_start("09:00");
  site.mutable_calendar()->set_day_end("17:00");
  return Setup(configuration, "");
}

const Site& ExampleSite(const Setup& setup) {
  return setup.sites().begin()->second;
}

}  // namespace turnstone
