#include "clients/cli/submit_report.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/text.h"
#include "rules/check/free_text.h"

namespace turnstone::cli {
namespace {

using OrderedJson = nlohmann::ordered_json;

std::string ResultWord(LineState state) {
  switch (state) {
    case LineState::kOpen:
      return "unknown";
    case LineState::kAccepted:
      return "accepted";
    default:
      return "refused";
  }
}

}  // namespace

SubmitReport::SubmitReport(const Console& console, bool json)
    : console_(console), json_(json) {}

void SubmitReport::Add(const std::vector<InputLine>& lines) {
  ClearProgress();
  for (const InputLine& line : lines) {
    Tell(line);
    if (json_) TellJson(line);
  }
  console_.out.flush();
  ShowProgress();
}

void SubmitReport::Tell(const InputLine& line) {
  if (line.state == LineState::kOpen) {
    open_.push_back(line.number);
    return;
  }
  if (line.state != LineState::kAccepted) {
    ++refused_;
    console_.err << "line " << line.number
                 << ": refused: " << CleanLine(line.reason) << "\n";
    return;
  }
  ++accepted_;
  for (const std::string& warning : line.event ? FreeTextWarnings(*line.event)
                                               : std::vector<std::string>()) {
    console_.err << "line " << line.number << ": warning: " << warning << "\n";
  }
  if (line.accepted.repeated_submission()) ++known_already_;
  for (const std::string& alert : line.accepted.alert_id()) {
    if (std::find(alerts_.begin(), alerts_.end(), alert) == alerts_.end()) {
      alerts_.push_back(alert);
    }
  }
}

void SubmitReport::TellJson(const InputLine& line) {
  OrderedJson json = {{"line", line.number},
                      {"result", ResultWord(line.state)}};
  if (line.state == LineState::kAccepted) {
    json["sequence"] = line.accepted.sequence();
    json["knownAlready"] = line.accepted.repeated_submission();
    json["alertId"] = std::vector<std::string>(line.accepted.alert_id().begin(),
                                               line.accepted.alert_id().end());
  } else if (!line.reason.empty()) {
    json["reason"] = line.reason;
  }
  console_.out << json.dump(-1, ' ', false,
                            OrderedJson::error_handler_t::replace)
               << "\n";
}

void SubmitReport::ShowProgress() {
  if (!console_.err_is_terminal) return;
  console_.err << "accepted " << accepted_ << ", refused " << refused_
               << std::flush;
}

void SubmitReport::ClearProgress() {
  if (console_.err_is_terminal) {
    console_.err << "\r" << std::string(kPageWidth, ' ') << "\r";
  }
}

void SubmitReport::Finish(const absl::Status& status) {
  ClearProgress();
  std::string summary =
      absl::StrCat("accepted ", accepted_, " (of which ", known_already_,
                   " were known already), refused ", refused_);
  if (!alerts_.empty()) {
    absl::StrAppend(&summary, "; alerts: ", absl::StrJoin(alerts_, " "));
  }
  std::ostream& where = json_ ? console_.err : console_.out;
  where << WrapAfter("", CleanLine(summary), 2) << std::flush;
  if (status.ok()) return;
  const bool unknown = ExitCodeFor(status) == ExitCode::kUnknown;
  console_.err << WrapAfter(
      "",
      absl::StrCat(unknown ? "no known result: " : "not accepted: ",
                   open_.size() == 1 ? "line " : "lines ", LineNumbers(open_),
                   "; nothing after line ", open_.empty() ? 0 : open_.back(),
                   " was sent"),
      2);
}

std::string LineNumbers(const std::vector<int>& numbers) {
  std::vector<std::string> runs;
  for (size_t i = 0; i < numbers.size();) {
    size_t end = i;
    while (end + 1 < numbers.size() && numbers[end + 1] == numbers[end] + 1) {
      ++end;
    }
    runs.push_back(end == i ? absl::StrCat(numbers[i])
                            : absl::StrCat(numbers[i], " to ", numbers[end]));
    i = end + 1;
  }
  return absl::StrJoin(runs, ", ");
}

}  // namespace turnstone::cli
