#include "rules/check/parse_text.h"

#include <google/protobuf/io/tokenizer.h>
#include <google/protobuf/io/zero_copy_stream_impl_lite.h>

#include "rules/check/field_walk.h"

namespace turnstone {
namespace {

using google::protobuf::TextFormat;
using google::protobuf::io::Tokenizer;

// Errors that only the library sees, such as a text without closing quote.
class Collector final : public google::protobuf::io::ErrorCollector {
 public:
  Collector(const std::string& path, std::vector<Finding>& findings)
      : path_(path), findings_(findings) {}
  void AddError(int line, google::protobuf::io::ColumnNumber column,
                const std::string& message) override {
    const std::string sentence =
        message.substr(0, message.find_last_not_of('.') + 1);
    findings_.push_back({path_, line + 1, column + 1, sentence,
                         "write it as protobuf text format asks",
                         "file-unreadable"});
  }

 private:
  const std::string& path_;
  std::vector<Finding>& findings_;
};

}  // namespace

std::unique_ptr<TextFormat::ParseInfoTree> ParseText(
    const std::string& path, const std::string& text,
    google::protobuf::Message& message, std::vector<Finding>& findings) {
  const size_t before = findings.size();
  Collector collector(path, findings);
  google::protobuf::io::ArrayInputStream input(text.data(),
                                               static_cast<int>(text.size()));
  Tokenizer tokens(&input, &collector);
  tokens.set_comment_style(Tokenizer::SH_COMMENT_STYLE);
  FieldWalk(path, tokens, findings).WalkFile(*message.GetDescriptor());
  if (findings.size() > before) return nullptr;

  auto tree = std::make_unique<TextFormat::ParseInfoTree>();
  TextFormat::Parser parser;
  parser.RecordErrorsTo(&collector);
  parser.WriteLocationsTo(tree.get());
  const bool parsed = parser.ParseFromString(text, &message);
  if (!parsed || findings.size() > before) return nullptr;
  return tree;
}

}  // namespace turnstone
