"""The small course that every store in this folder has lived through, and what
is to be found of it afterwards. Invented; what it raises follows from
tests/check/good/packs/small.textproto as written then."""

import os
import pathlib
import shutil

from google.protobuf import duration_pb2, json_format, timestamp_pb2
from turnstone.v1 import event_pb2, service_pb2

SITE = "harbour-row"
NOON = 1799056800  # 2027-01-04, when the harness's clock begins


def configuration(source, folder):
    """tests/check/good of that clone, with a rota that may have gaps."""
    config = os.path.join(folder, "config")
    shutil.copytree(os.path.join(source, "tests/check/good"), config)
    site = pathlib.Path(config) / "sites/harbour-row.textproto"
    site.write_text(site.read_text().replace(
        "rota {", 'rota {\n  gaps_because: "invented"'))
    return config


def event(event_id, participant, seconds=NOON, **payload):
    return event_pb2.Event(
        source="urn:test:upgrade", event_id=event_id, site=SITE,
        participant=participant,
        effective_time=timestamp_pb2.Timestamp(seconds=seconds), **payload)


def form(event_id, participant):
    """Six points, and something said of self-harm."""
    return event(event_id, participant,
                 screening_result=event_pb2.ScreeningResult(
                     instrument="mood-3", willing=True,
                     answers=[event_pb2.ItemAnswer(question=item,
                                                   answer="sometimes")
                              for item in ("m1", "m2", "m3")]))


def practice(event_id, participant, confidence):
    return event(event_id, participant,
                 practice_report=event_pb2.PracticeReport(
                     confidence=confidence))


def visit(event_id, participant, days):
    return event(event_id, participant, NOON + days * 86400,
                 visit_outcome=event_pb2.VisitOutcome(
                     visit=event_id,
                     outcome=event_pb2.VISIT_OUTCOME_KIND_NO_ANSWER))


# Posted in this order; those in AFTER once the clock has gone on by 9 days.
BEFORE = [
    form("form", "p-1"),
    practice("unsure", "p-2", 50),
    practice("sure", "p-3", 95),
    visit("visit-1", "p-4", 0),
    event("withdrawn", "p-2", correction=event_pb2.Correction(
        corrected_source="urn:test:upgrade", corrected_event_id="unsure",
        withdrawn=True, reason="entered for somebody else")),
    practice("unsure-again", "p-2", 40),
]
AFTER = [visit("visit-2", "p-4", 9), practice("late", "p-3", 10)]


def work(person, alert_id, **action):
    person.work(alert_id, **action)


def work_as_in_version_1(person, alert_id, close=None, receive=None):
    """There was a call for each then; their requests are three texts."""
    name = "CloseAlert" if close else "ReceiveAlert"
    texts = [alert_id, *([close.outcome, close.note] if close
                         else [receive.note])]
    request = b"".join(
        bytes([number << 3 | 2, len(text)]) + text.encode()
        for number, text in enumerate(texts, 1))
    person.channel.unary_unary(f"/turnstone.v1.AlertService/{name}")(
        request, **person.how)


def live(server, version):
    """Plays it with a server of that schema version; what is seen then."""
    do = work_as_in_version_1 if version == 1 else work
    intake = server.client()
    answers = {}

    def post(events):
        for one in events:
            answers[one.event_id] = intake.submit(one)
    post(BEFORE)
    clinician = server.client("h.teasel", "clinician")
    closed = answers["unsure-again"].alert_id[0]
    do(clinician, closed, close=service_pb2.Close(outcome="seen",
                                                  note="Talked it over."))
    taken = answers["form"].alert_id[0]
    do(clinician, taken, receive=service_pb2.Receive(note="Ringing now."))
    intake.clock.AdvanceClock(service_pb2.AdvanceClockRequest(
        by=duration_pb2.Duration(seconds=9 * 86400)), **intake.how)
    post(AFTER)
    intake.clock.AdvanceClock(service_pb2.AdvanceClockRequest(
        by=duration_pb2.Duration(seconds=7 * 86400)), **intake.how)
    found = seen(server, answers)
    intake.close()
    clinician.close()
    return found


def seen(server, answers):
    """Alerts and answers, in what every version tells of them."""
    client = server.client()
    alerts = {
        alert.alert_id: {
            "participant": alert.participant,
            "rule": alert.rule.rule,
            "kind": alert.kind,
            "priority": alert.priority,
            "status": alert.status,
            "latched": alert.latched,
            "raised_at": alert.raised_at.seconds,
            "reasons": [[reason.event_id, reason.why]
                        for reason in alert.occurrence],
            "closing": json_format.MessageToDict(alert.closing),
        } for alert in client.list(page_size=500).alert}
    client.close()
    return {"alerts": alerts,
            "answers": {event_id: [answer.sequence,
                                   answer.recorded_time.seconds,
                                   list(answer.alert_id)]
                        for event_id, answer in answers.items()}}
