#include "tests/faults/life.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <iostream>

#include "rules/measure/proto_time.h"
#include "tests/faults/rows.h"
#include "tests/faults/rows_check.h"
#include "tests/faults/sites.h"
#include "tests/support/events.h"

namespace turnstone::faults {
namespace {

// Days around which the calendar is not as on any other.
absl::Time AnyBeginning(Random& random) {
  const std::vector<std::string> beginnings = {
      "2027-01-04T10:00:00Z",  // an ordinary Monday
      "2027-03-25T15:30:00Z",  // before the clocks change, and Easter
      "2027-10-29T16:00:00Z",  // before they change back
      "2027-12-30T08:00:00Z"};
  const absl::Time day = At(random.OneOf(beginnings));
  return day + absl::Minutes(random.Below(int64_t{24} * 60));
}

std::vector<ParticipantKey> ParticipantsOf(const v1::SiteConfig& site,
                                           int count) {
  std::vector<ParticipantKey> keys;
  keys.reserve(static_cast<size_t>(count));
  // The same names at both sites: nothing may be mixed up.
  for (int i = 1; i <= count; ++i) {
    keys.push_back({site.id(), absl::StrCat("p-", i)});
  }
  return keys;
}

}  // namespace

Life::Life(const SimulationOptions& options, const std::string& folder)
    : options_(options),
      folder_(folder),
      random_(options.seed),
      swarm_(DrawSwarm(random_, options.disk_may_fill)),
      files_(TwoSites()),
      clock_(AnyBeginning(random_)),
      disk_(random_.Next()),
      service_(disk_, clock_, folder, files_, swarm_.in_memory),
      post_(random_),
      courier_(service_, post_, clock_),
      findings_(auditor_.findings()),
      began_(clock_.Now()) {
  Say(swarm_.ToString());
  std::vector<ParticipantKey> all;
  for (const v1::SiteConfig& site : files_.site()) {
    const auto some = ParticipantsOf(site, swarm_.participants);
    all.insert(all.end(), some.begin(), some.end());
    intakes_.emplace_back(absl::StrCat("urn:intake:", site.id()), some, swarm_,
                          random_);
  }
  intakes_.emplace_back("urn:intake:both", all, swarm_, random_);
  StartAgain();
}

void Life::Say(const std::string& what) {
  if (!options_.verbose) return;
  std::cout << absl::FormatTime("%Y-%m-%d %H:%M:%S", clock_.Now(),
                                absl::UTCTimeZone())
            << " [" << disk_.operations() << "] " << what << "\n";
}

void Life::Step() {
  Interfere();
  CommitRound::Batch batch;
  if (Happens(swarm_.submits)) Submit(batch);
  if (Happens(swarm_.works)) Work(batch);
  if (Happens(swarm_.hands_over)) HandOver(batch);
  if (service_.runs() && !batch.changes.empty()) {
    auditor_.TimeIs(clock_);
    service_.round().Do(batch);
  }
  if (service_.runs() && Happens(swarm_.reloads)) Reload();
  if (service_.runs() && Happens(swarm_.shadows)) TouchShadow();
  if (service_.runs() && Happens(swarm_.stops)) StopAndStart();
  Settle();
  Pass(AnyTime());
}

void Life::Heal() {
  Say("everything is well from now on");
  swarm_.answer_lost = 0;
  swarm_.sent_again = 0;
  swarm_.sent_with_other_content = 0;
  swarm_.arms_death = 0;
  swarm_.arms_failure = 0;
  swarm_.is_wrong = 0;
  swarm_.stays_down = 0;
  disk_.Heal();
  disk_.SetCapacity(std::nullopt);
  post_.MendAll();
  if (!service_.runs()) Revive();
}

void Life::QuietStep() {
  CommitRound::Batch batch;
  for (Intake& intake : intakes_) intake.Hurry(auditor_.now());
  swarm_.is_large = 0;
  Submit(batch);
  CloseEverything(batch);
  auditor_.TimeIs(clock_);
  service_.round().Do(batch);
  Settle();
  Pass(absl::Hours(14));
}

void Life::End() {
  if (!goes_on()) return;
  for (const Intake& intake : intakes_) {
    if (intake.waiting() == 0) continue;
    findings_.Add("BrokeDurable", intake.waiting(),
                  " events have no answer, though nothing is wrong any more");
  }
  v1::ListOutboxRequest request;
  request.add_status(v1::MESSAGE_STATUS_OWED);
  request.set_page_size(500);
  const auto outbox = service_.core().ListOutbox(request, SiteScope::All());
  if (!outbox.ok()) {
    return findings_.Add("BrokeDurable", outbox.status().ToString());
  }
  for (const v1::OwedMessage& message : outbox->message()) {
    if (FromProto(message.next_attempt_at()) > auditor_.now()) continue;
    findings_.Add("BrokeOnTime", message.key(), " is owed since ",
                  absl::FormatTime(FromProto(message.owed_since())),
                  " and is not sent, though all channels are well");
  }
  service_.End();
  report_.operations = disk_.operations();
  CheckRows(folder_, {files_, auditor_.done(), post_.taken()}, findings_);
  report_.digest = DigestOfStore(folder_);
}

SimulationReport Life::report() {
  report_.broke = findings_.first();
  report_.hours = absl::ToDoubleHours(clock_.Elapsed());
  report_.events = static_cast<int64_t>(auditor_.events().accepted());
  report_.alerts = static_cast<int64_t>(auditor_.alerts().seen().size());
  report_.sendings = post_.sent();
  return report_;
}

}  // namespace turnstone::faults
