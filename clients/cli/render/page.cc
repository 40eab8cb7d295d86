#include "clients/cli/render/page.h"

#include "clients/cli/render/text.h"

namespace turnstone::cli {
namespace {

constexpr size_t kIndent = 2;
constexpr size_t kFactIndent = 16;

}  // namespace

void Page::Line(const std::string& text) { text_ += text + "\n"; }

void Page::Section(const std::string& title) { text_ += "\n" + title + "\n"; }

void Page::Text(const std::string& text) { text_ += Wrap(text, kIndent); }

void Page::Fact(const std::string& label, const std::string& text) {
  if (text.empty()) return;
  text_ += WrapAfter(Pad(std::string(kIndent, ' ') + label, kFactIndent), text,
                     kFactIndent);
}

void Page::Block(const std::string& lines) { text_ += lines; }

}  // namespace turnstone::cli
