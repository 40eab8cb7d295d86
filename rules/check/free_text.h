// Notes and reasons are for what was done, not for who somebody is.
#pragma once

#include <google/protobuf/message.h>

#include <string>
#include <vector>

namespace turnstone {

// What in `text` looks as if it said who somebody is: "an e-mail address", "a
// telephone number", "a national number"; each once. Rules of thumb: common
// practice, no source. Dates and times are none of these. Pure.
[[nodiscard]] std::vector<std::string> Identifying(const std::string& text);

// A sentence for each text called note or reason, at any depth of `message`,
// that holds such: where, and what to do. Never repeats the text. A warning,
// never a ground for refusal: what somebody had to say in haste is not lost.
// Pure.
[[nodiscard]] std::vector<std::string> FreeTextWarnings(
    const google::protobuf::Message& message);

}  // namespace turnstone
