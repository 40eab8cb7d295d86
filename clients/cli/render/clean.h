// What may reach a terminal. Text from the service or from a file could hold
// control characters that move the cursor, hide a line or change the title.
#pragma once

#include <google/protobuf/message.h>

#include <string>

namespace turnstone::cli {

// Characters that steer a terminal, turn the reading direction or cannot be
// seen, and bytes that are not UTF-8, are written out: "\u001b", "\u202e". A
// tab or a newline becomes a space.
[[nodiscard]] std::string CleanLine(const std::string& text);

// The same, but newlines stay.
[[nodiscard]] std::string CleanBlock(const std::string& text);

// Every text in the message: as a block where people write paragraphs, as a
// line elsewhere.
void CleanTexts(google::protobuf::Message& message);

// A cleaned copy. What renders begins with this.
template <typename Message>
[[nodiscard]] Message Cleaned(Message message) {
  CleanTexts(message);
  return message;
}

}  // namespace turnstone::cli
