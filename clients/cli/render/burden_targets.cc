#include <absl/strings/str_cat.h>
#include <absl/strings/str_format.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <vector>

#include "clients/cli/render/burden_page.h"
#include "clients/cli/render/page.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

std::string MostForOnePerson(const v1::Burden& burden) {
  int most = 0;
  for (const v1::PersonLoad& load : burden.by_person()) {
    most = std::max(most, load.alerts());
  }
  return RateText(most, burden.days());
}

std::string Priorities(const v1::Burden& burden) {
  std::vector<std::string> shares;
  for (const v1::PriorityShare& share : burden.by_priority()) {
    shares.push_back(absl::StrCat(share.alerts(), " ", Word(share.priority())));
  }
  return absl::StrJoin(shares, ", ");
}

}  // namespace

std::string BesideWhatIsPublished(const v1::Burden& burden) {
  Page page;
  page.Section("Beside what is published");
  page.Fact("Alerts a day",
            absl::StrCat("Here at most ", MostForOnePerson(burden),
                         " for one person. Plants: about 150 for one "
                         "operator are very likely acceptable, about 300 the "
                         "most that can be managed [1, from memory]."));
  page.Fact("Priorities",
            absl::StrCat("Here ", Priorities(burden),
                         ". Plants: about 80 % low, 15 % medium, 5 % high; "
                         "with four levels, the highest below 1 % [1]."));
  page.Fact("Open over 24h",
            absl::StrCat("Here ", burden.open_over_24_hours(),
                         " now. Plants: fewer than 5 on any day [1, from "
                         "memory]."));
  page.Fact("Again",
            absl::StrCat("Here ",
                         ShareText(burden.repeats() +
                                       burden.raised_again_within_30_days(),
                                   burden.repeats() + burden.alerts()),
                         ". Reminders on drugs: a quarter to a third come "
                         "again for the same patient within the year; each "
                         "further one in an encounter lowers acceptance by "
                         "30 % [2]."));
  page.Fact("Time covered",
            absl::StrFormat("Here %.1f days. Plants: at least 30 before "
                            "anything is concluded [1].",
                            burden.days()));
  page.Text("");
  page.Text(
      "Mind the difference: these are figures for operators of process plants "
      "and for reminders on drugs, not for a visiting team. They say where to "
      "look, no more. Where people may be at risk, a low number is no goal.");
  page.Text(
      "[1] ANSI/ISA-18.2-2016 and IEC 62682, alarm systems for the "
      "process industries.");
  page.Text("[2] Ancker 2017, BMC Med Inform Decis Mak 17:36.");
  return page.ToString();
}

}  // namespace turnstone::cli
