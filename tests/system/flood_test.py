"""One caller sends without end, and others open connections and never get to
the point, while an intake's alarming events still become alerts. How much
longer those take is printed: it depends on the machine, so nothing hangs on
it. That they are served in turn is counted in fair_queue_test.cc."""

import itertools
import os
import socket
import statistics
import subprocess
import sys
import threading
import time
import unittest

import grpc
from turnstone.v1 import service_pb2

from harness import DEADLINE, Client, SystemTest, phq9, until

STREAMS = 16  # as many as one caller may have; see service/rpc/limits.h
ALERTS = 40
POSITIVE = [0] * 8 + [1]
# What every HTTP/2 connection begins with (RFC 9113, 3.4), and the beginning
# of a SETTINGS frame that does not go on (4.1).
PREFACE = b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n"
HALF_A_FRAME = b"\x00\x00\x06\x04\x00"


def flood(port):
    """Sends events by as many streams as it may have until its input is
    closed, then says how many were accepted. Run as a process of its own, so
    that it takes no time from those who are measured."""
    client = Client(port, "noisy", "intake-system")
    closed = threading.Event()
    counts = [0] * STREAMS

    def events(which):
        for number in itertools.count():
            if closed.is_set():
                return
            yield service_pb2.SubmitRequest(event=phq9(
                f"noise-{which}-{number}", [0] * 9,
                participant=f"noise-{which}-{number // 20}",
                seconds=int(time.time())))

    def send(which):
        how = client.how | {"timeout": 10 * DEADLINE}
        for reply in client.events.SubmitStream(events(which), **how):
            if reply.WhichOneof("result") == "accepted":
                counts[which] += 1
                if counts[which] == 1:
                    # In one piece: the others write, too.
                    os.write(1, b"begun\n")
    threads = [threading.Thread(target=send, args=(which,))
               for which in range(STREAMS)]
    for thread in threads:
        thread.start()
    sys.stdin.read()
    closed.set()
    for thread in threads:
        thread.join()
    print(sum(counts), flush=True)


class FloodTest(SystemTest):
    def setUp(self):
        super().setUp()
        # On real time, by which a round of work is kept short.
        self.server = self.serve(clock="system", config=[self.real_config()])
        self.intake = self.server.client("intake", "intake-system")
        self.addCleanup(self.intake.close)

    def send_alarming(self, name):
        """Seconds that each took; every one has its own alert."""
        took, alerts = [], []
        for number in range(ALERTS):
            event = phq9(f"{name}-{number}", POSITIVE,
                         participant=f"{name}-{number}",
                         seconds=int(time.time()))
            begin = time.monotonic()
            answer = self.intake.submit(event)
            took.append(time.monotonic() - begin)
            alerts += answer.alert_id
        self.assertEqual(len(set(alerts)), ALERTS)
        return took

    def never_get_to_the_point(self):
        """Connections that say nothing, too little, or nothing more."""
        begun = []
        for words in (b"", PREFACE[:10], PREFACE, PREFACE + HALF_A_FRAME):
            for _ in range(50):
                one = socket.create_connection(
                    ("127.0.0.1", self.server.port), timeout=DEADLINE)
                self.addCleanup(one.close)
                one.sendall(words)
                begun.append(one)
        return begun

    def assertHungUp(self, connection):
        try:
            while connection.recv(1000):
                pass  # what the server begins with
        except ConnectionResetError:
            pass

    def test_neither_costs_another_an_alert(self):
        slow = self.never_get_to_the_point()
        quiet = statistics.median(self.send_alarming("quiet"))
        with subprocess.Popen([sys.executable, __file__, "flood",
                               str(self.server.port)], stdin=subprocess.PIPE,
                              stdout=subprocess.PIPE, text=True) as noisy:
            for _ in range(STREAMS):
                self.assertEqual(noisy.stdout.readline(), "begun\n")
            loud = statistics.median(self.send_alarming("loud"))
            accepted, _ = noisy.communicate(timeout=DEADLINE)
        print(f"median of {ALERTS}: {quiet * 1000:.1f} ms alone, "
              f"{loud * 1000:.1f} ms beside {accepted.strip()} of another's "
              f"events; ratio {loud / quiet:.1f}")
        self.assertGreater(int(accepted), STREAMS)
        for one in slow:
            self.assertHungUp(one)
        self.assertTrue(self.server.health())
        self.assertEqual(self.server.stop(), 0)

    def test_one_caller_has_so_many_streams_and_others_have_theirs(self):
        hold = threading.Event()
        self.addCleanup(hold.set)

        def held(name):
            yield service_pb2.SubmitRequest(event=phq9(
                f"held-{name}", [0] * 9, seconds=int(time.time())))
            hold.wait()

        def stream(name, caller):
            how = (("turnstone-name", caller),
                   ("turnstone-role", "intake-system"))
            return self.intake.events.SubmitStream(held(name), metadata=how)
        streams = [stream(f"{n}", "noisy") for n in range(STREAMS)]
        for one in streams:
            self.assertEqual(next(one).WhichOneof("result"), "accepted")
        with self.assertRaises(grpc.RpcError) as caught:
            next(stream("more", "noisy"))
        self.assertEqual(caught.exception.code(),
                         grpc.StatusCode.RESOURCE_EXHAUSTED)
        self.assertIn("not accepted", caught.exception.details())
        self.assertIn("grpc-retry-pushback-ms",
                      dict(caught.exception.trailing_metadata()))
        other = stream("other", "another")
        self.assertEqual(next(other).WhichOneof("result"), "accepted")
        hold.set()
        for one in streams + [other]:
            self.assertEqual(list(one), [])

        def there_is_room_again():
            try:
                return next(stream("again", "noisy")) is not None
            except grpc.RpcError:
                return False
        until(there_is_room_again)


if __name__ == "__main__":
    if sys.argv[1:2] == ["flood"]:
        flood(int(sys.argv[2]))
    else:
        unittest.main()
