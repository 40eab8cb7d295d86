"""The real binary under load, while bad things happen to it. What clients were
told is kept in a history and held against what the server knows afterwards:
BrokeDurable, BrokeOnce. And nobody waits for those who do not listen."""

import itertools
import random
import threading
import unittest

import grpc
from turnstone.v1 import service_pb2

from harness import SystemTest, phq9, until
from messages import MessagesTest

SEED = 20270104
POSITIVE = [0] * 8 + [1]
# Its quarantine would hide what the service itself holds; others ignore it.
SMALL_QUARANTINE = {"ASAN_OPTIONS": "quarantine_size_mb=1"}
MEGABYTE = 2 ** 20


def event(name):
    """Raises one alert, the participant's only one."""
    return phq9(f"e-{name}", POSITIVE, participant=f"p-{name}")


class History:
    """What the clients were told, and what they do not know. Thread-safe."""

    def __init__(self):
        self._news = threading.Condition()
        self.accepted = {}  # name -> (sequence, alert ids)
        self.wrong = []

    def note(self, name, answer):
        told = answer.sequence, tuple(answer.alert_id)
        with self._news:
            before = self.accepted.setdefault(name, told)
            if before != told:
                self.wrong.append(f"{name}: {before}, then {told}")
            self._news.notify_all()

    def wait_for(self, count):
        with self._news:
            if not self._news.wait_for(lambda: len(self.accepted) >= count, 60):
                raise AssertionError(f"only {len(self.accepted)} accepted")


class Load:
    """Clients that submit until the server is gone, or until stop(). Each has
    events of its own and goes on where it was not answered."""

    def __init__(self, history, unary=4, streams=2):
        self.history = history
        self.stopping = threading.Event()
        self.timeouts = 0
        self.refused = []
        self._next = [0] * (unary + streams)
        self._unary = unary
        self._threads = []
        self._clients = []
        self.deadline = 60

    def start(self, server):
        self.stopping.clear()
        for which in range(len(self._next)):
            client = server.client()
            run = self._submit if which < self._unary else self._stream
            thread = threading.Thread(target=run, args=(client, which))
            self._clients.append(client)
            self._threads.append(thread)
            thread.start()

    def finish(self):
        """They end by themselves once the server is gone."""
        for thread in self._threads:
            thread.join()
        for client in self._clients:
            client.close()
        self._threads.clear()
        self._clients.clear()

    def stop(self):
        self.stopping.set()
        self.finish()

    def names(self):
        """Every event that was ever sent, answered or not."""
        return [f"{which}-{number}" for which, count in enumerate(self._next)
                for number in range(count + 1)]

    def _submit(self, client, which):
        how = client.how | {"timeout": self.deadline}
        while not self.stopping.is_set():
            name = f"{which}-{self._next[which]}"
            try:
                answer = client.events.Submit(
                    service_pb2.SubmitRequest(event=event(name)), **how)
            except grpc.RpcError as error:
                if error.code() == grpc.StatusCode.DEADLINE_EXCEEDED:
                    self.timeouts += 1
                    continue  # the same again
                if error.code() != grpc.StatusCode.UNAVAILABLE:
                    self.refused.append(error.details())
                return
            self.history.note(name, answer)
            self._next[which] += 1

    def _stream(self, client, which):
        first = self._next[which]
        # No further ahead than names() tells.
        ahead = threading.Semaphore(1)

        def requests():
            for number in itertools.count(first):
                ahead.acquire()
                if self.stopping.is_set():
                    return
                yield service_pb2.SubmitRequest(event=event(f"{which}-{number}"))
        try:
            for reply in client.events.SubmitStream(requests(), **client.how):
                if reply.WhichOneof("result") != "accepted":
                    self.refused.append(reply.refused.message)
                self.history.note(reply.event_id[2:], reply.accepted)
                self._next[which] += 1
                ahead.release()
        except grpc.RpcError:
            ahead.release()


class TortureTest(SystemTest):
    def setUp(self):
        super().setUp()
        self.history = History()
        self.load = Load(self.history)

    def assertKept(self, server):
        """The server knows what the clients were told, and nothing twice."""
        self.assertEqual(self.history.wrong, [])
        self.assertEqual(self.load.refused, [])
        told = dict(self.history.accepted)
        intake = server.client()
        for name in self.load.names():
            answer = intake.submit(event(name))
            if name in told:
                self.assertTrue(answer.repeated_submission, name)
            self.history.note(name, answer)
        self.assertEqual(self.history.wrong, [])
        sequences = sorted(s for s, _ in self.history.accepted.values())
        self.assertEqual(sequences, list(range(1, len(sequences) + 1)))
        found, token = [], ""
        while True:
            page = intake.list(page_size=500, page_token=token)
            found += [(a.participant, a.alert_id) for a in page.alert]
            token = page.next_page_token
            if not token:
                break
        intake.close()
        self.assertEqual(sorted(found), sorted(
            (f"p-{name}", ids[0])
            for name, (_, ids) in self.history.accepted.items()))

    def test_killed_at_random_moments_under_load(self):
        chance = random.Random(SEED)
        for life in range(5):
            server = self.serve()
            self.load.start(server)
            with self.subTest(seed=SEED, life=life):
                self.history.wait_for(len(self.history.accepted)
                                      + chance.randint(1, 60))
            server.kill()
            self.load.finish()
        server = self.serve()
        with self.subTest(seed=SEED):
            self.assertKept(server)
        self.assertEqual(server.stop(), 0)

    def test_stopped_for_a_while_under_load(self):
        """The clients give up waiting and repeat; whatever the server had
        taken before it was stopped has one effect."""
        server = self.serve()
        self.load.deadline = 1
        self.load.start(server)
        for pause in range(2):
            self.history.wait_for(len(self.history.accepted) + 20)
            before = self.load.timeouts
            server.send(19)  # SIGSTOP

            def every_client_gave_up():
                return self.load.timeouts >= before + 4
            until(every_client_gave_up)
            server.send(18)  # SIGCONT
        self.history.wait_for(len(self.history.accepted) + 20)
        self.load.stop()
        self.assertKept(server)

    def test_second_server_leaves_the_first_unharmed(self):
        server = self.serve()
        self.load.start(server)
        for data, listen, said in (
                (self.data, None, f"another turnstoned has {self.data}"),
                (self.folder + "/other", f"127.0.0.1:{server.port}",
                 "another program has the port")):
            before = len(self.history.accepted)
            second = self.serve(data, listen=listen, start=False)
            self.assertNotEqual(second.finish(), 0)
            self.assertIn(said, second.raw)
            self.history.wait_for(before + 20)
        self.load.stop()
        server.kill()
        self.assertKept(self.serve())


