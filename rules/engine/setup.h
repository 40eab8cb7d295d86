// A configuration made ready for use: indexed, zones opened, every number a
// rule refers to filled in with the site's or the rule set's value.
#pragma once

#include <map>
#include <memory>
#include <string>

#include "rules/duty/team.h"
#include "rules/measure/catalogue.h"
#include "rules/measure/work_calendar.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// A number in force, and whose it is.
struct SettingInForce {
  int value = 0;
  // "rule set", "site", "site, phq-9 preset delgadillo-2014", "site, phq-9 with
  // standard deviation 5.8 and reliability 0.86".
  std::string whose;
};

struct Site {
  v1::SiteConfig config;
  WorkCalendar calendar;
  Team team;
  // The site's rule set with every Number's `value` set, and every default
  // made explicit (on_unknown, unknown_priority).
  v1::RuleSet rules;
  std::map<std::string, SettingInForce> settings;

  // Null if the site has none of that id.
  [[nodiscard]] const v1::Protocol* FindProtocol(const std::string& id) const;
};

// Immutable; safe to share between threads.
class Setup {
 public:
  // REQUIRES: `configuration` came from LoadConfiguration (complete). `digest`
  // names it in every alert.
  Setup(const v1::Configuration& configuration, std::string digest);

  [[nodiscard]] const Catalogue& catalogue() const { return catalogue_; }
  [[nodiscard]] const std::map<std::string, Site>& sites() const {
    return sites_;
  }
  // Null if unknown.
  [[nodiscard]] const Site* FindSite(const std::string& id) const;
  [[nodiscard]] const std::string& digest() const { return digest_; }

 private:
  Catalogue catalogue_;
  std::map<std::string, Site> sites_;
  std::string digest_;
};

}  // namespace turnstone
