#include "tests/examples/tried_rules.h"

#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>

#include <cstdlib>

#include "rules/examples/example_events.h"
#include "rules/examples/example_setup.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

template <typename Message>
Message Read(const std::string& text) {
  Message message;
  if (!google::protobuf::TextFormat::ParseFromString(text, &message)) {
    std::abort();
  }
  return message;
}

}  // namespace

Setup SetUpRule(const std::string& when, const std::string& condition,
                const std::string& more) {
  v1::RuleSet rules;
  rules.set_id("tried");
  *rules.add_rule() =
      Read<v1::Rule>("id: \"tried\" when { " + when + " } condition { " +
                     condition + " } priority: PRIORITY_URGENT " + more);
  static const v1::Configuration& shipped =
      *new v1::Configuration(ShippedConfiguration());
  std::vector<const v1::Instrument*> instruments;
  for (const v1::Instrument& each : shipped.instrument()) {
    instruments.push_back(&each);
  }
  return SetUpExamples(rules, instruments);
}

v1::Example ExampleOf(const std::string& text) {
  return Read<v1::Example>(text);
}

std::vector<v1::Event> EventsOf(const std::string& example,
                                const Setup& setup) {
  const auto read = ReadExample(ExampleOf(example), setup, 0);
  if (const auto* error = std::get_if<ExampleError>(&read)) {
    ADD_FAILURE() << error->wrong << "; " << error->write;
    return {};
  }
  return std::get<ExampleCase>(read).event;
}

}  // namespace turnstone
