#include "tests/scenarios/play.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>

#include <functional>
#include <regex>
#include <utility>

#include "tests/scenarios/sentences.h"
#include "tests/scenarios/show.h"
#include "tests/scenarios/work_sentences.h"

namespace turnstone::scenarios {
namespace {

using Match = const std::smatch&;
using Doing = std::function<absl::StatusOr<Lines>(Match, World&)>;

absl::StatusOr<Lines> Quiet(const absl::Status& status) {
  if (!status.ok()) return status;
  return Lines();
}

// "9h", "3d", "2h30m".
absl::StatusOr<absl::Duration> ReadSpan(const std::string& text) {
  static const std::regex days("([0-9]{1,5})d");
  std::smatch match;
  if (std::regex_match(text, match, days)) {
    return absl::Hours(24) * std::stoi(match[1]);
  }
  absl::Duration span;
  if (absl::ParseDuration(text, &span)) return span;
  return absl::InvalidArgumentError("no length of time: " + text);
}

absl::StatusOr<Lines> Begin(Match match, World& world) {
  std::vector<std::string> sites = {"gull-rock"};
  if (match[2].matched) sites = absl::StrSplit(match[2].str(), ", ");
  return Quiet(world.Begin(sites, match[1]));
}

absl::StatusOr<Lines> Pass(Match match, World& world) {
  const auto span = ReadSpan(match[2]);
  if (!span.ok()) return span.status();
  return Quiet(match[1] == "advance" ? world.Advance(*span)
                                     : world.Down(*span));
}

absl::StatusOr<Lines> SetChannel(Match match, World& world) {
  const std::string is = match[2];
  world.channels().Set(match[1], is == "up"     ? ChannelIs::kUp
                                 : is == "down" ? ChannelIs::kDown
                                                : ChannelIs::kRefusing);
  return Lines();
}

absl::StatusOr<Lines> Submit(Match match, World& world) {
  std::optional<absl::Time> when;
  if (match[2].matched) {
    const auto read = ReadLocal(match[2], world.zone());
    if (!read.ok()) return read.status();
    when = *read;
  }
  return Quiet(world.Submit(match[1], when, match[3]));
}

absl::StatusOr<Lines> Override(Match match, World& world) {
  v1::Configuration configuration = world.core().configuration();
  v1::SiteConfig& site = *configuration.mutable_site(0);
  site.set_version(site.version() + 1);
  v1::DatedOverride& duty = *site.mutable_rota(0)->add_override();
  duty.add_person(match[1]);
  duty.set_from(absl::StrCat(match[2].str(), "T", match[3].str()));
  duty.set_until(absl::StrCat(match[4].str(), "T", match[5].str()));
  duty.set_reason(match[6]);
  return Quiet(world.Reload(configuration));
}

absl::StatusOr<Lines> Offer(Match match, World& world) {
  v1::OfferHandoverRequest request;
  request.set_site(world.Place("").first);
  request.set_to(match[1]);
  request.set_note(match[2]);
  v1::Actor by;
  by.set_name(match[3]);
  by.set_role(match[4]);
  const auto offer = world.core().StageOffer(request, by);
  return Quiet(offer.ok() ? world.Settle() : offer.status());
}

absl::StatusOr<Lines> AnswerOffer(Match match, World& world) {
  v1::AnswerHandoverRequest request;
  request.set_site(world.Place("").first);
  request.set_yes(match[1] == "take");
  v1::Actor by;
  by.set_name(match[2]);
  by.set_role(match[3]);
  const auto answer = world.core().StageAnswer(request, by);
  return Quiet(answer.ok() ? world.Settle() : answer.status());
}

absl::StatusOr<Lines> ShowIt(Match match, World& world) {
  return Show(match[1], world);
}

const std::vector<std::pair<std::regex, Doing>>& Sentences() {
  static const std::vector<std::pair<std::regex, Doing>> sentences = [] {
    std::vector<std::pair<std::regex, Doing>> all;
    all.emplace_back("start (.{16})(?: at (.+))?", Begin);
    all.emplace_back("(advance|down) (\\S+)", Pass);
    all.emplace_back("channel (\\S+) (up|down|refusing)", SetChannel);
    all.emplace_back("submit (\\S+)(?: of (.{16}))? (.+)", Submit);
    all.emplace_back(
        "reload: (\\S+) is on duty from (\\S+) (\\S+) until (\\S+) (\\S+), "
        "\"(.+)\"",
        Override);
    all.emplace_back(
        "offer the duty to (\\S+)(?: note \"(.*)\")? as (\\S+) (\\S+)", Offer);
    all.emplace_back("(take|decline) the duty as (\\S+) (\\S+)", AnswerOffer);
    all.emplace_back("show (.+)", ShowIt);
    return all;
  }();
  return sentences;
}

absl::StatusOr<Lines> Do(const std::string& text, World& world) {
  std::smatch match;
  if (!world.has_begun() && text.rfind("start ", 0) != 0) {
    return absl::InvalidArgumentError("start the service first");
  }
  for (const auto& [pattern, doing] : Sentences()) {
    if (std::regex_match(text, match, pattern)) return doing(match, world);
  }
  const auto work = WorkOf(text, world.zone());
  if (!work) return absl::InvalidArgumentError("not understood: " + text);
  const auto alert = world.core().StageWork(work->request, work->by);
  return Quiet(alert.ok() ? world.Settle() : alert.status());
}

}  // namespace

std::vector<std::string> Play(const Step& step, World& world) {
  const auto lines = Do(step.text, world);
  if (lines.ok()) return *lines;
  return absl::StrSplit(
      absl::StrCat("refused: ", std::string(lines.status().message())), '\n');
}

}  // namespace turnstone::scenarios
