#include "tests/support/rule_changes.h"

#include "tests/support/shipped.h"

namespace turnstone {

v1::Configuration WithOverride(const std::string& setting, int value) {
  v1::Configuration changed = ShippedConfiguration();
  v1::SettingOverride& override = *changed.mutable_site(0)->add_override();
  override.set_name(setting);
  override.set_value(value);
  override.set_reason("test");
  return changed;
}

v1::Configuration WithoutRule(const std::string& id) {
  v1::Configuration changed = ShippedConfiguration();
  auto& rules = *changed.mutable_rule_set(0)->mutable_rule();
  for (int i = rules.size(); i-- > 0;) {
    if (rules.Get(i).id() == id) rules.DeleteSubrange(i, 1);
  }
  return changed;
}

}  // namespace turnstone
