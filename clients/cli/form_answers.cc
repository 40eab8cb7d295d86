#include "clients/cli/form_answers.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_split.h>

#include <map>
#include <optional>
#include <vector>

#include "clients/cli/form_cell.h"

namespace turnstone::cli {
namespace {

// False where a code or a label scores differently from question to question.
bool ScoresAlike(const Scale& scale) {
  std::map<std::string, int> by_code;
  std::map<std::string, int> by_label;
  for (int item = 0; item < scale.definition().item_size(); ++item) {
    const auto at = static_cast<size_t>(item);
    for (const v1::Answer& answer : scale.AnswersTo(at)) {
      const auto points = scale.FindAnswer(at, answer.code())->points;
      if (!points) continue;
      if (by_code.emplace(answer.code(), *points).first->second != *points ||
          by_label.emplace(answer.label(), *points).first->second != *points) {
        return false;
      }
    }
  }
  return true;
}

std::string WithLabel(const v1::Answer& answer) {
  return absl::StrCat(answer.code(), " (", answer.label(), ")");
}

// The code of the answer meant by a code, or by the points it scores.
std::optional<std::string> AnswerCode(const Scale& scale, size_t item,
                                      const std::string& cell, bool points_do) {
  const std::optional<int> points = WholeNumber(cell);
  if (points && points_do) {
    for (const v1::Answer& answer : scale.AnswersTo(item)) {
      if (scale.FindAnswer(item, answer.code())->points == points) {
        return answer.code();
      }
    }
  }
  if (scale.FindAnswer(item, cell) == nullptr) return std::nullopt;
  return cell;
}

absl::Status BareNumbers(const Scale& scale, size_t item) {
  std::vector<std::string> codes;
  for (const v1::Answer& answer : scale.AnswersTo(item)) {
    if (codes.size() < 2) codes.push_back(WithLabel(answer));
  }
  return WrongCell(
      "answers",
      absl::StrCat("holds bare numbers, but the same answer to ",
                   scale.definition().name(),
                   " scores differently from question to question"),
      absl::StrCat("answer codes, such as ", absl::StrJoin(codes, " or ")));
}

absl::Status UnknownAnswer(const Scale& scale, size_t item, bool points_do) {
  std::vector<std::string> answers;
  for (const v1::Answer& answer : scale.AnswersTo(item)) {
    const auto points = scale.FindAnswer(item, answer.code())->points;
    answers.push_back(absl::StrCat(
        answer.code(), points && points_do ? absl::StrCat(" or ", *points) : "",
        " (", answer.label(), ")"));
  }
  const v1::Item& question = scale.definition().item(static_cast<int>(item));
  return WrongCell(
      absl::StrCat("answers: number ", item + 1),
      absl::StrCat("is not an answer to \"", question.label(), "\""),
      absl::StrCat("- for none, or one of ", absl::StrJoin(answers, ", ")));
}

absl::Status WrongCount(const Scale& scale, size_t given, int fewest) {
  const v1::Instrument& instrument = scale.definition();
  const bool may_end_early = fewest < instrument.item_size();
  return WrongCell(
      "answers",
      absl::StrCat("holds ", given, ", but ", instrument.name(), " has ",
                   instrument.item_size(), " questions"),
      absl::StrCat("one for each in printed order, separated by ; with - for "
                   "none",
                   may_end_early ? absl::StrCat("; those after the first ",
                                                fewest, " may be left off")
                                 : ""));
}

}  // namespace

absl::Status TakeAnswers(const Scale& scale, const std::string& column,
                         v1::ScreeningResult& form) {
  if (column.empty()) return absl::OkStatus();
  const std::vector<std::string> cells = absl::StrSplit(column, ';');
  const v1::Instrument& instrument = scale.definition();
  int fewest = instrument.item_size();
  while (fewest > 0 && instrument.item(fewest - 1).unscored()) --fewest;
  if (cells.size() < static_cast<size_t>(fewest) ||
      cells.size() > static_cast<size_t>(instrument.item_size())) {
    return WrongCount(scale, cells.size(), fewest);
  }
  const bool points_do = ScoresAlike(scale);
  for (size_t item = 0; item < cells.size(); ++item) {
    const std::string cell(absl::StripAsciiWhitespace(cells[item]));
    if (cell.empty() || cell == "-") continue;
    const auto code = AnswerCode(scale, item, cell, points_do);
    if (!code && !points_do && WholeNumber(cell)) {
      return BareNumbers(scale, item);
    }
    if (!code) return UnknownAnswer(scale, item, points_do);
    v1::ItemAnswer& answer = *form.add_answers();
    answer.set_question(instrument.item(static_cast<int>(item)).code());
    answer.set_answer(*code);
  }
  return absl::OkStatus();
}

}  // namespace turnstone::cli
