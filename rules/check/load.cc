#include "rules/check/load.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <filesystem>
#include <list>
#include <memory>
#include <tuple>

#include "rules/check/check_certificates.h"
#include "rules/check/check_instrument.h"
#include "rules/check/check_property.h"
#include "rules/check/check_rule_set.h"
#include "rules/check/check_site.h"
#include "rules/check/known.h"
#include "rules/check/parse_text.h"
#include "rules/check/reliable_changes.h"
#include "rules/check/require.h"
#include "rules/check/review.h"

namespace turnstone {
namespace {

// Every parsed file of one kind, in order of path.
template <typename Message>
class FilesOf {
 public:
  // `what` they are: "instrument".
  FilesOf(const std::string& what, std::vector<Finding>& findings)
      : ids_(absl::StrCat(what, " id")), findings_(findings) {}

  // False if it could not be read.
  bool Add(const std::string& path, const std::string& text) {
    auto file = std::make_unique<File>();
    file->path = path;
    file->tree = ParseText(path, text, file->message, findings_);
    if (file->tree == nullptr) return false;
    const Place place = PlaceOf(*file);
    ids_.Add(place.At("id"), file->message.id());
    files_.push_back(std::move(file));
    return true;
  }

  // Calls `use` with each message and the place of its file.
  template <typename Use>
  void ForEach(Use use) const {
    for (const auto& file : files_) use(file->message, PlaceOf(*file));
  }

 private:
  struct File {
    std::string path;
    Message message;
    std::unique_ptr<TextFormat::ParseInfoTree> tree;
  };
  Place PlaceOf(const File& file) const {
    return Place(file.path, file.message, *file.tree, findings_);
  }

  Names ids_;
  std::vector<Finding>& findings_;
  std::vector<std::unique_ptr<File>> files_;  // never moved: Places point here
};

class Loader {
 public:
  void Parse(const std::map<std::string, std::string>& files);
  void Check(bool complete);
  // REQUIRES: Check came before.
  void Review();
  LoadResult Finish() &&;

 private:
  std::vector<Finding> findings_;
  FilesOf<v1::Instrument> instruments_{"instrument", findings_};
  FilesOf<v1::RuleSet> rule_sets_{"rule set", findings_};
  FilesOf<v1::SiteConfig> sites_{"site", findings_};
  FilesOf<v1::PropertySet> property_sets_{"property set", findings_};
  std::list<Scale> scales_;  // keeps addresses
  Known known_;
  std::vector<Coverage> coverage_;
  bool any_site_ = false;
  bool all_read_ = true;
};

void Loader::Parse(const std::map<std::string, std::string>& files) {
  for (const auto& [path, text] : files) {
    const std::string folder =
        std::filesystem::path(path).parent_path().filename().string();
    bool read = false;
    if (folder == "instruments") {
      read = instruments_.Add(path, text);
    } else if (folder == "packs") {
      read = rule_sets_.Add(path, text);
    } else if (folder == "sites") {
      read = sites_.Add(path, text);
      any_site_ = true;
    } else if (folder == "properties") {
      read = property_sets_.Add(path, text);
    } else {
      findings_.push_back({path, 0, 0,
                           "the folder does not tell what the file is",
                           "move it to a folder named instruments, packs, "
                           "properties or sites",
                           "folder-unknown"});
    }
    all_read_ = all_read_ && read;
  }
}

void Loader::Check(bool complete) {
  if (complete && !any_site_) {
    findings_.push_back({"sites/", 0, 0, "there is no site",
                         "add a file that describes one", "site-missing"});
  }
  // What a file that could not be read was to hold is not missing.
  known_.complete = complete && all_read_;
  Names panel_codes("panel code");
  instruments_.ForEach(
      [&](const v1::Instrument& instrument, const Place& file) {
        panel_codes.Add(file.At("panel_code"), instrument.panel_code());
        const Scale*& entry = known_.instruments[instrument.id()];
        if (auto scale = CheckInstrument(instrument, file)) {
          entry = &scales_.emplace_back(*std::move(scale));
        }
      });
  rule_sets_.ForEach([&](v1::RuleSet& rules, const Place& file) {
    TakeReliableChanges(rules, file, known_);
    known_.rule_sets[rules.id()] = &rules;
    CheckRuleSet(rules, file, known_);
  });
  CallersByUri callers;
  sites_.ForEach([&](v1::SiteConfig& site, const Place& file) {
    TakeReliableChanges(site, file, known_);
    CheckSite(site, file, known_);
    CheckOneCallerEach(site, file, callers);
  });
  property_sets_.ForEach([&](const v1::PropertySet& set, const Place& file) {
    CheckPropertySet(set, file, known_);
  });
}

void Loader::Review() {
  if (!findings_.empty()) return;
  rule_sets_.ForEach([&](const v1::RuleSet& rules, const Place& file) {
    if (auto coverage = ReviewRuleSet(rules, file, known_)) {
      coverage_.push_back(*std::move(coverage));
    }
  });
}

LoadResult Loader::Finish() && {
  LoadResult result;
  std::stable_sort(findings_.begin(), findings_.end(),
                   [](const Finding& a, const Finding& b) {
                     return std::tie(a.path, a.line, a.column) <
                            std::tie(b.path, b.line, b.column);
                   });
  result.findings = std::move(findings_);
  result.coverage = std::move(coverage_);
  if (!result.findings.empty()) return result;
  v1::Configuration& configuration = result.configuration.emplace();
  instruments_.ForEach([&](const v1::Instrument& instrument, const Place&) {
    *configuration.add_instrument() = instrument;
  });
  rule_sets_.ForEach([&](const v1::RuleSet& rules, const Place&) {
    *configuration.add_rule_set() = rules;
  });
  sites_.ForEach([&](const v1::SiteConfig& site, const Place&) {
    *configuration.add_site() = site;
  });
  property_sets_.ForEach([&](const v1::PropertySet& set, const Place&) {
    *configuration.add_property_set() = set;
  });
  return result;
}

}  // namespace

std::string Finding::ToString() const {
  const std::string place =
      line == 0 ? path : absl::StrCat(path, ":", line, ":", column);
  return absl::StrCat(place, ": ", message, "; ", advice);
}

LoadResult LoadConfiguration(const std::map<std::string, std::string>& files,
                             const LoadOptions& options) {
  Loader loader;
  loader.Parse(files);
  loader.Check(options.complete);
  if (options.review) loader.Review();
  return std::move(loader).Finish();
}

}  // namespace turnstone
