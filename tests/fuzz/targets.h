// What is fed with whatever anybody may send or write. Each takes any bytes and
// returns 0; a crash, a sanitizer's finding or a broken promise (std::abort) is
// a finding. libFuzzer makes up bytes (fuzzer.cc, under the sanitizers);
// replay_test.cc gives each, in every build, the bytes kept in corpus/.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace turnstone::fuzz {

// Lines of events in JSON, as the program reads them. What is read is written
// again and read as the same.
int EventJson(const uint8_t* data, size_t size);
// SubmitRequests as they come over the wire, each with its length before it
// (protobuf's delimited format): checked, and those that pass taken in by the
// engine under the shipped rules.
int EventWire(const uint8_t* data, size_t size);
// A file of the configuration, in protobuf text format.
int RuleFile(const uint8_t* data, size_t size);
int InstrumentFile(const uint8_t* data, size_t size);
int SiteFile(const uint8_t* data, size_t size);
// A scenario of tests/scenarios: its lines, and each as a sentence.
int Scenario(const uint8_t* data, size_t size);
// A row of the store. The first byte chooses the table, the rest is the
// message kept there. What can be read is shown, without an escape.
int StoredRow(const uint8_t* data, size_t size);

struct Target {
  const char* name;  // of its folder in corpus/
  int (*run)(const uint8_t* data, size_t size);
};

[[nodiscard]] const std::vector<Target>& Targets();

}  // namespace turnstone::fuzz
