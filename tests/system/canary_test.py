"""Nothing of a participant leaves the store but in answers to those who ask.

Values that stand out are planted in every field that says something of a
participant or that people write; then everything the service emits is looked
through: its log, its figures, mail, the webhook's bodies, refusals, names of
files, and what a crash leaves. Common practice, no source.
"""

import os
import pathlib
import resource
import signal
import stat
import unittest
import urllib.request

import grpc
from google.protobuf import timestamp_pb2

from harness import START_SECONDS, phq9, until
from messages import OWED, POSITIVE, MessagesTest
from turnstone.v1 import operations_pb2, service_pb2, service_pb2_grpc

CANARY = "kanari"  # part of every value that is planted
# Of a PHQ-9: its name, its answers, and the self-harm item.
CLINICAL = ("44260-8", "LA6570-1", "LA6571-9", "phq")
TO_NOBODY = (CANARY, *CLINICAL)
# A sender who is refused may be told which event of theirs it was, and which
# answers there are; not who it was about, nor what was said.
TO_THE_SENDER = [CANARY + word for word in (
    "-participant", " participant", "-answer", "-question", "-instrument",
    "-clinician", " visit", " note", " reason", " closing")]


def planted(event, number):
    """Puts a value that stands out into what all events have."""
    event.source = f"urn:{CANARY}:source"
    event.event_id = f"{CANARY}-event-{number}"
    event.participant = f"{CANARY}-participant"
    return event


