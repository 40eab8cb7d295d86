#include "rules/check/check_sign_of_life.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/check/check_times.h"
#include "rules/check/require.h"

namespace turnstone {

void CheckSignOfLife(const v1::SiteConfig& site, const Place& file) {
  if (!site.has_sign_of_life()) return;
  const Place place = file.At("sign_of_life");
  CheckTimeOfDay(place.At("at"), "at", site.sign_of_life().at(), kBegins);
  const auto& names = site.sign_of_life().person();
  if (names.empty()) {
    place.Report("sign-of-life-to-nobody",
                 "sign_of_life names nobody, so nobody would miss it",
                 "write person: \"...\" with the id of one of the team");
  }
  Names people("person");
  for (int i = 0; i < names.size(); ++i) {
    const Place at = place.At("person", i);
    people.Add(at, names[i]);
    const auto person = std::find_if(
        site.person().begin(), site.person().end(),
        [&](const v1::Person& one) { return one.id() == names[i]; });
    if (person == site.person().end()) {
      at.Report("sign-of-life-unknown-person",
                absl::StrCat("\"", names[i], "\" is not one of the team"),
                "write the id of a person { ... } of this file");
    } else if (person->reach().empty()) {
      at.Report("sign-of-life-unreachable",
                absl::StrCat("no message reaches \"", names[i], "\""),
                "give the person a reach { ... }, or name another");
    }
  }
}

}  // namespace turnstone
