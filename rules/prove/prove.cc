#include "rules/prove/prove.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <map>
#include <utility>

#include "rules/engine/resolve_numbers.h"
#include "rules/prove/form_answers.h"
#include "rules/prove/over_forms.h"
#include "rules/prove/over_open_alerts.h"
#include "rules/prove/over_rows.h"
#include "rules/prove/row_memory.h"

namespace turnstone {
namespace {

class Prover {
 public:
  Prover(const Site& site, const Catalogue& catalogue, absl::Time from)
      : site_(site), catalogue_(catalogue), from_(from) {}

  // What `condition` looks at is told apart from here on.
  void LookAt(const v1::Condition& condition) {
    looked_at_.push_back(condition);
  }

  Proof Prove(const v1::PropertySet& set, v1::Property property);
  Proof Prove(v1::Division division);

 private:
  // Fills in the numbers of `message`. False, with the reason in `proof`, if
  // the rule set lacks one.
  bool Resolve(google::protobuf::Message& message, Proof& proof) const;
  // Null, with the reason in `proof`, if it is not there or has no items.
  const Scale* FindScale(const std::string& instrument, Proof& proof) const;
  void ProveOverForms(const v1::Property& property, const Scale& scale,
                      Proof& proof);
  void ProveOverRows(const v1::Property& property, Proof& proof);
  // Made once for an instrument: most properties are about the same forms.
  const FormAnswers& AnswersOn(const Scale& scale);

  const Site& site_;
  const Catalogue& catalogue_;
  absl::Time from_;
  std::vector<v1::Condition> looked_at_;
  std::map<std::string, FormAnswers> answers_;
};

bool Prover::Resolve(google::protobuf::Message& message, Proof& proof) const {
  ForEachNumber(message, [&](v1::Number& number) {
    if (!number.has_setting()) return;
    const auto setting = site_.settings.find(number.setting());
    if (setting != site_.settings.end()) {
      number.set_value(setting->second.value);
      return;
    }
    proof.why =
        absl::StrCat("the rule set has no setting \"", number.setting(), "\"");
  });
  return proof.why.empty();
}

const Scale* Prover::FindScale(const std::string& instrument,
                               Proof& proof) const {
  const Scale* scale = catalogue_.Find(instrument);
  if (scale == nullptr) {
    proof.why = absl::StrCat("there is no instrument \"", instrument, "\"");
  } else if (!scale->HasItems()) {
    proof.why = absl::StrCat("of \"", instrument, "\" only results are kept");
    scale = nullptr;
  }
  return scale;
}

const FormAnswers& Prover::AnswersOn(const Scale& scale) {
  const std::string& id = scale.definition().id();
  const auto known = answers_.find(id);
  if (known != answers_.end()) return known->second;
  std::set<size_t> items;
  if (const auto self_harm = scale.SelfHarmItem()) items.insert(*self_harm);
  for (const v1::Condition& condition : looked_at_) {
    AddItemsLookedAt(condition, scale, items);
  }
  for (const v1::Rule& rule : site_.rules.rule()) {
    AddItemsLookedAt(rule.condition(), scale, items);
  }
  return answers_.emplace(id, FormAnswers(site_, catalogue_, scale, items))
      .first->second;
}

void Prover::ProveOverForms(const v1::Property& property, const Scale& scale,
                            Proof& proof) {
  const FormAnswers& answers = AnswersOn(scale);
  if (property.has_never_lower()) {
    ProveNeverLower(property, site_, answers, proof);
  } else if (property.has_same_whatever_else()) {
    ProveSameWhateverElse(property, site_, answers, proof);
  } else {
    ProveRaisesOnForms(property, site_, answers, proof);
  }
}

void Prover::ProveOverRows(const v1::Property& property, Proof& proof) {
  if (property.has_given() && !HasMemory(property.given())) {
    proof.why =
        "what is given depends on the whole course, of which no two can be "
        "taken together";
    return;
  }
  if (property.has_every_visit_history()) {
    ProveOverVisits(property, site_, catalogue_, proof);
    return;
  }
  const Scale* scale =
      FindScale(property.every_score_path().instrument(), proof);
  if (scale != nullptr) {
    ProveOverScores(property, site_, catalogue_, *scale, proof);
  }
}

Proof Prover::Prove(const v1::PropertySet& set, v1::Property property) {
  Proof proof;
  proof.set = set.id();
  proof.id = property.id();
  proof.title = property.title();
  if (!Resolve(property, proof)) return proof;
  if (property.has_every_open_alert()) {
    ProveHasDeadline(site_, from_, proof);
  } else if (property.has_every_form()) {
    const Scale* scale = FindScale(property.every_form().instrument(), proof);
    if (scale != nullptr) ProveOverForms(property, *scale, proof);
  } else {
    ProveOverRows(property, proof);
  }
  return proof;
}

Proof Prover::Prove(v1::Division division) {
  Proof proof;
  proof.set = site_.rules.id();
  proof.id = division.id();
  proof.title = absl::StrCat("Of every complete ", division.instrument(),
                             " exactly one rule of the division speaks");
  if (!Resolve(division, proof)) return proof;
  const Scale* scale = FindScale(division.instrument(), proof);
  if (scale != nullptr) {
    ProveDivision(division, site_, AnswersOn(*scale), proof);
  }
  return proof;
}

}  // namespace

std::vector<Proof> Prove(const Site& site, const Catalogue& catalogue,
                         const std::vector<v1::PropertySet>& sets,
                         absl::Time from, const ProveProgress& progress) {
  Prover prover(site, catalogue, from);
  for (const v1::PropertySet& set : sets) {
    for (const v1::Property& property : set.property()) {
      prover.LookAt(property.given());
    }
  }
  for (const v1::Division& division : site.rules.division()) {
    prover.LookAt(division.among());
  }
  std::vector<Proof> proofs;
  for (const v1::PropertySet& set : sets) {
    for (const v1::Property& property : set.property()) {
      progress(property.id());
      proofs.push_back(prover.Prove(set, property));
    }
  }
  for (const v1::Division& division : site.rules.division()) {
    progress(division.id());
    proofs.push_back(prover.Prove(division));
  }
  return proofs;
}

}  // namespace turnstone
