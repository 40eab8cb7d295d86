#include "rules/check/check_rota.h"

#include <absl/strings/str_cat.h>
#include <absl/time/time.h>

#include <vector>

#include "rules/check/check_times.h"
#include "rules/duty/written_time.h"
#include "rules/measure/work_calendar.h"

namespace turnstone {
namespace {

using Ids = google::protobuf::RepeatedPtrField<std::string>;

// The `person` field of the message at `place`: one or more, each of `role`.
void CheckOnDuty(const Ids& persons, const Place& place,
                 const std::string& role, const Staff& staff) {
  if (persons.empty()) {
    place.Report("rota-without-person", "person is missing",
                 "write person: \"...\", once or more");
  }
  for (int i = 0; i < persons.size(); ++i) {
    const Place at = place.At("person", i);
    const v1::Person* person =
        Lookup(staff.persons, true, "person", persons.Get(i), at);
    // A role that does not exist is reported where it is named.
    if (person == nullptr || person->role() == role ||
        !staff.roles.contains(role)) {
      continue;
    }
    at.Report("person-in-wrong-role",
              absl::StrCat("\"", person->id(), "\" has the role ",
                           person->role(), ", and the rota is for ", role),
              absl::StrCat("name somebody whose role is ", role));
  }
}

void CheckWindow(const v1::Window& window, const Place& place) {
  if (!window.weekday().empty()) RequireChoices(place, "weekday");
  RefuseRepeats(place, "weekday");
  CheckTimeOfDay(place.At("from"), "from", window.from(), kBegins);
  CheckTimeOfDay(place.At("until"), "until", window.until(), kEnds);
}

void CheckRotation(const v1::Rotation& rotation, const Place& place,
                   const std::string& role, const Staff& staff) {
  CheckOnDuty(rotation.person(), place, role, staff);
  CheckDate(place.At("starts_on"), "starts_on", rotation.starts_on());
  CheckTimeOfDay(place.At("hand_over_at"), "hand_over_at",
                 rotation.hand_over_at(), kBegins);
  RequireNumber(place, "days_each", {1, 365});
  for (int i = 0; i < rotation.window_size(); ++i) {
    CheckWindow(rotation.window(i), place.At("window", i));
  }
}

// The overrides of one rota that were sound so far.
class Overrides {
 public:
  explicit Overrides(absl::TimeZone zone) : zone_(zone) {}

  void Check(const v1::DatedOverride& own, const Place& place) {
    const bool begins = CheckLocalTime(place.At("from"), "from", own.from());
    const bool ends = CheckLocalTime(place.At("until"), "until", own.until());
    if (!begins || !ends) return;
    const Span span{Read(own.from()), Read(own.until()), place};
    if (span.from >= span.until) {
      place.At("until").Report(
          "ends-before-it-begins",
          absl::StrCat("until \"", own.until(), "\" is not after from \"",
                       own.from(), "\""),
          "write a later one");
      return;
    }
    for (const Span& other : spans_) {
      if (span.from >= other.until || other.from >= span.until) continue;
      place.Report("rota-overrides-overlap",
                   absl::StrCat("this override overlaps the one ",
                                other.place.SeenFrom(place)),
                   "let the one end before the other begins");
    }
    spans_.push_back(span);
  }

 private:
  struct Span {
    absl::Time from;
    absl::Time until;
    Place place;
  };

  [[nodiscard]] absl::Time Read(const std::string& text) const {
    return LocalToAbsolute(absl::CivilSecond(ReadLocalTime(text).value()),
                           zone_);
  }

  absl::TimeZone zone_;
  std::vector<Span> spans_;
};

void CheckRota(const v1::Rota& rota, const Place& place, const Staff& staff,
               absl::TimeZone zone) {
  RequireKnown(place, "role", rota.role(), "role", staff.roles);
  if (rota.rotation().empty() && rota.override().empty()) {
    place.Report("rota-empty", "the rota puts nobody on duty",
                 "write rotation { person: \"...\" ... }");
  }
  for (int i = 0; i < rota.rotation_size(); ++i) {
    CheckRotation(rota.rotation(i), place.At("rotation", i), rota.role(),
                  staff);
  }
  Overrides overrides(zone);
  for (int i = 0; i < rota.override_size(); ++i) {
    const v1::DatedOverride& own = rota.override(i);
    const Place at = place.At("override", i);
    overrides.Check(own, at);
    CheckOnDuty(own.person(), at, rota.role(), staff);
    RequireText(at, "reason", "why");
  }
}

}  // namespace

void CheckRotas(const v1::SiteConfig& site, const Place& file,
                const Staff& staff) {
  absl::TimeZone zone;  // UTC if the site's is wrong, which is reported there
  absl::LoadTimeZone(site.time_zone(), &zone);
  Names roles("rota of role");
  for (int i = 0; i < site.rota_size(); ++i) {
    const Place place = file.At("rota", i);
    roles.Add(place.At("role"), site.rota(i).role());
    CheckRota(site.rota(i), place, staff, zone);
  }
}

}  // namespace turnstone
