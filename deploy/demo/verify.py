"""Checks the end of the demonstration against expected.txt and quiet.txt.

Usage: turnstone alerts --all --json | verify.py RULE_SET_FILE
Tells what stayed quiet and why; or what differs, and exits with 1.
"""

import json
import pathlib
import re
import sys

HERE = pathlib.Path(__file__).parent
OPEN = {
    "ALERT_STATUS_REQUESTED",
    "ALERT_STATUS_RECEIVED",
    "ALERT_STATUS_IN_PROGRESS",
    "ALERT_STATUS_ON_HOLD",
}


def rows(name):
    for line in (HERE / name).read_text().splitlines():
        if line and not line.startswith("#"):
            yield line


def expected_pairs():
    for row in rows("expected.txt"):
        participant, *rules = row.split()
        for rule in rules:
            yield participant, rule


def quiet_rows():
    for row in rows("quiet.txt"):
        participant, rules, what, why = row.split(" | ")
        yield participant, rules.split(), f"{what}: {why}"


def rules_of(path):
    text = pathlib.Path(path).read_text()
    rules = re.findall(r'^rule \{\n  id: "([^"]+)"', text, re.MULTILINE)
    if len(rules) != len(re.findall(r"^rule\b", text, re.MULTILINE)):
        sys.exit(f"WRONG: {path}: a rule's id does not follow it at once")
    return rules


def cast():
    lines = [line for file in HERE.glob("*.jsonl")
             for line in file.read_text().splitlines()]
    return {json.loads(line)["participant"] for line in lines}


def differences(alerts, rules):
    seen = {(a["participant"], a["rule"]["rule"]): a for a in alerts}
    wanted = set(expected_pairs())
    if not rules:
        yield "the rule set holds no rule"
    for participant, rule in sorted(wanted - set(seen)):
        yield f"{participant}: {rule} should have been raised and was not"
    for participant, rule in sorted(set(seen) - wanted):
        yield f"{participant}: {rule} was raised and should not have been"
    for rule in sorted(set(rules) - {rule for _, rule in seen}):
        yield f"the rule {rule} was never raised"
    if len(alerts) != len(seen):
        yield "one rule has two alerts for the same participant"
    yield from wrong_quiet(seen, set(rules))
    yield from wrong_ends(seen)


def wrong_quiet(seen, rules):
    named = {participant for participant, _ in expected_pairs()}
    for participant, quiet, _ in quiet_rows():
        named.add(participant)
        for rule in quiet:
            if rule not in rules:
                yield f"quiet.txt: there is no rule {rule}"
            if (participant, rule) in seen:
                yield f"{participant}: {rule} should have stayed quiet"
    for participant in sorted(cast() ^ named):
        yield (f"{participant}: in the events and in neither list, or the "
               "other way round")


def wrong_ends(seen):
    corrected = seen.get(("p-08", "total-disagrees"), {})
    if corrected.get("status") != "ALERT_STATUS_ENTERED_IN_ERROR":
        yield "p-08: the corrected form's alert is not entered-in-error"
    latched = seen.get(("p-08", "score-above-range"), {})
    if latched.get("status") not in OPEN or "withdrawal" not in latched:
        yield "p-08: the latched alert is not open with its source withdrawn"
    closed = seen.get(("p-03", "missed-after-self-harm"), {})
    if closed.get("status") != "ALERT_STATUS_COMPLETED":
        yield "p-03: the alert that was closed is not completed"
    positive = seen.get(("p-03", "self-harm-positive"), {})
    if positive.get("alertId") != "A-3":
        yield "p-03: the self-harm alert is not A-3, which README.md reads"


def tell_quiet():
    people = {}
    for participant, _, reason in quiet_rows():
        people.setdefault(reason, []).append(participant)
    print("What stayed quiet, and why")
    for reason, who in people.items():
        print(f"  {', '.join(who)}  {reason}")


def main():
    alerts = [json.loads(line) for line in sys.stdin]
    rules = rules_of(sys.argv[1])
    wrong = list(differences(alerts, rules))
    for line in wrong:
        print(f"WRONG: {line}")
    if wrong:
        sys.exit(1)
    tell_quiet()
    cases = [rule for _, quiet, _ in quiet_rows() for rule in quiet]
    silent = cast() - {participant for participant, _ in expected_pairs()}
    print(f"\nChecked: all {len(rules)} rules spoke, {len(alerts)} alerts, "
          f"each one expected; {len(cases)} pairs of\na participant and a rule "
          f"quiet, as listed; {len(silent)} participants have no alert at all.")


main()
