"""Conditions on one form, as formulas for a solver.

Read from the comments in proto/turnstone/v1/rule.proto. Every condition is a
pair of formulas: when it is true, and when it is false. It is unknown where
neither holds.
"""

import dataclasses

import z3


class NotOfOneForm(Exception):
    """The condition looks at more than one form and what is asked with it."""


def points(instrument, item):
    """What the item may score, from lowest to highest."""
    answers = next(each for each in instrument.answer_list
                   if each.id == item.answers)
    scores = sorted(answer.score for answer in answers.answer)
    if item.reversed:
        scores = sorted(scores[0] + scores[-1] - score for score in scores)
    return scores


@dataclasses.dataclass
class Known:
    """True and false; unknown is neither."""
    true: z3.BoolRef
    false: z3.BoolRef

    def negated(self):
        return Known(self.false, self.true)


class Form:
    """Every form there can be with an instrument, and what is known beside
    it."""

    def __init__(self, instrument, name=""):
        self.instrument = instrument
        self.scored = [item for item in instrument.item if not item.unscored]
        self.points = [z3.Int(f"{name}{item.code}") for item in self.scored]
        self.missing = [z3.Bool(f"{name}{item.code} missing")
                        for item in self.scored]
        # 0: does not want it. 1: wants it. 2: not recorded.
        self.wish = z3.Int(f"{name}wish")
        self.enrolled = z3.Bool(f"{name}enrolled")
        self.times = instrument.multiplier or 1
        ends = [points(instrument, item) for item in self.scored]
        self.low = self.total([each[0] for each in ends])
        self.high = self.total([each[-1] for each in ends])
        self.possible = z3.And(
            [z3.Or([mine == score for score in scores])
             for mine, scores in zip(self.points, ends)] +
            [0 <= self.wish, self.wish <= 2])
        self.complete = z3.Not(z3.Or(self.missing))

    def total(self, instead):
        """With `instead` for what is missing."""
        return self.times * z3.Sum(
            [z3.If(gone, other, mine) for gone, other, mine
             in zip(self.missing, instead, self.points)])

    def index(self, which):
        """Of the item a condition names."""
        for i, item in enumerate(self.scored):
            if which.WhichOneof("which") == "self_harm":
                if item.self_harm:
                    return i
            elif which.question in [item.code, *item.also_coded]:
                return i
        raise NotOfOneForm(str(which))


class Rules:
    """A rule set with its numbers, a site's own where it has any."""

    def __init__(self, rule_set, site=None):
        self.rule_set = rule_set
        self.numbers = {each.name: each.value for each in rule_set.setting
                        if each.HasField("value")}
        for own in site.override if site else []:
            if own.HasField("value"):
                self.numbers[own.name] = own.value

    def number(self, number):
        if number.HasField("setting"):
            return self.numbers[number.setting]
        return number.value

    def score(self, score, form):
        if score.instrument != form.instrument.id or (
                score.HasField("in_a_row") and
                self.number(score.in_a_row) > 1):
            raise NotOfOneForm("score")
        within, outside = [], []
        if score.HasField("at_least"):
            within.append(form.low >= self.number(score.at_least))
            outside.append(form.high < self.number(score.at_least))
        if score.HasField("at_most"):
            within.append(form.high <= self.number(score.at_most))
            outside.append(form.low > self.number(score.at_most))
        return Known(z3.And(within), z3.Or(outside))

    def parts(self, conditions, form):
        return [self.known(part, form) for part in conditions.condition]

    def item(self, item, form):
        at = form.index(item)
        answered = z3.Not(form.missing[at])
        enough = form.points[at] >= self.number(item.at_least)
        return Known(z3.And(answered, enough),
                     z3.And(answered, z3.Not(enough)))

    def known(self, condition, form):
        """Raises NotOfOneForm for what cannot be put into a formula here."""
        kind = condition.WhichOneof("kind")
        what = getattr(condition, kind)
        if kind == "all_of":
            parts = self.parts(what, form)
            return Known(z3.And([part.true for part in parts]),
                         z3.Or([part.false for part in parts]))
        if kind == "any_of":
            parts = self.parts(what, form)
            return Known(z3.Or([part.true for part in parts]),
                         z3.And([part.false for part in parts]))
        if kind == "not":
            return self.known(what, form).negated()
        if kind in ("score", "item"):
            return getattr(self, kind)(what, form)
        plain = {
            "item_unanswered": lambda: form.missing[form.index(what)],
            "enrolled": lambda: form.enrolled,
            "wish_recorded": lambda: form.wish != 2}
        if kind in plain:
            holds = plain[kind]()
            return Known(holds, z3.Not(holds))
        if kind == "willing":
            return Known(form.wish == 1, form.wish == 0)
        raise NotOfOneForm(kind)

    def asked_at_once(self, form):
        """(rule, answer) of each rule asked about the form at once that looks
        at nothing else."""
        for rule in self.rule_set.rule:
            when = rule.when
            if (form.instrument.id not in when.screening.instrument or
                    when.HasField("after_days") or
                    when.HasField("after_working_days")):
                continue
            try:
                yield rule, self.known(rule.condition, form)
            except NotOfOneForm:
                continue


def raises(answer):
    """Unknown raises, too: at once, or when the wait is over."""
    return z3.Not(answer.false)
