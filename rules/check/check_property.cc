#include "rules/check/check_property.h"

#include <absl/strings/str_cat.h>

#include <limits>

#include "rules/check/check_course.h"
#include "rules/check/check_given.h"
#include "rules/check/require.h"

namespace turnstone {
namespace {

constexpr int kMostProperties = 200;
constexpr Interval kVisits{1, 12};
constexpr Interval kForms{2, 12};

// The event a property's condition is asked about; none for open alerts.
v1::Occasion OccasionOf(const v1::Property& property) {
  v1::Occasion when;
  if (property.has_every_form()) {
    when.mutable_screening()->add_instrument(
        property.every_form().instrument());
  } else if (property.has_every_score_path()) {
    when.mutable_screening()->add_instrument(
        property.every_score_path().instrument());
  } else if (property.has_every_visit_history()) {
    when.mutable_visit_outcome();
  }
  return when;
}

void CheckOver(const v1::Property& property, const Place& place,
               const RuleContext& context) {
  switch (property.over_case()) {
    case v1::Property::kEveryForm: {
      const Place at = place.At("every_form");
      const Scale* scale =
          CheckScored(property.every_form().instrument(), at, context);
      if (scale == nullptr || !property.has_same_whatever_else()) return;
      if (scale->SelfHarmItem()) return;
      at.At("instrument")
          .Report("property-without-self-harm-item",
                  absl::StrCat("\"", property.every_form().instrument(),
                               "\" has no self-harm item for alerts to depend "
                               "on"),
                  "name an instrument that has one");
      return;
    }
    case v1::Property::kEveryVisitHistory:
      RequireNumber(place.At("every_visit_history"), "visits_at_most", kVisits);
      return;
    case v1::Property::kEveryScorePath: {
      const Place at = place.At("every_score_path");
      CheckScored(property.every_score_path().instrument(), at, context);
      RequireNumber(at, "forms_at_most", kForms);
      return;
    }
    case v1::Property::kEveryOpenAlert:
      return;
    case v1::Property::OVER_NOT_SET:
      break;
  }
  place.Report(
      "property-without-cases",
      "the property does not say which cases to go through",
      absl::StrCat("write one of ", OneOf(MembersOf(property, "over"))));
}

// What may be asked over which cases.
bool Fits(const v1::Property& property) {
  switch (property.must_case()) {
    case v1::Property::kRaise:
      return !property.has_every_open_alert();
    case v1::Property::kNeverLower:
    case v1::Property::kSameWhateverElse:
      return property.has_every_form();
    case v1::Property::kHaveDeadline:
      return property.has_every_open_alert();
    case v1::Property::MUST_NOT_SET:
      break;
  }
  return true;
}

void CheckMust(const v1::Property& property, const Place& place) {
  switch (property.must_case()) {
    case v1::Property::kRaise:
      RequireChoices(place.At("raise"), "kind");
      RefuseRepeats(place.At("raise"), "kind");
      RequireChoice(place.At("raise"), "at_least");
      break;
    case v1::Property::kNeverLower:
      RequireChoices(place.At("never_lower"), "kind");
      RefuseRepeats(place.At("never_lower"), "kind");
      break;
    case v1::Property::kSameWhateverElse:
      RequireChoices(place.At("same_whatever_else"), "kind");
      RefuseRepeats(place.At("same_whatever_else"), "kind");
      break;
    case v1::Property::kHaveDeadline:
      break;
    case v1::Property::MUST_NOT_SET:
      place.Report(
          "property-without-must", "the property does not say what must be so",
          absl::StrCat("write one of ", OneOf(MembersOf(property, "must"))));
      return;
  }
  if (property.over_case() == v1::Property::OVER_NOT_SET) return;
  if (Fits(property)) return;
  const auto name = [&](int field) {
    return property.GetDescriptor()->FindFieldByNumber(field)->name();
  };
  place.At(name(property.must_case()))
      .Report("property-must-does-not-fit",
              absl::StrCat(name(property.must_case()), " cannot be asked over ",
                           name(property.over_case())),
              "write raise over forms, visit histories and score paths; "
              "never_lower and same_whatever_else over every_form; "
              "have_deadline over every_open_alert");
}

void CheckProperty(const v1::Property& property, const Place& place,
                   const Known& known) {
  RequireId(place, "id");
  RequireText(place, "title", "what must hold, in a sentence");
  RequireText(place, "source",
              "a publication, \"common practice, no source\" or \"safety "
              "inference\"");
  const v1::Occasion when = OccasionOf(property);
  const SettingsByName none;
  CheckOver(property, place, {known, none, when});
  CheckMust(property, place);
  if (property.has_given()) CheckGiven(property, place, known, when);
}

}  // namespace

void CheckPropertySet(const v1::PropertySet& set, const Place& file,
                      const Known& known) {
  RequireId(file, "id");
  RequireNumber(file, "version", {1, std::numeric_limits<int>::max()});
  RequireText(file, "title", "a name for people");
  if (set.property().empty()) {
    file.Report("property-set-empty", "the property set has no property",
                "add property { id: \"...\" ... }");
  }
  if (set.property_size() > kMostProperties) {
    file.At("property", kMostProperties)
        .Report("property-set-too-long",
                absl::StrCat("the property set has more than ", kMostProperties,
                             " properties"),
                "split it, or remove properties");
  }
  Names ids("property id");
  for (int i = 0; i < set.property_size(); ++i) {
    const Place place = file.At("property", i);
    ids.Add(place.At("id"), set.property(i).id());
    CheckProperty(set.property(i), place, known);
  }
}

}  // namespace turnstone
