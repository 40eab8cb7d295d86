#include "service/store/audit_numbers.h"

#include <absl/strings/numbers.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_split.h>

#include <iterator>
#include <vector>

namespace turnstone {

std::string NumbersToText(const std::set<int64_t>& numbers) {
  std::vector<std::string> runs;
  for (auto first = numbers.begin(); first != numbers.end();) {
    auto last = first;
    auto next = std::next(first);
    while (next != numbers.end() && *next == *last + 1) last = next++;
    runs.push_back(first == last ? absl::StrCat(*first)
                                 : absl::StrCat(*first, "-", *last));
    first = next;
  }
  return absl::StrJoin(runs, ",");
}

std::optional<std::set<int64_t>> NumbersFromText(const std::string& text,
                                                 int64_t last, int64_t most) {
  std::set<int64_t> numbers;
  int64_t before = 0;
  const std::vector<std::string> runs =
      absl::StrSplit(text, ',', absl::SkipEmpty());
  for (const std::string& run : runs) {
    const std::vector<std::string> ends = absl::StrSplit(run, '-');
    int64_t from = 0;
    int64_t to = 0;
    if (!absl::SimpleAtoi(ends.front(), &from) ||
        !absl::SimpleAtoi(ends.back(), &to) || from <= before || to > last ||
        to - from >= most - static_cast<int64_t>(numbers.size())) {
      return std::nullopt;
    }
    before = to;
    for (int64_t number = from; number <= to; ++number) {
      numbers.insert(numbers.end(), number);
    }
  }
  if (NumbersToText(numbers) != text) return std::nullopt;
  return numbers;
}

}  // namespace turnstone
