#include "rules/check/place.h"

#include <absl/strings/str_cat.h>

#include <utility>

namespace turnstone {
namespace {

using google::protobuf::FieldDescriptor;
using google::protobuf::Message;

// Value `index` of a repeated field. The parser notes a list in brackets once,
// as a whole: then every value stands where the first does.
TextFormat::ParseLocation LocationOf(const TextFormat::ParseInfoTree& tree,
                                     const Message& message,
                                     const FieldDescriptor* field, int index) {
  if (!field->is_repeated()) return tree.GetLocation(field, -1);
  const int last = message.GetReflection()->FieldSize(message, field) - 1;
  const bool one_by_one = tree.GetLocation(field, last).line >= 0;
  return tree.GetLocation(field, one_by_one ? index : 0);
}

}  // namespace

Place::Place(const std::string& path, const Message& message,
             const TextFormat::ParseInfoTree& tree,
             std::vector<Finding>& findings)
    : path_(&path), findings_(&findings), message_(&message), tree_(&tree) {}

Place Place::At(const std::string& field_name, int index) const {
  const FieldDescriptor* field =
      message_->GetDescriptor()->FindFieldByName(field_name);
  Place place = *this;
  place.message_ = nullptr;
  place.tree_ = nullptr;
  if (field->cpp_type() == FieldDescriptor::CPPTYPE_MESSAGE) {
    const auto& reflection = *message_->GetReflection();
    place.message_ =
        field->is_repeated()
            ? &reflection.GetRepeatedMessage(*message_, field, index)
            : &reflection.GetMessage(*message_, field);
    if (tree_ != nullptr) place.tree_ = tree_->GetTreeForNested(field, index);
  }
  if (tree_ == nullptr) return place;
  const TextFormat::ParseLocation at =
      LocationOf(*tree_, *message_, field, index);
  if (at.line >= 0) {
    place.line_ = at.line + 1;
    place.column_ = at.column + 1;
  }
  return place;
}

void Place::Report(std::string id, std::string message,
                   std::string advice) const {
  findings_->push_back({*path_, line_, column_, std::move(message),
                        std::move(advice), std::move(id)});
}

std::string Place::SeenFrom(const Place& reader) const {
  return *path_ == *reader.path_ ? absl::StrCat("on line ", line_)
                                 : absl::StrCat("in ", *path_);
}

}  // namespace turnstone
