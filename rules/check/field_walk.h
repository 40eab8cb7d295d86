// A strict look at a text in protobuf text format, before it is parsed.
//
// The parser of the library stops at the first error, and lets some slips pass:
// `latched: false latched: true`, enumeration values by number.
#pragma once

#include <google/protobuf/descriptor.h>
#include <google/protobuf/io/tokenizer.h>

#include <set>
#include <string>
#include <vector>

#include "rules/check/load.h"

namespace turnstone {

// Reports every field a message does not have, every field written twice or
// beside another of its oneof, and every value of the wrong kind. Goes on after
// each, as long as braces and colons stand where they should.
class FieldWalk {
 public:
  // Walks the whole of `tokens`. `findings` must outlive the call only.
  FieldWalk(const std::string& path, google::protobuf::io::Tokenizer& tokens,
            std::vector<Finding>& findings)
      : path_(path), tokens_(tokens), findings_(findings) {}

  void WalkFile(const google::protobuf::Descriptor& type);

 private:
  using Field = google::protobuf::FieldDescriptor;

  // Each goes past what it is named after; false when there is no going on.
  bool Fields(const google::protobuf::Descriptor& type, int depth);
  bool OneField(const google::protobuf::Descriptor& type,
                std::set<std::string>& seen, int depth);
  bool Value(const Field& field, int depth);
  bool List(const Field& field, int depth);
  bool Single(const Field& field, int depth);
  bool SkipValue();
  void CheckOnce(const Field& field, std::set<std::string>& seen);
  [[nodiscard]] bool Looking(const char* symbol) const;
  bool Take(const char* symbol);
  // At the present token. Always false.
  bool Report(std::string id, std::string message, std::string advice);
  [[nodiscard]] std::string Found() const;

  const std::string& path_;
  google::protobuf::io::Tokenizer& tokens_;
  std::vector<Finding>& findings_;
};

}  // namespace turnstone
