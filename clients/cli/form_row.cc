#include "clients/cli/form_row.h"

#include <absl/strings/ascii.h>
#include <absl/strings/numbers.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_replace.h>
#include <absl/strings/str_split.h>
#include <google/protobuf/util/time_util.h>

#include <algorithm>
#include <optional>
#include <vector>

#include "rules/check/event_time.h"
#include "rules/check/field_error.h"
#include "rules/measure/score.h"

namespace turnstone::cli {
namespace {

using google::protobuf::Timestamp;
using google::protobuf::util::TimeUtil;

constexpr size_t kLongestParticipant = 64;

absl::Status Wrong(const std::string& column, const std::string& wrong,
                   const std::string& write) {
  return absl::InvalidArgumentError(
      absl::StrCat(column, " ", wrong, "; write ", write));
}

// What the checks of events say, in the words of a table.
absl::Status InTableWords(const absl::Status& status) {
  return absl::Status(
      status.code(),
      absl::StrReplaceAll(status.message(), {{"reportedTotal", "total"},
                                             {"; send ", "; write "}}));
}

std::optional<int> WholeNumber(const std::string& cell) {
  int number = 0;
  if (!std::all_of(cell.begin(), cell.end(), absl::ascii_isdigit) ||
      !absl::SimpleAtoi(cell, &number)) {
    return std::nullopt;
  }
  return number;
}

std::optional<Timestamp> ReadTime(const std::string& cell,
                                  absl::TimeZone zone) {
  absl::CivilDay day;
  if (absl::ParseCivilTime(cell, &day) && day.year() >= 1 &&
      day.year() <= 9999 && absl::FormatCivilTime(day) == cell) {
    const absl::CivilSecond noon(day.year(), day.month(), day.day(), 12);
    return TimeUtil::SecondsToTimestamp(
        absl::ToUnixSeconds(absl::FromCivil(noon, zone)));
  }
  Timestamp stamp;
  if (TimeUtil::FromString(cell, &stamp)) return stamp;
  return std::nullopt;
}

absl::Status TakeDate(const std::string& cell, absl::TimeZone zone,
                      v1::Event& event) {
  const std::optional<Timestamp> time = ReadTime(cell, zone);
  if (!time) {
    return Wrong("date", cell.empty() ? "is missing" : "is not a day or a time",
                 "a day such as 2027-01-04, or a time such as "
                 "2027-01-04T09:30:00Z");
  }
  *event.mutable_effective_time() = *time;
  // Nothing is known here of the clock that the forms were dated by.
  return InTableWords(CheckHappened("date", *time, absl::InfiniteFuture()));
}

// The code of the answer meant by a code, or by the points it scores.
std::optional<std::string> AnswerCode(const Scale& scale, size_t item,
                                      const std::string& cell) {
  if (const std::optional<int> points = WholeNumber(cell)) {
    for (const v1::Answer& answer : scale.AnswersTo(item)) {
      if (scale.FindAnswer(item, answer.code())->points == points) {
        return answer.code();
      }
    }
  }
  if (scale.FindAnswer(item, cell) == nullptr) return std::nullopt;
  return cell;
}

absl::Status UnknownAnswer(const Scale& scale, size_t item) {
  std::vector<std::string> answers;
  for (const v1::Answer& answer : scale.AnswersTo(item)) {
    const auto points = scale.FindAnswer(item, answer.code())->points;
    answers.push_back(absl::StrCat(answer.code(),
                                   points ? absl::StrCat(" or ", *points) : "",
                                   " (", answer.label(), ")"));
  }
  const v1::Item& question = scale.definition().item(static_cast<int>(item));
  return Wrong(
      absl::StrCat("answers: number ", item + 1),
      absl::StrCat("is not an answer to \"", question.label(), "\""),
      absl::StrCat("- for none, or one of ", absl::StrJoin(answers, ", ")));
}

absl::Status WrongCount(const Scale& scale, size_t given, int fewest) {
  const v1::Instrument& instrument = scale.definition();
  const bool may_end_early = fewest < instrument.item_size();
  return Wrong(
      "answers",
      absl::StrCat("holds ", given, ", but ", instrument.name(), " has ",
                   instrument.item_size(), " questions"),
      absl::StrCat("one for each in printed order, separated by ; with - for "
                   "none",
                   may_end_early ? absl::StrCat("; those after the first ",
                                                fewest, " may be left off")
                                 : ""));
}

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
  for (size_t item = 0; item < cells.size(); ++item) {
    const std::string cell(absl::StripAsciiWhitespace(cells[item]));
    if (cell.empty() || cell == "-") continue;
    const std::optional<std::string> code = AnswerCode(scale, item, cell);
    if (!code) return UnknownAnswer(scale, item);
    v1::ItemAnswer& answer = *form.add_answers();
    answer.set_question(instrument.item(static_cast<int>(item)).code());
    answer.set_answer(*code);
  }
  return absl::OkStatus();
}

absl::Status TakeForm(const FormRow& row, const Catalogue& catalogue,
                      v1::ScreeningResult& form) {
  const Scale* scale = catalogue.Find(row.instrument);
  if (scale == nullptr) {
    return Wrong(
        "instrument",
        row.instrument.empty() ? "is missing" : "is not known here",
        absl::StrCat("one of ", catalogue.Ids(), ", or its LOINC panel code"));
  }
  if (!scale->HasItems()) {
    return Wrong("instrument", "has only a result, which no column holds",
                 "the form as an event, as turnstone submit takes it");
  }
  form.set_instrument(scale->definition().id());
  absl::Status status = TakeAnswers(*scale, row.answers, form);
  if (!status.ok()) return status;
  if (!row.total.empty()) {
    const std::optional<int> total = WholeNumber(row.total);
    // No instrument has a negative total, so this says what it may be.
    form.set_reported_total(total.value_or(-1));
  } else if (form.answers().empty()) {
    return Wrong("answers", "and total hold nothing",
                 "at least one answer, or the total");
  }
  return InTableWords(ScoreForm(*scale, form).status());
}

}  // namespace

absl::StatusOr<v1::Event> EventFrom(const FormRow& row,
                                    const Catalogue& catalogue,
                                    absl::TimeZone zone) {
  v1::Event event;
  event.set_source("file");
  // Padded: where times are equal, ids decide which form came first.
  event.set_event_id(
      absl::StrCat("line-", absl::Dec(row.line, absl::kZeroPad8)));
  event.set_participant(row.participant);
  absl::Status status = InTableWords(
      CheckIdentifier("participant", row.participant, kLongestParticipant));
  if (status.ok()) status = TakeDate(row.date, zone, event);
  if (status.ok()) {
    status = TakeForm(row, catalogue, *event.mutable_screening_result());
  }
  if (!status.ok()) return status;
  return event;
}

}  // namespace turnstone::cli
