// One property, proved of the shipped rules after something was broken in them.
#pragma once

#include <gtest/gtest.h>

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "rules/prove/prove.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// The shipped configuration with a defect, ready for use.
class Broken {
 public:
  explicit Broken(const std::function<void(v1::Configuration&)>& defect);

  // Of the shipped property or division with that id.
  [[nodiscard]] Proof Of(const std::string& id) const;
  // Of a property in text format that needs no id.
  [[nodiscard]] Proof OfText(const std::string& property) const;

  // The service would accept each event of the case, and then none of its
  // rules raises an alert of that kind and priority about the last of them.
  void ExpectNotRaised(const Counterexample& example, v1::AlertKind kind,
                       v1::Priority at_least) const;

  [[nodiscard]] const turnstone::Setup& setup() const { return setup_; }
  [[nodiscard]] const Site& site() const {
    return *setup_.FindSite("pebble-bay");
  }

 private:
  [[nodiscard]] Proof ProveOnly(const v1::PropertySet& set,
                                const std::string& id) const;

  v1::Configuration configuration_;
  turnstone::Setup setup_;
};

// The rule, setting or ladder with that id; fails the test if there is none.
v1::Rule& RuleOf(v1::Configuration& configuration, const std::string& id);

// Points of a PHQ-9 form's nine items as its codes have them; -1 unanswered.
std::vector<int> PointsOf(const v1::Event& event);

}  // namespace turnstone