class NotListeningTest(SystemTest):
    """Those who do not read what they asked for cost nobody anything."""

    def setUp(self):
        super().setUp()
        self.server = self.serve(environment=SMALL_QUARANTINE)
        self.intake = self.server.client()
        self.addCleanup(self.intake.close)
        self.lead = self.server.client("m.rowan", "on-call-lead")
        self.addCleanup(self.lead.close)

    def follow(self, after_position=0, name="m.rowan"):
        return self.lead.alerts.FollowAlerts(
            service_pb2.FollowAlertsRequest(after_position=after_position),
            metadata=(("turnstone-name", name),
                      ("turnstone-role", "on-call-lead")))

    def submit_many(self, first, count):
        replies = self.intake.events.SubmitStream(
            (service_pb2.SubmitRequest(event=event(n))
             for n in range(first, first + count)), **self.intake.how)
        for reply in replies:
            self.assertEqual(reply.WhichOneof("result"), "accepted")

    def test_every_one_of_many_followers_sees_the_alert(self):
        # One of them may follow a hundred times or so.
        followers = [self.follow(name=f"lead-{number % 10}")
                     for number in range(1000)]
        for follower in followers:
            follower.initial_metadata()
        self.intake.submit(event("one"))
        for follower in followers:
            self.assertEqual(next(follower).alert_id, "A-1")
        for follower in followers:
            follower.cancel()
        self.assertEqual(self.server.stop(), 0)

    def test_follower_from_now_on_misses_nothing(self):
        """Once it is told that it is served, whatever comes is for it."""
        for number in range(50):
            follower = self.lead.alerts.FollowAlerts(
                service_pb2.FollowAlertsRequest(),
                metadata=self.lead.how["metadata"], timeout=60)
            follower.initial_metadata()
            self.intake.submit(event(number))
            self.assertEqual(next(follower).participant, f"p-{number}")
            follower.cancel()

    def test_followers_that_never_read_delay_nobody(self):
        """Each of them holds a batch of 100 alerts and what fits into its
        window. Beyond that it must not matter how many alerts there are: if
        the server kept what they do not read, it would grow by all of it."""
        deaf = [self.follow() for _ in range(100)]
        for follower in deaf:
            follower.initial_metadata()
        # By now each has had more than its window and a batch.
        self.submit_many(0, 400)
        follower = self.follow()
        sizes = [next(follower).ByteSize() for _ in range(400)]
        before = self.server.memory()
        self.submit_many(400, 400)
        for _ in range(400):
            sizes.append(next(follower).ByteSize())
        growth = self.server.memory() - before
        unread = sum(sizes[400:]) * len(deaf)
        self.assertLess(growth, unread // 2,
                        f"{growth // MEGABYTE} MB for 400 events")
        for one in deaf + [follower]:
            one.cancel()
        self.assertEqual(self.server.stop(), 0)

    def test_clients_that_never_read_their_replies_delay_nobody(self):
        """The server reads no more than 128 events ahead of what it could
        answer, so that such a client is held up itself: were it not, the
        answers would pile up without end."""
        counts = [0] * 8
        # Refused, with an answer that says of which event: 2 kB of it.
        refused = event("one")
        refused.source = "urn:test:" + "x" * 2000

        def endless(which):
            while True:
                counts[which] += 1
                yield service_pb2.SubmitRequest(event=refused)
        deaf = [self.intake.events.SubmitStream(
            endless(which), metadata=self.intake.how["metadata"])
                for which in range(len(counts))]

        def all_have_sent():
            return min(counts) > 128
        until(all_have_sent)
        numbers = itertools.count()

        def all_are_held_up():
            before = list(counts)
            for number in itertools.islice(numbers, 20):
                answer = self.intake.submit(event(number))
                self.assertFalse(answer.repeated_submission)
            return counts == before
        until(all_are_held_up)
        for one in deaf:
            one.cancel()
        self.assertEqual(self.server.stop(), 0)


class StuckChannelTest(MessagesTest):
    def test_webhook_that_never_answers_delays_no_mail_and_no_event(self):
        self.configure(telephone="hang")
        self.start()
        self.raise_alert(1)

        def webhook_is_stuck():
            return len(self.hook.requests) == 1
        until(webhook_is_stuck)
        for number in (2, 3):
            self.raise_alert(number)

        def all_mail_is_there():
            return len(self.mail.handler.taken) == 9
        until(all_mail_is_there)
        # Each alert to three people by mail; see delivery_test.py.
        self.assertMailed([f"A-{number}/1/{person}/mail" for number in (1, 2, 3)
                           for person in ("r.sorrel", "a.fennel", "m.rowan")])
        self.assertEqual(len(self.hook.requests), 1)


if __name__ == "__main__":
    unittest.main()
