#include "rules/diff/compare.h"

#include <absl/strings/str_cat.h>

#include <utility>

#include "rules/diff/as_written.h"
#include "rules/engine/rule_words.h"

namespace turnstone {
namespace {

using Lines = std::vector<std::string>;

// A rule beside what it takes to put it in words.
struct Spoken {
  // `resolved` as written.
  v1::Rule rule;
  RuleWords words;
};

Spoken Speak(const v1::Rule& resolved, const Site& site,
             const Catalogue& catalogue) {
  return {AsWritten(resolved),
          DescribeRule(resolved, catalogue, site.settings)};
}

void NoteWords(const std::string& label, const std::string& was,
               const std::string& now, Lines& lines) {
  if (was == now) return;
  lines.push_back(absl::StrCat(label, ": was ", was, ",\nis now ", now));
}

// Sentences differ also where only a setting or an instrument does: `written`
// says whether the rule itself does.
void NoteSentence(const std::string& label, bool written,
                  const std::string& was, const std::string& now,
                  Lines& lines) {
  if (!written) return;
  NoteWords(label, was, now, lines);
  if (was != now) return;
  lines.push_back(
      absl::StrCat(label, ": written otherwise, in the same words: ", now));
}

void NoteDoing(const Spoken& was, const Spoken& now, Lines& lines) {
  NoteSentence("asked", Differs(was.rule.when(), now.rule.when()),
               was.words.asked, now.words.asked, lines);
  const bool other_priority =
      was.rule.unknown_priority() != now.rule.unknown_priority() &&
      was.words.raises_when != now.words.raises_when;
  NoteSentence("raised when",
               Differs(was.rule.condition(), now.rule.condition()) ||
                   Differs(was.rule.on_unknown(), now.rule.on_unknown()) ||
                   other_priority,
               was.words.raises_when, now.words.raises_when, lines);
  NoteWords("alert", was.words.alert, now.words.alert, lines);
  NoteWords("protocol", was.rule.protocol(), now.rule.protocol(), lines);
}

void NoteReasons(const v1::Rule& was, const v1::Rule& now, Lines& lines) {
  NoteWords("title", was.title(), now.title(), lines);
  NoteWords("owner", was.owner(), now.owner(), lines);
  if (was.rationale() != now.rationale() || was.source() != now.source()) {
    lines.emplace_back("the reasons given have changed");
  }
}

bool SameExamples(const v1::Rule& was, const v1::Rule& now) {
  if (was.example_size() != now.example_size()) return false;
  for (int i = 0; i < was.example_size(); ++i) {
    if (Differs(was.example(i), now.example(i))) return false;
  }
  return true;
}

void NoteExamples(const v1::Rule& was, const v1::Rule& now, Lines& lines) {
  if (SameExamples(was, now)) return;
  const int more = now.example_size() - was.example_size();
  const std::string noun = more == 1 || more == -1 ? " example" : " examples";
  if (more == 0) {
    lines.emplace_back("as many examples, but other ones");
  } else if (more > 0) {
    lines.push_back(absl::StrCat(more, " more", noun));
  } else {
    lines.push_back(absl::StrCat(-more, " fewer", noun));
  }
}

// `changed`: something but the examples has.
void NoteVersion(const v1::Rule& was, const v1::Rule& now, bool changed,
                 Lines& lines) {
  if (now.version() > was.version()) {
    NoteWords("version", absl::StrCat(was.version()),
              absl::StrCat(now.version()), lines);
  } else if (changed || now.version() < was.version()) {
    lines.push_back(absl::StrCat("its version was not raised: was ",
                                 was.version(), ", is ", now.version()));
  }
}

Lines WhatDiffers(const Spoken& was, const Spoken& now) {
  Lines lines;
  NoteDoing(was, now, lines);
  NoteReasons(was.rule, now.rule, lines);
  const bool changed = !lines.empty();
  NoteExamples(was.rule, now.rule, lines);
  NoteVersion(was.rule, now.rule, changed, lines);
  return lines;
}

RuleChange Whole(const std::string& what, const Spoken& spoken) {
  return {spoken.rule.id(),
          what,
          {absl::StrCat("title: ", spoken.rule.title()),
           absl::StrCat("asked: ", spoken.words.asked),
           absl::StrCat("raised when: ", spoken.words.raises_when),
           absl::StrCat("alert: ", spoken.words.alert)}};
}

}  // namespace

std::vector<RuleChange> CompareRules(const Site& before,
                                     const Catalogue& catalogue_before,
                                     const Site& after,
                                     const Catalogue& catalogue_after) {
  std::vector<RuleChange> changes;
  for (const v1::Rule& rule : before.rules.rule()) {
    const Spoken was = Speak(rule, before, catalogue_before);
    const v1::Rule* const found = FindById(after.rules.rule(), rule.id());
    if (found == nullptr) {
      changes.push_back(Whole("removed", was));
      continue;
    }
    Lines lines = WhatDiffers(was, Speak(*found, after, catalogue_after));
    if (lines.empty()) continue;
    changes.push_back({rule.id(), "changed", std::move(lines)});
  }
  for (const v1::Rule& rule : after.rules.rule()) {
    if (FindById(before.rules.rule(), rule.id()) != nullptr) continue;
    changes.push_back(Whole("added", Speak(rule, after, catalogue_after)));
  }
  return changes;
}

}  // namespace turnstone
