"""Tells what alerts stand open, or what is new among them, in few lines.

Usage: turnstone alerts ... --json | briefly.py [SEEN_FILE]

With a file: only alerts that are new, or stand differently, since the last
time with the same file; a line each. Routine ones that ask for the same share
a line. Without a file: all of them, and the urgent ones share lines too. An
alert about safety, or one to be answered asap or stat, never shares a line.
"""

import json
import pathlib
import sys


def word(name, prefix):
    return name.removeprefix(prefix).lower().replace("_", "-")


def state(alert):
    if alert["status"] == "ALERT_STATUS_ENTERED_IN_ERROR":
        return ": entered-in-error"
    if "withdrawal" in alert:
        return ": no longer applies, stays"
    return ""


def line(number, priority, kind, text):
    return f"  {number:<5}{priority:<8}{kind:<13}{text}"


def tell(alerts, shared):
    together = {}
    for alert in alerts:
        priority = word(alert["priority"], "PRIORITY_")
        kind = word(alert["kind"], "ALERT_KIND_")
        who, title = alert["participant"], alert["rule"]["title"]
        if priority in shared and kind != "safety" and not state(alert):
            together.setdefault((priority, kind, title), []).append(who)
        else:
            print(line(alert["alertId"], priority, kind,
                       f"{who}  {title}{state(alert)}"))
    for (priority, kind, title), people in sorted(
            together.items(), key=lambda item: item[0][0] == "routine"):
        print(line("", priority, kind, f"{title}: {', '.join(people)}"))


def news(alerts, seen_file):
    seen_file.touch()
    seen = seen_file.read_text().split("\n")
    marks = {f"{a['alertId']} {a['priority']}{state(a)}": a for a in alerts}
    seen_file.write_text("\n".join(marks))
    return [alert for mark, alert in marks.items() if mark not in seen]


def main():
    alerts = [json.loads(row) for row in sys.stdin]
    alerts.sort(key=lambda alert: int(alert["alertId"].removeprefix("A-")))
    if sys.argv[1:]:
        tell(news(alerts, pathlib.Path(sys.argv[1])), {"routine"})
    else:
        tell(alerts, {"routine", "urgent"})


main()
