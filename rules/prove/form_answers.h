// What the rules say of every form with an instrument.
#pragma once

#include <compare>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "rules/prove/ask.h"
#include "rules/prove/case_events.h"
#include "rules/prove/form_groups.h"

namespace turnstone {

// Beside the form itself: whether the wish is known, and to be enrolled. The
// smallest is: not enrolled, the wish not known.
struct Beside {
  bool enrolled = false;
  std::optional<bool> willing;
  friend auto operator<=>(const Beside&, const Beside&) = default;
};

// The smallest first.
[[nodiscard]] std::vector<Beside> EveryBeside();

// Forms that are the same to every rule, all with the same beside.
struct SameForms {
  uint64_t forms = 0;
  // Of a total alone: what ScoreForm makes of it.
  FormSketch sketch;
  bool total_alone = false;
  Beside beside;
  // The smallest of them, without the wish. A total alone comes after every
  // filled-in form.
  FormSize size;
  v1::ScreeningResult form;
  History history;
  std::vector<Said> said;
};

// Every form with one instrument, each of which was put to the engine once.
// Movable; `site` and `scale` must outlive it.
class FormAnswers {
 public:
  // `looked_at`: items that any condition in question looks at.
  FormAnswers(const Site& site, const Catalogue& catalogue, const Scale& scale,
              const std::set<size_t>& looked_at);

  [[nodiscard]] const FormGroups& groups() const { return groups_; }
  // The smallest first.
  [[nodiscard]] const std::vector<SameForms>& all() const { return all_; }
  // Filled-in forms. REQUIRES: there are such.
  [[nodiscard]] const SameForms& Find(const FormSketch& sketch,
                                      const Beside& beside) const;
  // Forms in all.
  [[nodiscard]] uint64_t cases() const;

  // An enrolment, if so, and the form with the wish.
  [[nodiscard]] static std::vector<v1::Event> EventsOf(v1::ScreeningResult form,
                                                       const Beside& beside,
                                                       const CaseEvents& events,
                                                       int person = 1);
  // The same in words, a line each.
  [[nodiscard]] std::vector<std::string> WordsOf(
      const v1::ScreeningResult& form, const Beside& beside) const;

 private:
  void Ask(const Site& site, const Catalogue& catalogue, SameForms forms);

  FormGroups groups_;
  std::vector<SameForms> all_;
  std::map<std::pair<FormSketch, Beside>, size_t> places_;
};

// "PHQ-9, total 1: \"Self-harm\" 1; everything else 0". Pure.
[[nodiscard]] std::string FormInWords(const Scale& scale,
                                      const v1::ScreeningResult& form);

}  // namespace turnstone
