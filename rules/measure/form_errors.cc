#include "rules/measure/form_errors.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <string>
#include <vector>

namespace turnstone {
namespace {

std::string Field(int at, const std::string& name) {
  return absl::StrCat("answers[", at, "].", name);
}

template <typename Coded>
std::string WithLabel(const Coded& coded) {
  return absl::StrCat(coded.code(), " (", coded.label(), ")");
}

}  // namespace

absl::Status UnknownQuestion(const Scale& scale, int at) {
  std::vector<std::string> questions;
  for (const v1::Item& item : scale.definition().item()) {
    questions.push_back(WithLabel(item));
  }
  return absl::InvalidArgumentError(
      absl::StrCat(Field(at, "question"), " is not a question of ",
                   scale.definition().name(), "; send one of ",
                   absl::StrJoin(questions, ", ")));
}

absl::Status AnsweredTwice(const Scale& scale, int at, size_t item) {
  return absl::InvalidArgumentError(
      absl::StrCat(Field(at, "question"), " is in this form a second time (",
                   scale.definition().item(static_cast<int>(item)).label(),
                   "); send each question once"));
}

absl::Status NeitherAnswerNorReason(int at) {
  return absl::InvalidArgumentError(absl::StrCat(
      "answers[", at, "] has neither an answer nor a reason for having none; ",
      "send \"answer\", or \"absent\" with DATA_ABSENT_REASON_ASKED_DECLINED, ",
      "DATA_ABSENT_REASON_ASKED_UNKNOWN or DATA_ABSENT_REASON_NOT_ASKED"));
}

absl::Status UnknownAnswer(const Scale& scale, int at, size_t item) {
  std::vector<std::string> answers;
  for (const v1::Answer& answer : scale.AnswersTo(item)) {
    answers.push_back(WithLabel(answer));
  }
  const v1::Item& question = scale.definition().item(static_cast<int>(item));
  return absl::InvalidArgumentError(absl::StrCat(
      Field(at, "answer"), " is not an answer to question ",
      WithLabel(question), "; send one of ", absl::StrJoin(answers, ", ")));
}

absl::Status UnattainableTotal(const Scale& scale) {
  const std::string kind =
      scale.Multiplier() == 1
          ? "whole number"
          : absl::StrCat("multiple of ", scale.Multiplier());
  return absl::InvalidArgumentError(absl::StrCat(
      "reportedTotal is not a total that ", scale.definition().name(),
      " can give; send a ", kind, " from ", scale.Range().low, " to ",
      scale.Range().high, ", or leave it out"));
}

absl::Status NothingMeasured(const Scale& scale) {
  return absl::InvalidArgumentError(absl::StrCat(
      "answers is empty and reportedTotal is missing, so ",
      scale.definition().name(),
      " measured nothing; send at least one answer, a reason for having none, "
      "or the total"));
}

absl::Status OnlyAResult(const Scale& scale) {
  return absl::InvalidArgumentError(
      absl::StrCat("answers and reportedTotal are not kept for ",
                   scale.definition().name(), "; send result only"));
}

absl::Status UnknownResult(const Scale& scale) {
  std::vector<std::string> results;
  for (const v1::Result& result : scale.definition().result()) {
    results.push_back(WithLabel(result));
  }
  return absl::InvalidArgumentError(absl::StrCat(
      "result is missing or not one of ", scale.definition().name(),
      "; send one of ", absl::StrJoin(results, ", ")));
}

absl::Status NoResult(const Scale& scale) {
  return absl::InvalidArgumentError(
      absl::StrCat("result is not a field for ", scale.definition().name(),
                   ", which is scored from its answers; send answers, "
                   "reportedTotal or both"));
}

}  // namespace turnstone
