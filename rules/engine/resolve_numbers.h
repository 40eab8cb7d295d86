// Fills in the value of every number a rule takes from a setting.
#pragma once

#include <google/protobuf/message.h>

#include <functional>
#include <map>
#include <string>

#include "rules/engine/setup.h"

namespace turnstone {

// Calls `use` with every Number in `message`, however deep.
void ForEachNumber(google::protobuf::Message& message,
                   const std::function<void(v1::Number&)>& use);

// Sets `value` of every Number in `message` that names a setting. The name
// stays, so that an explanation can say whose number it was.
// REQUIRES: every setting named is in `settings`.
void ResolveNumbers(const std::map<std::string, SettingInForce>& settings,
                    google::protobuf::Message& message);

}  // namespace turnstone
