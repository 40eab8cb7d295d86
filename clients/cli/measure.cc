#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <iterator>
#include <memory>
#include <utility>

#include "clients/cli/caseload.h"
#include "clients/cli/commands.h"
#include "clients/cli/config_files.h"
#include "clients/cli/json_line.h"
#include "clients/cli/measure_input.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/findings.h"
#include "clients/cli/render/measure_page.h"
#include "clients/cli/render/text.h"
#include "platform/files.h"
#include "rules/check/load.h"

namespace turnstone::cli {
namespace {

struct MeasureOptions {
  std::string file;
  std::vector<std::string> config = {"rules"};
  std::string participant;  // empty: everybody
  std::string zone = "UTC";
};

// The instruments. Findings are told on `console`.
absl::StatusOr<Catalogue> ReadInstruments(
    const Console& console, const std::vector<std::string>& paths) {
  const auto files = ReadConfigFiles(paths);
  const std::string advice =
      "write --config and a folder that holds "
      "instruments/, such as turnstone's own rules/";
  if (!files.ok()) {
    return absl::NotFoundError(absl::StrCat(
        "no instruments: ", files.status().message(), "\n", advice));
  }
  LoadResult result = LoadConfiguration(files->text, {});
  console.err << FindingsText(result.findings, files->text, /*json=*/false);
  if (!result.configuration) {
    return absl::FailedPreconditionError(
        "the configuration is refused; mend what is named above");
  }
  if (result.configuration->instrument().empty()) {
    return absl::NotFoundError(absl::StrCat(
        "no instruments in ", absl::StrJoin(paths, ", "), "; ", advice));
  }
  return Catalogue({result.configuration->instrument().begin(),
                    result.configuration->instrument().end()});
}

absl::StatusOr<std::string> ReadText(const Console& console,
                                     const std::string& path) {
  if (path != "-") return ReadFile(path);
  std::string text{std::istreambuf_iterator<char>(console.in), {}};
  if (!console.in.bad()) return text;
  return absl::DataLossError("the input could not be read to its end");
}

// Everything said of a line, in order of line; how many were refused.
int64_t TellRefused(const Console& console, std::vector<RefusedLine> refused) {
  std::stable_sort(refused.begin(), refused.end(),
                   [](const RefusedLine& a, const RefusedLine& b) {
                     return a.line < b.line;
                   });
  for (const RefusedLine& line : refused) {
    console.err << "line " << line.line
                << ": refused: " << CleanLine(line.reason) << "\n";
  }
  return std::ssize(refused);
}

ExitCode ShowMeasured(const Console& console, const Settings& settings,
                      const MeasureOptions& options,
                      std::vector<v1::MeasuredParticipant> all) {
  if (!options.participant.empty()) {
    std::erase_if(all, [&](const v1::MeasuredParticipant& participant) {
      return participant.participant() != options.participant;
    });
  }
  if (all.empty()) {
    console.err
        << "turnstone: nothing measured: "
        << (options.participant.empty()
                ? "no line holds a form that can be scored; turnstone "
                  "measure --help says\nwhat to write\n"
                : "no form of that participant can be scored; write "
                  "another --participant, or\nleave it out for everybody\n");
    return ExitCode::kRefused;
  }
  if (!settings.json) {
    console.out << MeasurePage(all, options.zone);
    return ExitCode::kDone;
  }
  for (const v1::MeasuredParticipant& participant : all) {
    console.out << JsonLine(participant);
  }
  return ExitCode::kDone;
}

ExitCode Measure(const Console& console, const Settings& settings,
                 const MeasureOptions& options) {
  absl::TimeZone zone;
  if (!absl::LoadTimeZone(options.zone, &zone)) {
    return ReportUsage(console, absl::InvalidArgumentError(
                                    "--zone is not a time zone; write its "
                                    "IANA name, such as Europe/Dublin"));
  }
  const auto catalogue = ReadInstruments(console, options.config);
  if (!catalogue.ok()) return ReportUsage(console, catalogue.status());
  const auto text = ReadText(console, options.file);
  if (!text.ok()) {
    return ReportUsage(
        console, absl::Status(text.status().code(),
                              absl::StrCat(text.status().message(),
                                           "\nwrite the name of a file of "
                                           "forms, or - for standard input")));
  }
  MeasureInput input = ReadMeasureInput(*text, *catalogue, zone);
  Caseload caseload(*catalogue);
  for (const NumberedEvent& numbered : input.events) {
    const absl::Status taken = caseload.Take(numbered.event);
    if (taken.ok()) continue;
    input.refused.push_back({numbered.line, std::string(taken.message())});
  }
  const int64_t refused = TellRefused(console, std::move(input.refused));
  const ExitCode shown =
      ShowMeasured(console, settings, options, caseload.Measure(zone));
  return refused > 0 ? ExitCode::kRefused : shown;
}

}  // namespace

void AddMeasure(CLI::App& app, Command& chosen) {
  auto* command = app.add_subcommand(
      "measure",
      "scores, change and trend of a file of forms, without the "
      "service");
  auto options = std::make_shared<MeasureOptions>();
  command->add_option("FILE", options->file, "the file; - is standard input")
      ->required();
  command
      ->add_option("--config", options->config,
                   "files or folders with instruments (default rules)")
      ->allow_extra_args(false);
  command->add_option("--participant", options->participant,
                      "only this participant");
  command->add_option("--zone", options->zone,
                      "whose days to show, e.g. Europe/Dublin (default UTC)");
  command->footer(
      "FILE is a table with commas between the columns and their names in the "
      "first row,\nor holds events as turnstone submit takes them.\n"
      "  participant  an id, never a name\n"
      "  date         a day (2027-01-04: noon in --zone) or a time\n"
      "               (2027-01-04T09:30:00Z)\n"
      "  instrument   phq-9, gad-7, ...\n"
      "  answers      in printed order, separated by ; with - where there is "
      "none:\n"
      "               2;1;0;-;1;0;0;1;0. Each is the points it scores or its "
      "code;\n"
      "               its code alone where the same answer scores differently "
      "from\n"
      "               question to question, as in gds-15\n"
      "  total        the total reported, beside the answers or alone\n"
      "A line that cannot be used is refused with its number and the reason; "
      "the others\nare measured.");
  command->callback([options, &chosen] {
    chosen = [options](const Console& console, const Settings& settings) {
      return Measure(console, settings, *options);
    };
  });
}

}  // namespace turnstone::cli
