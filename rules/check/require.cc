#include "rules/check/require.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <limits>

#include "rules/check/suggest.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {
namespace {

constexpr double kLargestDeviation = 1000;  // points

using google::protobuf::FieldDescriptor;
using google::protobuf::Message;

const FieldDescriptor* Find(const Message& message, const std::string& field) {
  return message.GetDescriptor()->FindFieldByName(field);
}

std::string TextOf(const Message& message, const std::string& field) {
  return message.GetReflection()->GetString(message, Find(message, field));
}

std::string InWords(Interval range) {
  if (range == kAnyNumber) return "any whole number";
  if (range.high == std::numeric_limits<int>::max()) {
    return absl::StrCat("a whole number of ", range.low, " or more");
  }
  return absl::StrCat("a whole number from ", range.low, " to ", range.high);
}

// Who owns a rule, why it exists and where it comes from is what reviews ask
// for, so each has an id of its own.
std::string IdOfMissing(const Message& message, const std::string& field) {
  const bool of_rule = message.GetDescriptor() == v1::Rule::descriptor();
  if (of_rule && field == "owner") return "rule-without-owner";
  if (of_rule && field == "rationale") return "rule-without-rationale";
  if (of_rule && field == "source") return "rule-without-source";
  if (field == "source") return "source-missing";
  return "text-missing";
}

bool IsIdLetter(char letter) {
  const auto byte = static_cast<unsigned char>(letter);
  return absl::ascii_islower(byte) || absl::ascii_isdigit(byte) ||
         letter == '-';
}

}  // namespace

bool RequireText(const Place& place, const std::string& field,
                 const std::string& what) {
  const std::string text = TextOf(*place.message(), field);
  if (!absl::StripAsciiWhitespace(text).empty()) return true;
  place.At(field).Report(
      IdOfMissing(*place.message(), field),
      absl::StrCat(field, " is missing or empty"),
      absl::StrCat("write ", field, ": \"...\" with ", what));
  return false;
}

bool RequireId(const Place& place, const std::string& field) {
  const std::string id = TextOf(*place.message(), field);
  const std::string pattern = "lower-case letters, digits and hyphens";
  if (id.empty()) return RequireText(place, field, pattern);
  if (std::all_of(id.begin(), id.end(), IsIdLetter)) return true;
  place.At(field).Report(
      "name-not-plain",
      absl::StrCat(field, " \"", id, "\" holds other characters than ",
                   pattern),
      absl::StrCat("write it with ", pattern,
                   " only, such as \"low-score-2\""));
  return false;
}

bool RequireNumber(const Place& place, const std::string& field,
                   Interval range) {
  const Message& message = *place.message();
  const FieldDescriptor* descriptor = Find(message, field);
  const auto& reflection = *message.GetReflection();
  if (!reflection.HasField(message, descriptor)) {
    place.Report("number-missing", absl::StrCat(field, " is missing"),
                 absl::StrCat("write ", field, ": with ", InWords(range)));
    return false;
  }
  const int value = reflection.GetInt32(message, descriptor);
  if (range.low <= value && value <= range.high) return true;
  place.At(field).Report("number-out-of-range",
                         absl::StrCat(field, " is ", value),
                         absl::StrCat("write ", InWords(range)));
  return false;
}

bool RequireChoice(const Place& place, const std::string& field) {
  const Message& message = *place.message();
  const FieldDescriptor* descriptor = Find(message, field);
  if (message.GetReflection()->GetEnumValue(message, descriptor) != 0) {
    return true;
  }
  place.At(field).Report(
      "choice-missing", absl::StrCat(field, " is missing"),
      absl::StrCat("write ", field, ": with one of ",
                   OneOf(ValueNames(*descriptor->enum_type()))));
  return false;
}

bool RequireChoices(const Place& place, const std::string& field) {
  const Message& message = *place.message();
  const FieldDescriptor* descriptor = Find(message, field);
  const auto& reflection = *message.GetReflection();
  const std::string advice = absl::StrCat(
      "write ", field, ": with one of ",
      OneOf(ValueNames(*descriptor->enum_type())), ", once or more");
  const int size = reflection.FieldSize(message, descriptor);
  if (size == 0) {
    place.Report("choice-missing", absl::StrCat(field, " is missing"), advice);
    return false;
  }
  for (int i = 0; i < size; ++i) {
    if (reflection.GetRepeatedEnumValue(message, descriptor, i) != 0) continue;
    place.At(field, i).Report("choice-missing",
                              absl::StrCat(field, " is unspecified"), advice);
    return false;
  }
  return true;
}

bool RequireReliability(const Place& place) {
  const Message& message = *place.message();
  const auto value = [&](const std::string& field) {
    return message.GetReflection()->GetDouble(message, Find(message, field));
  };
  const double deviation = value("standard_deviation");
  const double reliability = value("reliability");
  // Written so that what is not a number at all is refused too.
  if (!(deviation > 0 && deviation <= kLargestDeviation)) {
    place.At("standard_deviation")
        .Report("number-out-of-range",
                "standard_deviation is missing or out of range",
                "write the spread of the totals in points, above 0 and up to "
                "1000, such as 6.1");
    return false;
  }
  if (message.GetReflection()->HasField(message,
                                        Find(message, "reliability")) &&
      reliability >= 0 && reliability < 1) {
    return true;
  }
  place.At("reliability")
      .Report("number-out-of-range", "reliability is missing or out of range",
              "write a number of at least 0 and below 1, such as 0.84");
  return false;
}

bool Names::Add(const Place& place, const std::string& name) {
  if (name.empty()) return true;
  const auto [earlier, added] = places_.emplace(name, place);
  if (added) return true;
  place.Report("name-given-twice",
               absl::StrCat(what_, " \"", name, "\" is used a second time"),
               absl::StrCat("choose another; the first is ",
                            earlier->second.SeenFrom(place)));
  return false;
}

void RefuseRepeats(const Place& place, const std::string& field) {
  const Message& message = *place.message();
  const FieldDescriptor* descriptor = Find(message, field);
  const auto& reflection = *message.GetReflection();
  Names names(field);
  for (int i = 0; i < reflection.FieldSize(message, descriptor); ++i) {
    names.Add(place.At(field, i),
              reflection.GetRepeatedEnum(message, descriptor, i)->name());
  }
}

}  // namespace turnstone
