#include "clients/cli/form_row.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_replace.h>
#include <absl/strings/str_split.h>
#include <google/protobuf/util/time_util.h>

#include <optional>
#include <vector>

#include "clients/cli/form_answers.h"
#include "clients/cli/form_cell.h"
#include "rules/check/event_time.h"
#include "rules/check/field_error.h"
#include "rules/check/suggest.h"
#include "rules/measure/proto_time.h"
#include "rules/measure/score.h"

namespace turnstone::cli {
namespace {

using google::protobuf::Timestamp;
using google::protobuf::util::TimeUtil;

constexpr size_t kLongestParticipant = 64;

// What the checks of events say, in the words of a table.
absl::Status InTableWords(const absl::Status& status) {
  return absl::Status(
      status.code(),
      absl::StrReplaceAll(status.message(), {{"reportedTotal", "total"},
                                             {"; send ", "; write "}}));
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
    return WrongCell("date",
                     cell.empty() ? "is missing" : "is not a day or a time",
                     "a day such as 2027-01-04, or a time such as "
                     "2027-01-04T09:30:00Z");
  }
  *event.mutable_effective_time() = *time;
  // Nothing is known here of the clock that the forms were dated by.
  return InTableWords(CheckHappened("date", *time, absl::InfiniteFuture()));
}

// That none was answered is a fact somebody must see; a table does not say why.
void SayUnanswered(const v1::Instrument& instrument,
                   v1::ScreeningResult& form) {
  for (const v1::Item& item : instrument.item()) {
    v1::ItemAnswer& answer = *form.add_answers();
    answer.set_question(item.code());
    answer.set_absent(v1::DATA_ABSENT_REASON_ASKED_UNKNOWN);
  }
}

absl::Status UnknownInstrument(const std::string& cell,
                               const Catalogue& catalogue) {
  const std::vector<std::string> ids = absl::StrSplit(catalogue.Ids(), ", ");
  return absl::InvalidArgumentError(absl::StrCat(
      "instrument ", cell.empty() ? "is missing" : "is not known here", "; ",
      Suggest(absl::AsciiStrToLower(cell), ids),
      "; a LOINC panel code will do as well"));
}

absl::Status TakeForm(const FormRow& row, const Catalogue& catalogue,
                      v1::ScreeningResult& form) {
  const Scale* scale = catalogue.Find(row.instrument);
  if (scale == nullptr) {
    return UnknownInstrument(row.instrument, catalogue);
  }
  if (!scale->HasItems()) {
    return WrongCell("instrument", "has only a result, which no column holds",
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
    if (row.answers.empty()) {
      return WrongCell(
          "answers", "and total hold nothing",
          "at least one answer, the total, or - for every question if "
          "none was answered");
    }
    SayUnanswered(scale->definition(), form);
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
