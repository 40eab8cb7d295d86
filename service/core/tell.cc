#include "service/core/tell.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>

namespace turnstone {
namespace {

void AddEach(const std::vector<std::string>& people,
             std::vector<std::string>& all) {
  for (const std::string& person : people) {
    if (std::find(all.begin(), all.end(), person) == all.end()) {
      all.push_back(person);
    }
  }
}

void AddRemark(const std::string& text, std::string& remark) {
  if (!remark.empty()) remark += "; ";
  remark += text;
}

std::vector<std::string> OnDuty(const std::string& role, absl::Time now,
                                const Around& around) {
  const Rota* const rota = around.site.team.FindRota(role);
  if (rota == nullptr) return {};
  return rota->At(now, around.swaps).persons;
}

void AddOnDuty(const std::string& role, absl::Time now, const Around& around,
               Told& told) {
  const std::vector<std::string> people = OnDuty(role, now, around);
  AddEach(people, told.people);
  if (!people.empty()) return;
  AddEach(around.site.team.PeopleOf(role), told.people);
  AddRemark(absl::StrCat("no ", role, " is on duty, so all of them are told"),
            told.remark);
}

void AddClinician(const Around& around, Told& told) {
  const Team& team = around.site.team;
  if (team.FindPerson(around.clinician) != nullptr) {
    return AddEach({around.clinician}, told.people);
  }
  AddEach(team.PeopleOf(kClinician), told.people);
  AddRemark(around.clinician.empty()
                ? std::string("no clinician is named for the participant, so "
                              "all of them are told")
                : absl::StrCat(around.clinician,
                               " is not one of the site's people, so all "
                               "clinicians are told"),
            told.remark);
}

void Add(const v1::Tell& tell, absl::Time now, const Around& around,
         const v1::Alert& alert, Told& told) {
  const Team& team = around.site.team;
  switch (tell.whom_case()) {
    case v1::Tell::kOnDuty:
      return AddOnDuty(tell.on_duty(), now, around, told);
    case v1::Tell::kEverybody:
      return AddEach(team.PeopleOf(tell.everybody()), told.people);
    case v1::Tell::kOwnClinician:
      return AddClinician(around, told);
    case v1::Tell::kHolder:
      // Whoever has it has done their part.
      if (alert.has_proposed_closing()) {
        return AddEach(
            SecondPersons(alert.proposed_closing().by().name(), now, around),
            told.people);
      }
      if (team.FindPerson(alert.holder().name()) == nullptr) {
        return AddRemark(absl::StrCat(alert.holder().name(),
                                      ", who has it, is not one of the site's "
                                      "people"),
                         told.remark);
      }
      return AddEach({alert.holder().name()}, told.people);
    case v1::Tell::WHOM_NOT_SET:
      return;
  }
}

std::string InWords(const v1::Tell& tell, const v1::Alert& alert) {
  switch (tell.whom_case()) {
    case v1::Tell::kOnDuty:
      return absl::StrCat("whoever is on duty (", tell.on_duty(), ")");
    case v1::Tell::kEverybody:
      return absl::StrCat("everybody (", tell.everybody(), ")");
    case v1::Tell::kOwnClinician:
      return "the participant's clinician";
    case v1::Tell::kHolder:
      return alert.has_proposed_closing() ? "whoever may confirm it"
                                          : "whoever has it";
    case v1::Tell::WHOM_NOT_SET:
      break;
  }
  return "nobody";
}

}  // namespace

std::vector<std::string> PeopleWhoMay(const Site& site, v1::Right right) {
  std::vector<std::string> people;
  for (const v1::Person& person : site.config.person()) {
    if (site.team.May(person.role(), right)) people.push_back(person.id());
  }
  return people;
}

std::vector<std::string> OnDutyWhoMay(v1::Right right, absl::Time now,
                                      const Around& around) {
  std::vector<std::string> people;
  for (const Rota& rota : around.site.team.rotas()) {
    if (!around.site.team.May(rota.role(), right)) continue;
    AddEach(rota.At(now, around.swaps).persons, people);
  }
  return people;
}

Told PeopleFor(const v1::Rung& rung, absl::Time now, const Around& around,
               const v1::Alert& alert) {
  Told told;
  for (const v1::Tell& tell : rung.tell()) {
    Add(tell, now, around, alert, told);
  }
  if (told.people.empty()) {
    told.people = PeopleWhoMay(around.site, v1::WORK);
    AddRemark("everybody who works alerts is told", told.remark);
  }
  return told;
}

std::string WhomInWords(const v1::Rung& rung, const v1::Alert& alert) {
  std::vector<std::string> words;
  for (const v1::Tell& tell : rung.tell())
    words.push_back(InWords(tell, alert));
  return absl::StrJoin(words, " and ");
}

std::vector<std::string> SecondPersons(const std::string& closer,
                                       absl::Time now, const Around& around) {
  std::vector<std::string> people = OnDutyWhoMay(v1::CONFIRM, now, around);
  std::erase(people, closer);
  if (people.empty()) {
    people = PeopleWhoMay(around.site, v1::CONFIRM);
    std::erase(people, closer);
  }
  return people;
}

}  // namespace turnstone
