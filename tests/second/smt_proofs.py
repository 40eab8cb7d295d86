"""What is proved of the rules, for every form there can be. The formulas are
made from the text files and the contract's comments (smt_rules.py), not by the
engine.
"""

import copy

import z3
from smt_rules import Form, raises
from turnstone.v1 import alert_pb2


class Gap(Exception):
    """A form for which the rules do not do what they should."""


def prove(what, *counterexample):
    """Fails with the form if there is one."""
    solver = z3.Solver()
    solver.add(*counterexample)
    answer = solver.check()
    if answer == z3.sat:
        model = solver.model()
        seen = sorted(f"{name} = {model[name]}" for name in model)
        raise Gap(f"{what}: {', '.join(seen)}")
    if answer != z3.unsat:
        raise RuntimeError(f"{what}: the solver cannot tell")


def answers(rules, form):
    return {rule.id: (rule, answer)
            for rule, answer in rules.asked_at_once(form)}


def divisions(rules, instruments):
    """Each total of a complete form gets exactly one of the rules."""
    for division in rules.rule_set.division:
        form = Form(instruments[division.instrument])
        by_id = answers(rules, form)
        speak = [raises(by_id[rule][1]) for rule in division.rule]
        one = z3.And(z3.AtMost(*speak, 1), z3.Or(speak))
        among = (rules.known(division.among, form).true
                 if division.HasField("among") else z3.BoolVal(True))
        complete = [form.possible, form.complete, among]
        needs = (form.low > rules.number(division.none_at_most)
                 if division.HasField("none_at_most") else z3.BoolVal(True))
        prove(f"{division.id}: not one disposition", *complete, needs,
              z3.Not(one))
        prove(f"{division.id}: two dispositions", *complete,
              z3.Not(z3.AtMost(*speak, 1)))


def self_harm(rules, instruments):
    """Positive or unanswered: a safety rule speaks, whatever else is
    missing."""
    for instrument in instruments.values():
        form = Form(instrument)
        safety = [raises(answer) for rule, answer in rules.asked_at_once(form)
                  if rule.kind == alert_pb2.ALERT_KIND_SAFETY]
        for at, item in enumerate(form.scored):
            if item.self_harm:
                prove(f"{instrument.id}: self-harm, and nobody is told",
                      form.possible, z3.Not(z3.Or(safety)),
                      z3.Or(form.missing[at], form.points[at] >= 1))


def scores_in(condition):
    """Every `score` in the condition, however deep."""
    kind = condition.WhichOneof("kind")
    if kind == "score":
        yield condition.score
    elif kind in ("all_of", "any_of"):
        for part in getattr(condition, kind).condition:
            yield from scores_in(part)
    elif kind == "not":
        yield from scores_in(getattr(condition, "not"))


def no_score_is_idle(rules, instruments):
    """Of some complete form it is true, of some other false."""
    for rule in rules.rule_set.rule:
        for score in scores_in(rule.condition):
            if score.instrument not in instruments:
                continue
            form = Form(instruments[score.instrument])
            one = copy.deepcopy(score)
            one.ClearField("in_a_row")
            answer = rules.score(one, form)
            for word, side in (("never", answer.true),
                               ("always", answer.false)):
                solver = z3.Solver()
                solver.add(form.possible, form.complete, side)
                if solver.check() != z3.sat:
                    raise Gap(f"{rule.id}: its score condition {word} holds")


def bands(_, instruments):
    """Each possible total lies in exactly one."""
    for instrument in instruments.values():
        form = Form(instrument)
        inside = [z3.And(band.low <= form.low, form.low <= band.high)
                  for band in instrument.band]
        prove(f"{instrument.id}: a total not in one band", form.possible,
              form.complete,
              z3.Not(z3.And(z3.AtMost(*inside, 1), z3.Or(inside))))


def most_pressing(rules, form):
    """Highest priority of what safety and referral rules raise; 0: none."""
    highest = z3.IntVal(0)
    for rule, answer in rules.asked_at_once(form):
        if rule.kind not in (alert_pb2.ALERT_KIND_SAFETY,
                             alert_pb2.ALERT_KIND_REFERRAL):
            continue
        mine = z3.If(answer.true, rule.priority,
                     z3.If(answer.false, 0,
                           rule.unknown_priority or rule.priority))
        highest = z3.If(mine > highest, mine, highest)
    return highest


def monotone(rules, instruments):
    """One answer a step worse never makes it less pressing."""
    for instrument in instruments.values():
        before, after = Form(instrument), Form(instrument, "then ")
        for at, item in enumerate(before.scored):
            same = [before.missing[i] == after.missing[i]
                    for i in range(len(before.scored))]
            same += [before.points[i] == after.points[i]
                     for i in range(len(before.scored)) if i != at]
            same += [before.wish == after.wish,
                     before.enrolled == after.enrolled]
            prove(f"{instrument.id}: {item.label} worse, and less pressing",
                  before.possible, after.possible, *same,
                  z3.Not(before.missing[at]),
                  after.points[at] == before.points[at] + 1,
                  most_pressing(rules, after) < most_pressing(rules, before))


PROOFS = divisions, self_harm, no_score_is_idle, bands, monotone
