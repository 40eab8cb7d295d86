// Whose rows a query may return. Every query that may answer with what is known
// of participants takes one, so that a row of a foreign site cannot come back
// whatever was forgotten above (BrokeScope).
#pragma once

#include <set>
#include <string>
#include <utility>

namespace turnstone {

class SiteScope {
 public:
  // For what the service itself needs, and never on behalf of a caller.
  [[nodiscard]] static SiteScope All() { return SiteScope(true, {}); }
  // Those and no others; empty: none.
  explicit SiteScope(std::set<std::string> sites)
      : SiteScope(false, std::move(sites)) {}

  [[nodiscard]] bool Covers(const std::string& site) const {
    return all_ || sites_.contains(site);
  }
  [[nodiscard]] bool all() const { return all_; }
  // REQUIRES: not all().
  [[nodiscard]] const std::set<std::string>& sites() const { return sites_; }

 private:
  SiteScope(bool all, std::set<std::string> sites)
      : all_(all), sites_(std::move(sites)) {}

  bool all_;
  std::set<std::string> sites_;
};

}  // namespace turnstone
