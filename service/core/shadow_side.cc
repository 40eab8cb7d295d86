#include "service/core/shadow_side.h"

#include "service/core/lifecycle.h"

namespace turnstone {

std::unique_ptr<ShadowSide> ShadowSide::Load(
    const std::vector<StoredEvent>& events, const Setup& setup,
    const ParticipantKey& key) {
  const Site* const site = setup.FindSite(key.site);
  if (site == nullptr) return nullptr;
  // NOLINTNEXTLINE(modernize-make-unique): because the constructor is private.
  std::unique_ptr<ShadowSide> side(new ShadowSide(setup, *site, key));
  for (const StoredEvent& stored : events) {
    if (!side->history_.Apply(stored.event, setup.catalogue()).ok()) {
      return nullptr;
    }
  }
  side->agenda_.Refresh(side->history_, absl::InfinitePast(), std::nullopt,
                        *site);
  return side;
}

std::vector<v1::ShadowVerdict> ShadowSide::TakeIn(const v1::Event& event,
                                                  absl::Time asked_until,
                                                  absl::Time now) {
  const absl::StatusOr<HistoryChange> change =
      history_.Apply(event, setup_->catalogue());
  // A form the version cannot read leaves it as it was: what it then fails to
  // raise shows as missing beside the version in force.
  if (!change.ok()) return PassTime(asked_until, now);
  agenda_.Refresh(history_, change->from, change->corrected, *site_);
  return Ask({change->from, asked_until, now});
}

std::vector<v1::ShadowVerdict> ShadowSide::PassTime(absl::Time asked_until,
                                                    absl::Time now) const {
  return Ask({absl::InfiniteFuture(), asked_until, now});
}

std::vector<v1::ShadowVerdict> ShadowSide::Ask(const Asking& asking) const {
  std::vector<v1::ShadowVerdict> verdicts;
  for (const Answer& answer : Decide(*site_, history_, agenda_, asking)) {
    if (!answer.raise) continue;
    v1::ShadowVerdict& verdict = verdicts.emplace_back();
    verdict.set_digest(setup_->digest());
    verdict.set_site(key_.site);
    verdict.set_time_zone(site_->config.time_zone());
    verdict.set_participant(key_.participant);
    verdict.set_rule(answer.rule->id());
    verdict.set_rule_version(answer.rule->version());
    verdict.set_kind(answer.rule->kind());
    *verdict.mutable_occurrence() = MakeOccurrence(answer, asking.now);
  }
  return verdicts;
}

}  // namespace turnstone
