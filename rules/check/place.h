// Where in a file something stands, so that what is wrong with it can be
// reported there.
#pragma once

#include <google/protobuf/text_format.h>

#include <string>
#include <vector>

#include "rules/check/load.h"

namespace turnstone {

using google::protobuf::TextFormat;

// Cheap to copy. Everything it was made from must outlive it.
class Place {
 public:
  // A whole file, parsed as `message` with the places in `tree`.
  Place(const std::string& path, const google::protobuf::Message& message,
        const TextFormat::ParseInfoTree& tree, std::vector<Finding>& findings);

  // A field of this message, or one value of a repeated one. A field that is
  // not written stands where the message does.
  // REQUIRES: this is a message and has such a field; `index` exists.
  [[nodiscard]] Place At(const std::string& field, int index = -1) const;

  // `id` names the kind of finding (see Finding). `message`: what is wrong.
  // `advice`: what to write instead.
  void Report(std::string id, std::string message, std::string advice) const;
  // How much has been reported so far, by this and every related Place.
  [[nodiscard]] size_t reported() const { return findings_->size(); }

  // Null where this is not a message.
  [[nodiscard]] const google::protobuf::Message* message() const {
    return message_;
  }
  // "on line 7", or "in instruments/phq-9.textproto" for another file's reader.
  [[nodiscard]] std::string SeenFrom(const Place& reader) const;

 private:
  const std::string* path_;
  std::vector<Finding>* findings_;
  const google::protobuf::Message* message_;
  const TextFormat::ParseInfoTree* tree_;  // null where nothing is written
  int line_ = 0;
  int column_ = 0;
};

}  // namespace turnstone
