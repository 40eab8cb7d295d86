// Fills in the value of every number a rule takes from a setting.
#pragma once

#include <map>
#include <string>

#include "rules/engine/setup.h"

namespace turnstone {

// Sets `value` of every Number in `message` that names a setting. The name
// stays, so that an explanation can say whose number it was.
// REQUIRES: every setting named is in `settings`.
void ResolveNumbers(const std::map<std::string, SettingInForce>& settings,
                    google::protobuf::Message& message);

}  // namespace turnstone
