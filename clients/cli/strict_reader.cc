#include "clients/cli/strict_reader.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <cstdint>
#include <limits>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <vector>

#include "clients/cli/strict_advice.h"

namespace turnstone::cli {
namespace {

using google::protobuf::Descriptor;
using google::protobuf::FieldDescriptor;
using google::protobuf::OneofDescriptor;
using Json = nlohmann::json;

constexpr size_t kDeepest = 32;

// An object being read, or a list in it.
struct Level {
  const Descriptor* type = nullptr;
  // The key being read; in a list, the key the list belongs to.
  const FieldDescriptor* field = nullptr;
  bool in_list = false;
  size_t item = 0;
  std::set<std::string> keys;
  std::map<const OneofDescriptor*, std::string> chosen;
};

class StrictReader final : public nlohmann::json_sax<Json> {
 public:
  explicit StrictReader(const Descriptor& type) : type_(type) {}

  [[nodiscard]] const std::string& problem() const { return problem_; }

  bool null() override {
    return Refuse(levels_.empty()
                      ? kOneObject
                      : "null says nothing; leave the key out instead");
  }
  bool boolean(bool) override {
    return Scalar(Field() != nullptr &&
                  Field()->type() == FieldDescriptor::TYPE_BOOL);
  }
  bool number_integer(number_integer_t value) override {
    return Scalar(IsWholeNumber() &&
                  value >= std::numeric_limits<int32_t>::min());
  }
  bool number_unsigned(number_unsigned_t value) override {
    return Scalar(IsWholeNumber() &&
                  value <=
                      number_unsigned_t{std::numeric_limits<int32_t>::max()});
  }
  bool number_float(number_float_t, const string_t&) override {
    return Scalar(false);
  }
  bool string(string_t& value) override {
    return Scalar(Field() != nullptr && IsText(*Field(), value));
  }
  bool binary(binary_t&) override { return Scalar(false); }

  bool start_object(size_t) override {
    if (!Begin()) return false;
    const Descriptor* type = &type_;
    if (!levels_.empty()) {
      if (!IsObject(*Field())) return Refuse(Advice(*Field()));
      type = Field()->message_type();
    }
    levels_.emplace_back().type = type;
    return true;
  }
  bool key(string_t& name) override;
  bool end_object() override { return End(); }

  bool start_array(size_t) override {
    if (levels_.empty()) return Refuse(kOneObject);
    if (!Field()->is_repeated() || levels_.back().in_list) {
      return Refuse(Advice(*Field()));
    }
    if (levels_.size() == kDeepest) return Refuse(kTooDeep);
    const FieldDescriptor* field = Field();
    levels_.emplace_back().field = field;
    levels_.back().in_list = true;
    return true;
  }
  bool end_array() override { return End(); }

  bool parse_error(size_t position, const std::string&,
                   const nlohmann::detail::exception&) override {
    return Refuse(absl::StrCat("not valid JSON at character ", position,
                               "; write one complete JSON object on the line"));
  }

 private:
  inline static const std::string kOneObject =
      "the line is not a JSON object; write { ... }";
  inline static const std::string kTooDeep =
      "nested deeper than 32 levels; write it flatter";

  [[nodiscard]] const FieldDescriptor* Field() const {
    return levels_.empty() ? nullptr : levels_.back().field;
  }
  [[nodiscard]] bool IsWholeNumber() const {
    return Field() != nullptr && Field()->type() == FieldDescriptor::TYPE_INT32;
  }

  // Whether a value or an object may begin here.
  bool Begin() {
    if (levels_.size() == kDeepest) return Refuse(kTooDeep);
    if (levels_.empty()) return true;
    if (Field()->is_repeated() && !levels_.back().in_list) {
      return Refuse("not a list; write [ ... ]");
    }
    return true;
  }
  bool Scalar(bool fits) {
    if (levels_.empty()) return Refuse(kOneObject);
    if (!Begin()) return false;
    if (!fits) return Refuse(Advice(*Field()));
    Next();
    return true;
  }
  bool End() {
    levels_.pop_back();
    Next();
    return true;
  }
  void Next() {
    if (!levels_.empty() && levels_.back().in_list) ++levels_.back().item;
  }

  // "screeningResult.answers[2].answer".
  [[nodiscard]] std::string Path() const {
    std::vector<std::string> names;
    for (const Level& level : levels_) {
      if (level.in_list) {
        absl::StrAppend(&names.back(), "[", level.item, "]");
      } else if (level.field != nullptr) {
        names.push_back(level.field->json_name());
      }
    }
    return absl::StrJoin(names, ".");
  }
  bool Refuse(const std::string& what) {
    const std::string path = Path();
    problem_ = path.empty() ? what : absl::StrCat(path, ": ", what);
    return false;
  }

  const Descriptor& type_;
  std::vector<Level> levels_;
  std::string problem_;
};

// A key as it is shown: nobody reads a megabyte of it.
std::string Shown(const std::string& key) {
  constexpr size_t kShown = 60;
  return key.size() <= kShown ? key : key.substr(0, kShown) + "...";
}

bool StrictReader::key(string_t& name) {
  Level& level = levels_.back();
  level.field = nullptr;
  const FieldDescriptor* field = FieldCalled(*level.type, name);
  if (field == nullptr) {
    return Refuse(absl::StrCat("unknown key \"", Shown(name),
                               "\"; the keys here are ", KeysOf(*level.type)));
  }
  if (!level.keys.insert(name).second) {
    return Refuse(absl::StrCat("key \"", name, "\" twice; write it once"));
  }
  const OneofDescriptor* choice = field->real_containing_oneof();
  if (choice != nullptr) {
    const auto [first, fresh] = level.chosen.emplace(choice, name);
    if (!fresh) {
      return Refuse(absl::StrCat("both \"", first->second, "\" and \"", name,
                                 "\"; write only one of them"));
    }
  }
  level.field = field;
  return true;
}

}  // namespace

absl::Status CheckStrictJson(const std::string& json, const Descriptor& type) {
  StrictReader reader(type);
  if (Json::sax_parse(json, &reader)) return absl::OkStatus();
  return absl::InvalidArgumentError(reader.problem());
}

}  // namespace turnstone::cli
