"""BrokeDurable and BrokeOnce on the real binary: killed without warning, it
loses nothing it has accepted, and a retry has no second effect."""

import random
import threading
import unittest

import grpc
from turnstone.v1 import service_pb2

from harness import SystemTest, phq9


class KillTest(SystemTest):
    def every_event_has_its_alert(self, server, participants):
        """Each accepted event was a positive self-harm item, so each
        participant must have exactly that alert."""
        person = server.client("r.sorrel", "clinician")
        found, token = [], ""
        while True:
            page = person.list(page_size=500, page_token=token)
            found += [(a.participant, a.rule.rule) for a in page.alert]
            token = page.next_page_token
            if not token:
                break
        person.close()
        self.assertEqual(
            sorted(found),
            sorted((p, "self-harm-positive") for p in participants))

    def test_killed_between_submits(self):
        accepted = []
        for life in range(8):
            server = self.serve()
            intake = server.client()
            for i in range(3):
                name = f"p-{life}-{i}"
                intake.submit(phq9(f"e-{life}-{i}", [0] * 8 + [1],
                                   participant=name))
                accepted.append(name)
            intake.close()
            server.kill()
        server = self.serve()
        self.every_event_has_its_alert(server, accepted)
        self.assertEqual(server.stop(), 0)

    def test_killed_in_the_middle_of_a_stream(self):
        # The seed only spreads the moments of the kill; any would do.
        chance = random.Random(20270104)
        events = [phq9(f"e-{i}", [0] * 8 + [1], participant=f"p-{i}")
                  for i in range(2000)]
        accepted = set()
        for life in range(4):
            server = self.serve()
            intake = server.client()
            kill_after = chance.randint(20, 300)
            replies = intake.events.SubmitStream(
                (service_pb2.SubmitRequest(event=e) for e in events),
                **intake.how)
            count = 0
            try:
                for reply in replies:
                    self.assertEqual(reply.WhichOneof("result"), "accepted")
                    accepted.add(reply.event_id)
                    count += 1
                    if count == kill_after:
                        server.process.kill()
            except grpc.RpcError:
                pass  # the result of the rest is not known
            server.finish()
            intake.close()
            self.assertGreaterEqual(count, kill_after)

        server = self.serve()
        intake = server.client()
        replies = list(intake.events.SubmitStream(
            (service_pb2.SubmitRequest(event=e) for e in events),
            **intake.how))
        known = {r.event_id for r in replies if r.accepted.repeated_submission}
        # Everything ever answered with "accepted" is still there ...
        self.assertEqual(accepted - known, set())
        # ... the order of acceptance has neither gap nor double ...
        self.assertEqual(sorted(r.accepted.sequence for r in replies),
                         list(range(1, 2001)))
        # ... and nothing has two effects.
        self.every_event_has_its_alert(server, [f"p-{i}" for i in range(2000)])
        intake.close()

    def test_stopped_politely_it_answers_what_it_took(self):
        server = self.serve()
        intake = server.client()
        results = []

        def send():
            for i in range(50):
                try:
                    intake.submit(phq9(f"e-{i}", [0] * 8 + [1],
                                       participant=f"p-{i}"))
                    results.append(f"p-{i}")
                except grpc.RpcError:
                    return
        sender = threading.Thread(target=send)
        sender.start()
        code = server.stop()
        sender.join()
        intake.close()
        self.assertEqual(code, 0)
        known = set(results)
        server = self.serve()
        person = server.client("r.sorrel", "clinician")
        there = {a.participant for a in person.list(page_size=500).alert}
        person.close()
        self.assertEqual(known - there, set())


if __name__ == "__main__":
    unittest.main()
