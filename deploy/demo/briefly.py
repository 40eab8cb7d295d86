"""Alerts, one a line in the order of their numbers, from JSON lines.

Usage: turnstone alerts --all --json | briefly.py
"""

import json
import sys


def word(name, prefix):
    return name.removeprefix(prefix).lower().replace("_", "-")


def state(alert):
    if alert["status"] == "ALERT_STATUS_ENTERED_IN_ERROR":
        return ": entered-in-error"
    if "withdrawal" in alert:
        return ": no longer applies, stays"
    return ""


def main():
    alerts = [json.loads(line) for line in sys.stdin]
    alerts.sort(key=lambda alert: int(alert["alertId"].removeprefix("A-")))
    for alert in alerts:
        print(
            f"  {alert['alertId']:<5}"
            f"{word(alert['priority'], 'PRIORITY_'):<8}"
            f"{word(alert['kind'], 'ALERT_KIND_'):<13}"
            f"{alert['participant']:<5} {alert['rule']['title']}{state(alert)}"
        )


main()
