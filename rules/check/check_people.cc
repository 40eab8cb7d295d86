#include "rules/check/check_people.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <array>

#include "rules/check/check_certificates.h"
#include "rules/check/check_times.h"
#include "rules/check/plausible.h"
#include "rules/duty/team.h"

namespace turnstone {
namespace {

// Whoever is no person at a site; their rights are not a site's to give.
constexpr char kService[] = "service";
constexpr std::array<const char*, 4> kReserved = {kIntakeSystem, kOperator,
                                                  kAuditor, kService};

void CheckAddress(const v1::Reach& reach, const v1::Channel& channel,
                  const Place& place) {
  if (channel.has_webhook() && !reach.address().empty()) {
    place.At("address").Report(
        "address-not-needed", "a webhook takes no address",
        "leave it out; the receiver knows the person by the id");
  }
  if (!channel.has_smtp()) return;
  if (!RequireText(place, "address", "the e-mail address")) return;
  if (IsMailAddress(reach.address())) return;
  place.At("address").Report(
      "address-wrong",
      absl::StrCat("address \"", reach.address(), "\" is no e-mail address"),
      "write it without a name or brackets, such as "
      "\"somebody@harbour-row.example\"");
}

void CheckSystemRole(const v1::System& system, const Place& place) {
  const auto& role = system.role();
  if (role == kIntakeSystem || role == kOperator || role == kAuditor) return;
  place.At("role").Report(
      "system-role-unknown",
      absl::StrCat("role \"", role, "\" is none that a system has"),
      "write intake-system, operator or auditor; whoever is a person stands "
      "under person");
}

void CheckReach(const v1::Person& person, const Place& place,
                const Staff& staff) {
  Names channels("channel");
  for (int i = 0; i < person.reach_size(); ++i) {
    const v1::Reach& reach = person.reach(i);
    const Place at = place.At("reach", i);
    const v1::Channel* channel =
        RequireKnown(at, "channel", reach.channel(), "channel", staff.channels);
    if (channel == nullptr) continue;
    channels.Add(at.At("channel"), reach.channel());
    CheckAddress(reach, *channel, at);
  }
}

void CheckCallerId(const std::string& id, const Place& place) {
  if (!RequireText(place, "id", "the name they call the service by")) return;
  if (IsPersonId(id)) return;
  place.At("id").Report(
      "name-not-plain", absl::StrCat("id \"", id, "\" cannot be a person's"),
      "write 1 to 100 printable ASCII characters, without comma or slash and "
      "without a space at either end, such as \"r.sorrel\"");
}

void RequireSomebody(const v1::SiteConfig& site, const Place& file,
                     const Staff& staff, v1::Right right,
                     const std::string& so) {
  for (const v1::Person& person : site.person()) {
    if (staff.May(person, right)) return;
  }
  file.Report(
      "nobody-may",
      absl::StrCat("nobody may ", v1::Right_Name(right), ", so ", so),
      absl::StrCat("write may: ", v1::Right_Name(right),
                   " in a role, and a person { ... } who has that role"));
}

}  // namespace

void CheckRoles(const v1::SiteConfig& site, const Place& file) {
  Names ids("role");
  for (int i = 0; i < site.role_size(); ++i) {
    const std::string& id = site.role(i).id();
    const Place place = file.At("role", i);
    RequireId(place, "id");
    ids.Add(place.At("id"), id);
    if (std::find(kReserved.begin(), kReserved.end(), id) != kReserved.end()) {
      place.At("id").Report(
          "role-reserved",
          absl::StrCat("role \"", id, "\" is the service's own"),
          "choose another name");
    }
    RequireText(place, "title", "words for people");
    RequireChoices(place, "may");
    RefuseRepeats(place, "may");
  }
}

void CheckPersons(const v1::SiteConfig& site, const Place& file,
                  const Staff& staff) {
  Names ids("person");
  Names uris("certificate_uri");
  for (int i = 0; i < site.person_size(); ++i) {
    const v1::Person& person = site.person(i);
    const Place place = file.At("person", i);
    CheckCallerId(person.id(), place);
    ids.Add(place.At("id"), person.id());
    CheckCertificates(person.certificate_uri(), place, uris);
    RequireKnown(place, "role", person.role(), "role", staff.roles);
    CheckReach(person, place, staff);
    if (person.digest_at().empty()) continue;
    CheckTimeOfDay(place.At("digest_at"), "digest_at", person.digest_at(),
                   kBegins);
  }
  for (int i = 0; i < site.system_size(); ++i) {
    const v1::System& system = site.system(i);
    const Place place = file.At("system", i);
    CheckCallerId(system.id(), place);
    ids.Add(place.At("id"), system.id());
    CheckCertificates(system.certificate_uri(), place, uris);
    CheckSystemRole(system, place);
  }
}

void CheckRights(const v1::SiteConfig& site, const Place& file,
                 const Staff& staff) {
  RequireSomebody(site, file, staff, v1::WORK, "no alert could be received");
  RequireSomebody(site, file, staff, v1::CLOSE_LATCHED,
                  "a latched alert could never be closed");
  if (site.second_person().empty()) return;
  RequireChoices(file, "second_person");
  RefuseRepeats(file, "second_person");
  // Whoever closes it, another must be there to confirm.
  const auto& people = site.person();
  const bool always =
      std::all_of(people.begin(), people.end(), [&](const v1::Person& closer) {
        return !staff.May(closer, v1::CLOSE_LATCHED) ||
               std::any_of(people.begin(), people.end(),
                           [&](const v1::Person& other) {
                             return other.id() != closer.id() &&
                                    staff.May(other, v1::CONFIRM);
                           });
      });
  if (always) return;
  file.At("second_person", 0)
      .Report("no-second-person",
              "no second person could confirm what the first has closed",
              "let another person have a role that may CONFIRM, or leave "
              "second_person out");
}

}  // namespace turnstone
