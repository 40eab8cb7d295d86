"""Proves with a solver that the rules leave no gap between bands and ranges
(smt_proofs.py says what), with the rule set's numbers and with each site's.

Then the same again with a mistake planted in a copy of the rules: each must be
found.

Usage: smt_bands.py ROOT
"""

import copy
import pathlib
import sys

from smt_files import (read_instruments, read_rules, read_sites, rule_of,
                       setting_of)
from smt_proofs import (Gap, PROOFS, bands, divisions, monotone,
                        no_score_is_idle, self_harm)
from smt_rules import Form, Rules

INSTRUMENTS = "phq-9", "phq-2", "gad-7", "epds"
# Asked about one form and nothing else. Were one of them no longer among what
# is proved, the proofs would say less than they seem to.
LOOKED_AT = {
    "self-harm-positive", "self-harm-unanswered", "score-above-range",
    "score-in-range-and-willing", "score-in-range-not-willing",
    "score-below-range"}


def one_less_above(rules, _):
    setting_of(rules, "programme-upper").value -= 1


def one_more_above(rules, _):
    setting_of(rules, "programme-upper").value += 1


def one_more_below(rules, _):
    setting_of(rules, "mild-lower").value += 1


def harm_from_two(rules, _):
    positive = rule_of(rules, "self-harm-positive").condition.all_of
    write_out(positive.condition[1].item.at_least, 2)


def harm_may_be_left_out(rules, _):
    rules.rule.remove(rule_of(rules, "self-harm-unanswered"))


def write_out(number, value):
    number.Clear()
    number.value = value


def beyond_the_highest(rules, _):
    above = rule_of(rules, "score-above-range").condition.score
    write_out(above.at_least, 28)


def from_the_lowest(rules, _):
    above = rule_of(rules, "score-above-range").condition.score
    write_out(above.at_least, 0)


def silent_at_the_top(rules, _):
    above = rule_of(rules, "score-above-range").condition.score
    write_out(above.at_most, 23)


def one_band_short(_, instruments):
    instruments["phq-9"].band[1].high -= 1


def two_bands_at_once(_, instruments):
    instruments["gad-7"].band[2].high += 1


# What is wrong, and the proof that must find it.
PLANTED = (
    (one_less_above, divisions), (one_more_above, divisions),
    (one_more_below, divisions), (harm_from_two, self_harm),
    (harm_may_be_left_out, self_harm), (beyond_the_highest, no_score_is_idle),
    (from_the_lowest, no_score_is_idle), (silent_at_the_top, monotone),
    (silent_at_the_top, divisions), (one_band_short, bands),
    (two_bands_at_once, bands))


def finds(plant, proof, rule_set, instruments):
    """The form that shows what is wrong; empty if it goes unseen."""
    rule_set, instruments = copy.deepcopy((rule_set, instruments))
    plant(rule_set, instruments)
    try:
        proof(Rules(rule_set), instruments)
    except Gap as gap:
        return str(gap)
    return ""


def main():
    root = pathlib.Path(sys.argv[1])
    rule_set = read_rules(root)
    every = read_instruments(root)
    instruments = {name: every[name] for name in INSTRUMENTS}
    if not rule_set.division:
        sys.exit("the rule set has no division to prove")
    looked_at = {rule.id for rule, _ in
                 Rules(rule_set).asked_at_once(Form(instruments["phq-9"]))}
    if not LOOKED_AT <= looked_at:
        sys.exit(f"not looked at: {', '.join(sorted(LOOKED_AT - looked_at))}")
    for site in [None, *read_sites(root)]:
        for proof in PROOFS:
            try:
                proof(Rules(rule_set, site), instruments)
            except Gap as gap:
                sys.exit(f"{site.id if site else rule_set.id}: {gap}")
    for plant, proof in PLANTED:
        found = finds(plant, proof, rule_set, instruments)
        if not found:
            sys.exit(f"{proof.__name__} did not find {plant.__name__}")
        print(f"{plant.__name__}: {found}")


if __name__ == "__main__":
    main()
