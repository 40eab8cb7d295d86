// A page of sections, each with indented text below its title.
#pragma once

#include <string>

namespace turnstone::cli {

class Page {
 public:
  // As it is, without indent.
  void Line(const std::string& text);
  // An empty line and the title.
  void Section(const std::string& title);
  // A paragraph, indented below a section.
  void Text(const std::string& text);
  // "label   text", the text wrapped beside the label; nothing if empty.
  void Fact(const std::string& label, const std::string& text);
  // Laid out already.
  void Block(const std::string& lines);

  [[nodiscard]] const std::string& ToString() const { return text_; }

 private:
  std::string text_;
};

}  // namespace turnstone::cli