class CanaryTest(MessagesTest):
    def setUp(self):
        super().setUp()
        self.backups = self.folder + "/backups"
        self.refusals = []

    def start(self, send=True):
        more = ["--credentials", str(self.credentials), "--send",
                "--metrics", "127.0.0.1:0", "--backups", self.backups]
        self.server = self.serve(config=[self.config], more=more)
        self.lead = self.server.client("m.rowan", "on-call-lead")
        self.addCleanup(self.lead.close)
        self.intake = self.server.client()
        self.addCleanup(self.intake.close)

    def figures(self):
        port = self.server.wait_for("serving")["metrics_port"]
        with urllib.request.urlopen(
                f"http://127.0.0.1:{port}/metrics", timeout=60) as reply:
            return reply.read().decode()

    def refused(self, call, *arguments, **options):
        with self.assertRaises(grpc.RpcError) as caught:
            call(*arguments, **options)
        self.refusals.append(caught.exception.details())

    def submit_everything(self):
        """Every kind of event, each with canaries."""
        event = planted(phq9("", []), 1)
        event.enrolment.clinician = f"{CANARY}-clinician"
        self.intake.submit(event)
        event = planted(phq9("", []), 2)
        event.visit_planned.visit = f"{CANARY}-visit"
        event.visit_planned.clinician = f"{CANARY}-clinician"
        event.visit_planned.planned_start.seconds = START_SECONDS + 3600
        self.intake.submit(event)
        raised = self.intake.submit(planted(phq9("", POSITIVE), 3)).alert_id
        self.assertTrue(raised)
        event = planted(phq9("", []), 4)
        event.correction.corrected_source = f"urn:{CANARY}:source"
        event.correction.corrected_event_id = f"{CANARY}-event-2"
        event.correction.reason = f"{CANARY} reason of a correction"
        event.correction.withdrawn = True
        self.intake.submit(event)
        return list(raised)

    def be_refused(self):
        """Events that are wrong in one place and hold canaries in others."""
        wrong = planted(phq9("", POSITIVE), 5)
        wrong.participant = f"{CANARY} participant"
        self.refused(self.intake.submit, wrong)
        wrong = planted(phq9("", POSITIVE), 6)
        wrong.screening_result.answers[0].answer = f"{CANARY}-answer"
        self.refused(self.intake.submit, wrong)
        wrong = planted(phq9("", POSITIVE), 7)
        wrong.screening_result.answers[0].question = f"{CANARY}-question"
        self.refused(self.intake.submit, wrong)
        wrong = planted(phq9("", POSITIVE), 8)
        wrong.screening_result.instrument = f"{CANARY}-instrument"
        self.refused(self.intake.submit, wrong)
        wrong = planted(phq9("", []), 9)
        wrong.visit_outcome.visit = f"{CANARY} visit"
        self.refused(self.intake.submit, wrong)
        wrong = planted(phq9("", POSITIVE), 3)
        wrong.site = f"{CANARY}-site"
        self.refused(self.intake.submit, wrong)
        # The same id with other content.
        self.refused(self.intake.submit, planted(phq9("", [0] * 9), 3))

    def work(self, alerts):
        for alert in alerts:
            self.lead.work(alert, receive=service_pb2.Receive(
                note=f"{CANARY} note of who has it"))
            self.lead.work(alert, note=service_pb2.AddNote(
                note=f"{CANARY} note: ring the daughter"))
            self.refused(self.lead.work, alert, close=service_pb2.Close(
                outcome=f"{CANARY}-outcome", note=f"{CANARY} closing"))
            self.refused(self.lead.work, alert, hold=service_pb2.PutOnHold(
                reason=f"{CANARY} reason",
                until=timestamp_pb2.Timestamp(seconds=1)))
        self.refused(self.lead.work, f"A-{CANARY}",
                     receive=service_pb2.Receive())

    def look_after(self):
        """What an operator does."""
        steward = self.server.client("w.dunlin", "data-steward")
        self.addCleanup(steward.close)
        stub = service_pb2_grpc.OperationsServiceStub(steward.channel)
        list(stub.BackUp(operations_pb2.BackUpRequest(), **steward.how))
        # Refused: an alert is open.
        self.refused(stub.EraseParticipant,
                     operations_pb2.EraseParticipantRequest(
                         participant=f"{CANARY}-participant", reason="moved"),
                     **steward.how)
        self.server.send(signal.SIGHUP)
        self.server.wait_for("configuration in force")

    def outside(self):
        """Everything emitted: what it is, and its text."""
        yield "log", self.server.raw
        yield "figures", self.metrics
        for mail in self.mails():
            yield "mail", str(mail.items()) + mail.get_content()
        for _, headers, body in self.hook.requests:
            # Bytes in base64 may look like anything.
            del headers["Signature"], headers["Content-Digest"]
            yield "webhook", str(headers.items()) + body.decode()
        for refusal in self.refusals:
            yield "refusal", refusal
        for path in self.files():
            yield "name of a file", str(path)
            if path.suffix != ".db" and not path.name.endswith("-wal"):
                yield path.name, path.read_bytes().decode("latin-1")

    def files(self):
        for folder in (self.data, self.backups):
            yield from pathlib.Path(folder).rglob("*")

    def test_only_the_store_holds_what_is_said_of_people(self):
        self.start()
        alerts = self.submit_everything()
        self.be_refused()

        def nothing_is_owed():
            return not self.outbox(OWED)
        until(nothing_is_owed)
        self.advance(15 * 60)
        until(nothing_is_owed)
        self.work(alerts)
        self.look_after()
        self.metrics = self.figures()
        self.server.send(signal.SIGABRT)
        self.assertEqual(self.server.finish(), -signal.SIGABRT)

        seen = set()
        for what, text in self.outside():
            seen.add(what)
            words = TO_THE_SENDER if what == "refusal" else TO_NOBODY
            for word in words:
                self.assertNotIn(word.lower(), text.lower(), what)
        self.assertLessEqual({"log", "figures", "mail", "webhook", "refusal",
                              "name of a file"}, seen)
        # The looking finds: the store itself does hold them, as text.
        kept = b"".join(path.read_bytes() for path in self.files()
                        if path.name.startswith("turnstone.db"))
        for word in ("participant", "clinician", "note of who", "reason of"):
            self.assertRegex(kept, f"{CANARY}[- ]{word}".encode())


