// What must hold of a scenario's world, whatever befell it.
#pragma once

#include <string>

#include "tests/scenarios/world.h"

namespace turnstone::faults {

// Empty: nothing; else the first guarantee that broke, and how. Every accepted
// event is sent once more.
[[nodiscard]] std::string WhatBroke(scenarios::World& world);

// Every alert with its state and reasons, a line each, as far as it does not
// depend on when things were done again.
[[nodiscard]] std::string AlertsInShort(scenarios::World& world);

}  // namespace turnstone::faults
