#include "clients/cli/render/duty_page.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <vector>

#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/alert_state.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/page.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "rules/measure/proto_time.h"

namespace turnstone::cli {
namespace {

template <typename Names>
std::string NamesText(const Names& names) {
  return absl::StrJoin(names, ", ");
}

void DutyFacts(const v1::Duty& duty, absl::Time at, absl::TimeZone zone,
               Page& page) {
  page.Fact("on duty", duty.person().empty()
                           ? "NOBODY: everybody of this role is told instead"
                           : NamesText(duty.person()));
  page.Fact("why", duty.why());
  if (!duty.has_until()) {
    page.Fact("until", "more than a year on");
    return;
  }
  page.Fact("until", absl::StrCat(DateTime(duty.until(), zone), ", in ",
                                  Age(FromProto(duty.until()) - at)));
  page.Fact("then", duty.next_person().empty() ? "NOBODY"
                                               : NamesText(duty.next_person()));
}

void OfferSection(const v1::Handover& handover, absl::TimeZone zone,
                  Page& page) {
  page.Section("Offered");
  if (!handover.has_offer()) {
    page.Text("nothing");
    return;
  }
  const v1::HandoverOffer& offer = handover.offer();
  page.Fact("from", offer.from());
  page.Fact("to", offer.to());
  page.Fact("since", DateTime(offer.at(), zone));
  page.Fact("note", offer.note());
  page.Text(absl::StrCat("Nothing changes before ", offer.to(), " says yes."));
}

void OpenSection(const v1::Handover& handover, Page& page) {
  page.Section("Open alerts");
  if (handover.alert().empty()) {
    page.Text("none");
    return;
  }
  page.Block(AlertTable({handover.alert().begin(), handover.alert().end()},
                        FromProto(handover.now())));
}

void TypeNext(const v1::Handover& handover, const std::string& where,
              Page& page) {
  page.Section("Next");
  if (handover.has_offer()) {
    page.Text(handover.offer().to() + ":");
    page.Fact("  to say yes", "turnstone handover take" + where);
    page.Fact("  to say no", "turnstone handover decline" + where);
  }
  if (handover.duty().person().empty()) return;
  page.Text(NamesText(handover.duty().person()) + ":");
  page.Fact(
      "  to offer it",
      "turnstone handover give --to PERSON --note \"WHAT TO KNOW\"" + where);
}

long long CountWith(const v1::Handover& handover, const std::string& person) {
  return std::count_if(
      handover.alert().begin(), handover.alert().end(),
      [&](const v1::Alert& alert) { return HolderName(alert) == person; });
}

std::string OnDutyText(const v1::Handover& handover) {
  const v1::Duty& duty = handover.duty();
  const std::string who =
      duty.person().empty() ? "Nobody" : NamesText(duty.person());
  const std::string until =
      duty.has_until()
          ? ", until " + DateTime(duty.until(), Zone(handover.time_zone()))
          : "";
  return absl::StrCat(who, duty.person_size() > 1 ? " are" : " is",
                      " on duty as ", duty.role(), until, ".");
}

}  // namespace

std::string OnCallPage(const v1::OnCall& raw) {
  const v1::OnCall on_call = Cleaned(raw);
  const absl::TimeZone zone = Zone(on_call.time_zone());
  Page page;
  page.Line(absl::StrCat("On duty at ", on_call.site(), ", ",
                         DateTime(on_call.at(), zone)));
  if (on_call.duty().empty()) {
    page.Line("\nThe site has no rota: everybody of a role is told at once.");
  }
  for (const v1::Duty& duty : on_call.duty()) {
    page.Section(duty.role());
    DutyFacts(duty, FromProto(on_call.at()), zone, page);
  }
  page.Section("To see to");
  for (const std::string& concern : on_call.concern()) {
    page.Block(WrapAfter("  - ", concern, 4));
  }
  if (on_call.concern().empty()) page.Text("nothing within the next 90 days");
  return page.ToString();
}

std::string HandoverPage(const v1::Handover& raw, const std::string& where) {
  const v1::Handover handover = Cleaned(raw);
  const absl::TimeZone zone = Zone(handover.time_zone());
  Page page;
  page.Line(absl::StrCat("Hand-over of ", handover.duty().role(), ", site ",
                         handover.site(), ", as of ",
                         DateTime(handover.now(), zone)));
  page.Line("");
  DutyFacts(handover.duty(), FromProto(handover.now()), zone, page);
  OfferSection(handover, zone, page);
  OpenSection(handover, page);
  TypeNext(handover, where, page);
  page.Line("\n" + kShortCaution);
  return page.ToString();
}

std::string OfferedText(const v1::Handover& raw, const std::string& where) {
  const v1::Handover handover = Cleaned(raw);
  return WrapAfter(
      "",
      absl::StrCat("Offered to ", handover.offer().to(),
                   ", who has to say yes: turnstone handover take", where,
                   "\nBefore that nothing changes: ", OnDutyText(handover)),
      0);
}

std::string TakenText(const v1::Handover& raw, const std::string& where) {
  const v1::Handover handover = Cleaned(raw);
  std::string text = OnDutyText(handover);
  for (const std::string& person : handover.duty().person()) {
    absl::StrAppend(&text, "\nWith ", person,
                    " now: ", Count(CountWith(handover, person), "open alert"),
                    ".");
  }
  absl::StrAppend(&text, " To see it all: turnstone handover", where);
  return WrapAfter("", text, 0);
}

std::string DeclinedText(const v1::Handover& handover) {
  return WrapAfter(
      "", absl::StrCat("Declined. ", OnDutyText(Cleaned(handover))), 0);
}

}  // namespace turnstone::cli
