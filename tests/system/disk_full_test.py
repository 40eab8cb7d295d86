"""A disk that is full, on the real binary. A longest file allowed stands for
it, which needs no rights: no file may grow beyond it, nor can the reserve be
set aside again, as on a full disk."""

import os
import resource
import unittest

from google.protobuf import duration_pb2
from grpc import StatusCode

from harness import SystemTest, phq9, until
from turnstone.v1 import service_pb2

EVENTS = "turnstone.v1.EventService"
POSITIVE = [0] * 8 + [1]


class DiskFullTest(SystemTest):
    def limit(self, server, size):
        resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE,
                         (size, resource.RLIM_INFINITY))

    def size(self, name):
        return os.stat(f"{self.data}/{name}").st_size

    def event(self, number):
        return phq9(f"e-{number}", POSITIVE, participant=f"p-{number}")

    def fill(self, intake):
        """Submits until it is refused; returns how many were accepted."""
        number = 1
        while True:
            try:
                answer = intake.submit(self.event(number))
            except Exception as refused:
                self.assertEqual(refused.code(), StatusCode.RESOURCE_EXHAUSTED,
                                 refused.details())
                self.assertIn("not accepted", refused.details())
                return number - 1
            self.assertEqual(answer.sequence, number)
            number += 1

    def test_runs_full_and_has_room_again(self):
        server = self.serve()
        intake = server.client()
        lead = server.client("m.rowan", "on-call-lead")
        self.limit(server, self.size("turnstone.db-wal") + 2 ** 18)
        accepted = self.fill(intake)
        self.assertGreater(accepted, 0)

        # Short: no events, but all that is owed to open alerts.
        server.wait_for("short of disk space, new events are refused")
        self.assertRefused(StatusCode.RESOURCE_EXHAUSTED, "free space",
                           intake.submit, self.event(accepted + 1))
        until(lambda: not server.health(EVENTS))
        self.assertTrue(intake.submit(self.event(1)).repeated_submission)
        lead.clock.AdvanceClock(service_pb2.AdvanceClockRequest(
            by=duration_pb2.Duration(seconds=900)), **lead.how)
        alert = lead.alerts.GetAlert(
            service_pb2.GetAlertRequest(alert_id="A-1"), **lead.how)
        self.assertEqual(alert.escalation.rungs_reached, 2)
        lead.work("A-1", receive={})
        self.assertTrue(server.health())

        # Nothing at all can be written.
        self.limit(server, 1)
        self.assertRefused(StatusCode.RESOURCE_EXHAUSTED, "not accepted",
                           lead.work, "A-1", start={})
        server.wait_for("the disk is full, nothing can be recorded")
        until(lambda: not server.health())

        self.limit(server, resource.RLIM_INFINITY)
        server.wait_for("enough disk space again, events are accepted")
        until(server.health)
        until(lambda: server.health(EVENTS))
        lead.work("A-1", start={})
        answer = intake.submit(self.event(accepted + 1))
        self.assertFalse(answer.repeated_submission)
        self.assertEqual(answer.sequence, accepted + 1)
        intake.close()
        lead.close()
        server.kill()

        server = self.serve()
        intake = server.client()
        for number in range(1, accepted + 2):
            again = intake.submit(self.event(number))
            self.assertTrue(again.repeated_submission)
            self.assertEqual(again.sequence, number)
        self.assertEqual(intake.list(page_size=500).total, accepted + 1)
        intake.close()
        self.assertEqual(server.stop(), 0)


if __name__ == "__main__":
    unittest.main()