class WarningTest(MessagesTest):
    """What looks as if it said who somebody is: kept, and warned of."""

    def warnings(self, stub, request):
        answer, call = stub.with_call(request, **self.lead.how)
        return answer, [value for key, value in call.trailing_metadata()
                        if key == "turnstone-warning"]

    def test_the_sender_is_warned_and_nothing_is_lost(self):
        self.start(send=False)
        self.raise_alert()
        note = "rang 020 7946 0958, spoke with ann@example.org"
        answer, said = self.warnings(
            self.lead.alerts.WorkAlert, service_pb2.WorkAlertRequest(
                alert_id="A-1", note=service_pb2.AddNote(note=note)))
        self.assertIn(note, answer.history[-1].text)
        self.assertEqual(len(said), 1)
        self.assertIn("note.note: holds what looks like an e-mail address and "
                      "a telephone number", said[0])
        event = phq9("e-2", [])
        event.correction.corrected_source = "urn:test:python"
        event.correction.corrected_event_id = "canary-1"
        event.correction.reason = "was for 07700900123"
        event.correction.withdrawn = True
        event.participant = "canary-1"
        answer, said = self.warnings(self.lead.events.Submit,
                                     service_pb2.SubmitRequest(event=event))
        self.assertTrue(answer.sequence)
        self.assertEqual(len(said), 1)
        self.assertIn("event.correction.reason", said[0])
        for warning in said:
            self.assertNotIn("07700", warning)
        _, said = self.warnings(
            self.lead.alerts.WorkAlert, service_pb2.WorkAlertRequest(
                alert_id="A-1", note=service_pb2.AddNote(note="rang twice")))
        self.assertEqual(said, [])


class KeptToItselfTest(MessagesTest):
    """Rights of files, and what a crash leaves."""

    def serve_under(self, umask):
        before = os.umask(umask)
        try:
            return self.serve(more=["--backups", self.folder + "/backups"])
        finally:
            os.umask(before)

    def rights(self):
        """{path: rights} of all there is, below and with the two folders."""
        found = {}
        for top in (self.data, self.folder + "/backups"):
            for path in [pathlib.Path(top), *pathlib.Path(top).rglob("*")]:
                found[path] = stat.S_IMODE(path.stat().st_mode)
        return found

    def back_up(self, server):
        steward = server.client("w.dunlin", "data-steward")
        stub = service_pb2_grpc.OperationsServiceStub(steward.channel)
        list(stub.BackUp(operations_pb2.BackUpRequest(), **steward.how))
        steward.close()

    def test_files_are_the_users_alone_under_any_umask(self):
        for umask in (0o000, 0o777):
            with self.subTest(umask=oct(umask)):
                self.data = f"{self.folder}/data-{umask}"
                server = self.serve_under(umask)
                intake = server.client()
                intake.submit(phq9("e-1", POSITIVE))
                intake.close()
                self.back_up(server)
                rights = self.rights()
                self.assertGreaterEqual(len(rights), 5)
                for path, mode in rights.items():
                    self.assertEqual(mode, 0o700 if path.is_dir() else 0o600,
                                     path)
                server.kill()

    def test_a_store_that_was_copied_here_is_closed_again(self):
        self.serve().kill()
        path = pathlib.Path(self.data, "turnstone.db")
        path.chmod(0o644)
        self.serve()
        self.assertEqual(stat.S_IMODE(path.stat().st_mode), 0o600)

    def test_a_crash_leaves_no_memory_behind(self):
        before = resource.getrlimit(resource.RLIMIT_CORE)
        resource.setrlimit(resource.RLIMIT_CORE, (before[1], before[1]))
        self.addCleanup(resource.setrlimit, resource.RLIMIT_CORE, before)
        server = self.serve()
        pid = server.process.pid
        limits = pathlib.Path(f"/proc/{pid}/limits").read_text("ascii")
        self.assertRegex(limits, r"Max core file size +0 +0 ")
        server.send(signal.SIGABRT)
        _, status = os.waitpid(pid, 0)
        self.assertTrue(os.WIFSIGNALED(status))
        self.assertFalse(os.WCOREDUMP(status))
        self.assertEqual(os.WTERMSIG(status), signal.SIGABRT)
        server.finish()


del MessagesTest  # it has no tests of its own

if __name__ == "__main__":
    unittest.main()
