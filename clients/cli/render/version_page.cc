#include "clients/cli/render/version_page.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"

namespace turnstone::cli {
namespace {

constexpr size_t kShortDigest = 12;

std::string StatusInWords(const v1::RuleVersion& version) {
  const std::string shadow = version.has_shadow_since() ? ", in shadow" : "";
  switch (version.status()) {
    case v1::VERSION_STATUS_IN_FORCE:
      return absl::StrCat("in force", shadow);
    case v1::VERSION_STATUS_AWAITS_CONFIRMATION:
      return absl::StrCat("WAITS FOR A SECOND PERSON", shadow);
    case v1::VERSION_STATUS_PROPOSED:
      return absl::StrCat("proposed, not in force", shadow);
    case v1::VERSION_STATUS_RETIRED:
      return absl::StrCat("was in force", shadow);
    default:
      return absl::StrCat("replaced by a newer proposal", shadow);
  }
}

std::string Title(const v1::RuleVersion& version) {
  return absl::StrCat(ShortDigest(version.digest()), "  ",
                      absl::StrJoin(version.rule_set(), ", "));
}

void FewerSafetyFacts(const v1::RuleVersion& version, Page& page) {
  if (version.fewer_safety().empty()) return;
  page.Text("There may be fewer safety alerts than before:");
  for (const std::string& why : version.fewer_safety()) {
    page.Fact("  -", why);
  }
}

void TypeNext(const v1::RuleVersion& version, Page& page) {
  if (version.status() == v1::VERSION_STATUS_AWAITS_CONFIRMATION) {
    page.Fact("a second person",
              "turnstone rules confirm proposed --because \"WHY\"");
  }
  if (version.status() == v1::VERSION_STATUS_PROPOSED) {
    page.Fact("to try it out",
              "turnstone rules shadow proposed --because \"WHY\"");
    page.Fact("into force",
              "turnstone rules activate proposed --because \"WHY\"");
  }
}

void History(const v1::RuleVersion& version, absl::TimeZone zone, Page& page) {
  for (const v1::VersionChange& change : version.history()) {
    const std::string by =
        change.by().role() == "service"
            ? change.by().name()
            : absl::StrCat(change.by().name(), " (", change.by().role(), ")");
    page.Fact(change.what(), absl::StrCat(DateTime(change.at(), zone), " by ",
                                          by, ": ", change.reason()));
    page.Fact("proof", change.proof());
  }
}

}  // namespace

std::string ShortDigest(const std::string& digest) {
  return digest.substr(0, kShortDigest);
}

std::string VersionsPage(const v1::VersionList& dirty) {
  const v1::VersionList list = Cleaned(dirty);
  const absl::TimeZone zone = Zone(list.time_zone());
  Page page;
  page.Line("Versions of the rules");
  for (const v1::RuleVersion& version : list.version()) {
    page.Section(Title(version));
    page.Fact("status", StatusInWords(version));
    FewerSafetyFacts(version, page);
    History(version, zone, page);
    TypeNext(version, page);
  }
  return page.ToString();
}

std::string ActivatedText(const v1::RuleVersion& dirty) {
  const v1::RuleVersion version = Cleaned(dirty);
  Page page;
  page.Line(absl::StrCat(Title(version), ": ", StatusInWords(version)));
  if (version.history_size() > 0) {
    page.Text(version.history(version.history_size() - 1).proof());
  }
  FewerSafetyFacts(version, page);
  TypeNext(version, page);
  return page.ToString();
}

std::string ShadowedText(const v1::RuleVersion& dirty) {
  const v1::RuleVersion version = Cleaned(dirty);
  Page page;
  page.Line(absl::StrCat(
      Title(version), ": ",
      version.has_shadow_since() ? "in shadow from now on" : "out of shadow"));
  if (version.has_shadow_since()) {
    page.Text(
        "It tells nobody and changes nothing. What it would have raised: "
        "turnstone rules shadow");
  }
  return page.ToString();
}

}  // namespace turnstone::cli
