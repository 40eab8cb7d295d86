#include "service/core/configuration.h"

#include <absl/strings/escaping.h>
#include <absl/strings/str_cat.h>
#include <google/protobuf/io/coded_stream.h>
#include <google/protobuf/io/zero_copy_stream_impl_lite.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "rules/duty/concerns.h"
#include "rules/measure/catalogue.h"
#include "rules/measure/time_words.h"
#include "service/core/digest.h"

namespace turnstone {
namespace {

std::string Serialise(const v1::Configuration& configuration) {
  std::string bytes;
  google::protobuf::io::StringOutputStream stream(&bytes);
  google::protobuf::io::CodedOutputStream coded(&stream);
  coded.SetSerializationDeterministic(true);
  configuration.SerializeToCodedStream(&coded);
  coded.Trim();
  return bytes;
}

template <typename List>
absl::Status CheckKept(const List& current, const List& next,
                       const std::string& what) {
  std::set<std::string> kept;
  for (const auto& one : next) kept.insert(one.id());
  for (const auto& one : current) {
    if (kept.count(one.id()) == 0) {
      return absl::FailedPreconditionError(absl::StrCat(
          what, " \"", one.id(),
          "\" is in force but missing from the new "
          "configuration; put it back, so that what rests on it can be read"));
    }
  }
  return absl::OkStatus();
}

// Everything a stored form of the instrument may say: its panel code,
// questions, each with its answers, and results.
std::set<std::string> CodesOf(const Scale& scale) {
  const v1::Instrument& instrument = scale.definition();
  std::set<std::string> codes;
  if (instrument.has_panel_code()) {
    codes.insert(absl::StrCat("panel code ", instrument.panel_code()));
  }
  for (int i = 0; i < instrument.item_size(); ++i) {
    const v1::Item& item = instrument.item(i);
    std::vector<std::string> questions(item.also_coded().begin(),
                                       item.also_coded().end());
    questions.push_back(item.code());
    for (const std::string& question : questions) {
      codes.insert(absl::StrCat("question ", question));
      for (const v1::Answer& answer : scale.AnswersTo(static_cast<size_t>(i))) {
        codes.insert(
            absl::StrCat("answer ", answer.code(), " to question ", question));
      }
    }
  }
  for (const v1::Result& result : instrument.result()) {
    codes.insert(absl::StrCat("result ", result.code()));
  }
  return codes;
}

// Stored forms must go on being readable: codes may be added, never dropped.
absl::Status CheckCodesKept(const v1::Instrument& current,
                            const v1::Instrument& next) {
  const Scale before(current);
  const Scale after(next);
  const std::set<std::string> kept = CodesOf(after);
  for (const std::string& code : CodesOf(before)) {
    if (kept.contains(code)) continue;
    return absl::FailedPreconditionError(absl::StrCat(
        code, " of instrument \"", current.id(),
        "\" is in force but missing from the new configuration; put it back, "
        "so that the forms on record can be read, or give the changed "
        "instrument another id"));
  }
  // Totals on record must stay possible.
  if (before.Multiplier() == after.Multiplier() &&
      after.Range().low <= before.Range().low &&
      before.Range().high <= after.Range().high) {
    return absl::OkStatus();
  }
  return absl::FailedPreconditionError(absl::StrCat(
      "instrument \"", current.id(), "\" gives totals from ",
      before.Range().low, " to ", before.Range().high,
      " in force, but not in the new configuration; put its scores back, or "
      "give the changed instrument another id"));
}

}  // namespace

std::string DigestOf(const v1::Configuration& configuration) {
  return absl::BytesToHexString(Sha256(Serialise(configuration)));
}

absl::Status CheckSuccessor(const v1::Configuration& current,
                            const v1::Configuration& next) {
  absl::Status status =
      CheckKept(current.instrument(), next.instrument(), "instrument");
  if (!status.ok()) return status;
  status = CheckKept(current.site(), next.site(), "site");
  if (!status.ok()) return status;
  for (const v1::Instrument& instrument : current.instrument()) {
    const auto& all = next.instrument();
    const auto successor = std::find_if(
        all.begin(), all.end(),
        [&](const auto& one) { return one.id() == instrument.id(); });
    status = CheckCodesKept(instrument, *successor);
    if (!status.ok()) return status;
  }
  return absl::OkStatus();
}

absl::Status CheckLadders(const v1::Configuration& configuration) {
  for (const v1::SiteConfig& site : configuration.site()) {
    if (site.ladder().empty()) {
      return absl::FailedPreconditionError(absl::StrCat(
          "site \"", site.id(),
          "\" as it is on record has no ladders, so nobody would be told of "
          "anything; mend the site's file, then start again"));
    }
  }
  return absl::OkStatus();
}

absl::Status CheckStaffed(const Setup& setup, absl::Time now) {
  for (const auto& [id, site] : setup.sites()) {
    for (const Gap& gap : StaffingGaps(site.team, now, {})) {
      if (!site.team.FindRota(gap.role)->gaps_because().empty()) continue;
      return absl::FailedPreconditionError(absl::StrCat(
          "site \"", id, "\": no ", gap.role, " is on duty from ",
          MomentInWords(gap.from, site.calendar.zone()), " to ",
          MomentInWords(gap.until, site.calendar.zone()),
          "; fill the rota, or say gaps_because why that is right"));
    }
  }
  return absl::OkStatus();
}

absl::Status CheckReadyForPeople(const v1::Configuration& configuration) {
  for (const v1::SiteConfig& site : configuration.site()) {
    if (site.immediate_danger().find("PLACEHOLDER") != std::string::npos) {
      return absl::FailedPreconditionError(absl::StrCat(
          "site \"", site.id(),
          "\": immediate_danger is still the "
          "PLACEHOLDER; write the site's own emergency number and words there "
          "before the service may run on real time"));
    }
  }
  return absl::OkStatus();
}

}  // namespace turnstone
