// The words a rule's sentences are made of: its event, numbers and instruments.
#pragma once

#include <google/protobuf/repeated_ptr_field.h>

#include <map>
#include <string>
#include <vector>

#include "rules/engine/setup.h"
#include "rules/measure/catalogue.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

using Texts = google::protobuf::RepeatedPtrField<std::string>;

// The event a rule is asked about, as the parts of a sentence need it.
struct EventWords {
  std::string at_once;  // "when a PHQ-9 comes in"
  std::string after;    // "a PHQ-9", which follows "2 days after"
  std::string the;      // "the screening"
};

// "PHQ-9", "PHQ-9 or EPDS", "PHQ-9, GAD-7 or EPDS".
[[nodiscard]] std::string Alternatives(const std::vector<std::string>& words);
// "a PHQ-9", "an EPDS".
[[nodiscard]] std::string WithArticle(const std::string& words);
// As Alternatives, for words that may hold commas: each in quotation marks.
[[nodiscard]] std::string Quoted(const std::vector<std::string>& words);

// Everything it was made from must outlive it. Immutable; safe to share.
class RuleTerms {
 public:
  // REQUIRES: `rule` passed LoadConfiguration, and every setting it names is in
  // `settings`. An instrument that is not in `catalogue` goes by its id.
  RuleTerms(const v1::Rule& rule, const Catalogue& catalogue,
            const std::map<std::string, SettingInForce>& settings)
      : rule_(rule), catalogue_(catalogue), settings_(settings) {}

  [[nodiscard]] EventWords Event() const;
  // Whether the form the rule is asked about can be with one of these.
  [[nodiscard]] bool AsksAbout(const Texts& instruments) const;

  // "20", "20 (above-range)", "2 working days (due, site)", "80 % (share)".
  [[nodiscard]] std::string Number(const v1::Number& number,
                                   const std::string& unit = "") const;
  [[nodiscard]] int Value(const v1::Number& number) const;
  // " (above-range)", " (share, site)"; empty where the number is written out.
  [[nodiscard]] std::string Whose(const v1::Number& number) const;

  [[nodiscard]] std::string Instrument(const std::string& id) const;
  // "PHQ-9 or EPDS".
  [[nodiscard]] std::string Instruments(const Texts& ids) const;
  // "the PHQ-9 total", or "the latest PHQ-9 total" where the rule is asked
  // about something else.
  [[nodiscard]] std::string Total(const std::string& instrument) const;
  // "the self-harm item", "the PHQ-9 item "Feeling tired"".
  [[nodiscard]] std::string Item(bool self_harm,
                                 const std::string& question) const;
  // The labels, quoted, of results of the form asked about.
  [[nodiscard]] std::string Results(const Texts& codes) const;

 private:
  // Those the rule is asked about and the catalogue holds.
  [[nodiscard]] std::vector<const Scale*> Scales() const;

  const v1::Rule& rule_;
  const Catalogue& catalogue_;
  const std::map<std::string, SettingInForce>& settings_;
};

}  // namespace turnstone
