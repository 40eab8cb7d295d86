// The figures for people, and whether all of them are there.
#pragma once

#include <nlohmann/json.hpp>

namespace turnstone {

// Adds "ratios": what the service reaches of its floors.
void AddRatios(nlohmann::ordered_json& figures);

// A table on standard output.
void Print(const nlohmann::ordered_json& figures);

}  // namespace turnstone
