#include "tests/second/world.h"

#include <google/protobuf/message.h>

#include <cmath>
#include <cstdlib>

namespace turnstone::second {
namespace {

// 1.96 sd sqrt(2) sqrt(1 - r), rounded up: Jacobson & Truax 1991. The small
// slack keeps a product such as 5.000000000000001 from becoming 6.
int RoundedUp(double sd, double r) {
  const double points = 1.96 * sd * std::sqrt(2.0) * std::sqrt(1.0 - r);
  return std::max(1, static_cast<int>(std::ceil(points - 1e-9)));
}

int PointsOf(const v1::ReliableChange& change, const World& world) {
  if (change.preset().empty()) {
    return RoundedUp(change.standard_deviation(), change.reliability());
  }
  const v1::Instrument& instrument = world.instruments.at(change.instrument());
  for (const v1::ChangePreset& preset : instrument.change_preset()) {
    if (preset.name() != change.preset()) continue;
    if (preset.has_points()) return preset.points();
    return RoundedUp(preset.standard_deviation(), preset.reliability());
  }
  std::abort();
}

std::map<std::string, int> NumbersInForce(const World& world) {
  std::map<std::string, int> numbers;
  for (const v1::Setting& setting : world.rules.setting()) {
    numbers[setting.name()] = setting.has_reliable_change()
                                  ? PointsOf(setting.reliable_change(), world)
                                  : setting.value();
  }
  for (const v1::SettingOverride& mine : world.site.override()) {
    numbers[mine.name()] = mine.has_reliable_change()
                               ? PointsOf(mine.reliable_change(), world)
                               : mine.value();
  }
  return numbers;
}

// Every Number in `message`, however deep.
void FillIn(const std::map<std::string, int>& numbers,
            google::protobuf::Message& message) {
  if (message.GetDescriptor() == v1::Number::descriptor()) {
    auto& number = dynamic_cast<v1::Number&>(message);
    if (number.has_setting()) number.set_value(numbers.at(number.setting()));
    return;
  }
  const google::protobuf::Reflection& reflection = *message.GetReflection();
  std::vector<const google::protobuf::FieldDescriptor*> fields;
  reflection.ListFields(message, &fields);
  for (const google::protobuf::FieldDescriptor* field : fields) {
    if (field->message_type() == nullptr) continue;
    if (!field->is_repeated()) {
      FillIn(numbers, *reflection.MutableMessage(&message, field));
      continue;
    }
    for (int i = 0; i < reflection.FieldSize(message, field); ++i) {
      FillIn(numbers, *reflection.MutableRepeatedMessage(&message, field, i));
    }
  }
}

}  // namespace

World MakeWorld(const v1::Configuration& configuration,
                const std::string& site) {
  World world;
  for (const v1::Instrument& instrument : configuration.instrument()) {
    world.instruments[instrument.id()] = instrument;
    if (instrument.has_panel_code()) {
      world.instruments[instrument.panel_code()] = instrument;
    }
  }
  for (const v1::SiteConfig& one : configuration.site()) {
    if (one.id() == site) world.site = one;
  }
  for (const v1::RuleSet& rules : configuration.rule_set()) {
    if (rules.id() == world.site.rule_set()) world.rules = rules;
  }
  if (world.rules.rule().empty() ||
      !absl::LoadTimeZone(world.site.time_zone(), &world.zone)) {
    std::abort();
  }
  for (v1::Rule& rule : *world.rules.mutable_rule()) rule.clear_example();
  FillIn(NumbersInForce(world), world.rules);
  return world;
}

}  // namespace turnstone::second
