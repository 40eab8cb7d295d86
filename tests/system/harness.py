"""Starts and stops the real server, and speaks to it through stubs generated
from the contract. Every wait is for something to happen, never for a time."""

import json
import os
import pathlib
import shutil
import signal
import subprocess
import tempfile
import threading
import time
import unittest

import grpc
from google.protobuf import timestamp_pb2
from turnstone.v1 import event_pb2, service_pb2, service_pb2_grpc

ROOT = os.path.abspath(os.path.join(os.path.dirname(__file__), "..", ".."))
START = "2027-01-04T10:00:00Z"
START_SECONDS = 1799056800  # START as Unix time
DEADLINE = 60

# LOINC panel 44249-1, in printed order, and answer list LL358-3.
PHQ9 = ["44250-9", "44255-8", "44259-0", "44254-1", "44251-7", "44258-2",
        "44252-5", "44253-3", "44260-8"]
ANSWERS = ["LA6568-5", "LA6569-3", "LA6570-1", "LA6571-9"]


class Server:
    """One turnstoned. Its log is kept in `log`, a list of JSON objects."""

    def __init__(self, data, *, clock="simulated", config=None, listen=None,
                 more=(), start=True, environment=None, way_in=("--plain",)):
        config = config or [ROOT + "/rules", ROOT + "/deploy/config"]
        command = [os.environ["TURNSTONED"], "--data", data,
                   "--listen", listen or "127.0.0.1:0", "--clock", clock]
        if clock == "simulated":
            command += ["--start", START]
        for folder in config:
            command += ["--config", folder]
        command += [*way_in, *more]
        self.log = []
        self.raw = ""
        self.port = None
        self._news = threading.Condition()
        self.process = subprocess.Popen(command, stderr=subprocess.PIPE,
                                        stdout=subprocess.DEVNULL, text=True,
                                        env=os.environ | (environment or {}))
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        if start:
            self.port = int(self.wait_for("serving")["port"])

    def _read(self):
        for line in self.process.stderr:
            with self._news:
                self.raw += line
                try:
                    self.log.append(json.loads(line))
                except ValueError:
                    pass
                self._news.notify_all()
        with self._news:
            self.log.append({"event": "end of log"})
            self._news.notify_all()

    def wait_for(self, event):
        """The first log line of that name, once it is there."""
        def found():
            for line in self.log:
                if line["event"] in (event, "end of log"):
                    return line
            return None
        with self._news:
            self._news.wait_for(found, timeout=DEADLINE)
            line = found()
        if line is None or line["event"] != event:
            raise AssertionError(f"no '{event}' in the log:\n{self.raw}")
        return line

    def send(self, number):
        self.process.send_signal(number)

    def kill(self):
        self.process.kill()
        self.finish()

    def memory(self):
        """Bytes resident."""
        with open(f"/proc/{self.process.pid}/status", encoding="ascii") as file:
            for line in file:
                if line.startswith("VmRSS:"):
                    return int(line.split()[1]) * 1024
        raise AssertionError("no VmRSS")

    def stop(self):
        """As an operator does; returns the exit code."""
        self.send(signal.SIGTERM)
        return self.finish()

    def finish(self):
        code = self.process.wait(timeout=DEADLINE)
        self._reader.join(timeout=DEADLINE)
        self.process.stderr.close()
        return code

    def client(self, name="r.sorrel", role="clinician"):
        return Client(self.port, name, role)

    def health(self, service=""):
        """Whether it says that it serves; "" asks for the whole server. Spoken
        without the stubs of grpc.health.v1.Health/Check: byte 2 of the answer
        is the state."""
        name = service.encode()
        question = bytes([10, len(name)]) + name if name else b""
        with grpc.insecure_channel(f"127.0.0.1:{self.port}") as channel:
            check = channel.unary_unary("/grpc.health.v1.Health/Check")
            return check(question, timeout=DEADLINE) == b"\x08\x01"


class Client:
    """What an intake system written in Python would have."""

    def __init__(self, port, name, role):
        self.channel = grpc.insecure_channel(f"127.0.0.1:{port}")
        self.events = service_pb2_grpc.EventServiceStub(self.channel)
        self.alerts = service_pb2_grpc.AlertServiceStub(self.channel)
        self.participants = service_pb2_grpc.ParticipantServiceStub(
            self.channel)
        self.duties = service_pb2_grpc.DutyServiceStub(self.channel)
        self.clock = service_pb2_grpc.ClockServiceStub(self.channel)
        self.rules = service_pb2_grpc.RuleServiceStub(self.channel)
        self.how = {"metadata": (("turnstone-name", name),
                                 ("turnstone-role", role)),
                    "timeout": DEADLINE}

    def submit(self, event):
        return self.events.Submit(service_pb2.SubmitRequest(event=event),
                                  **self.how)

    def list(self, **filters):
        return self.alerts.ListAlerts(
            service_pb2.ListAlertsRequest(**filters), **self.how)

    def work(self, alert_id, **action):
        return self.alerts.WorkAlert(
            service_pb2.WorkAlertRequest(alert_id=alert_id, **action),
            **self.how)

    def close(self):
        self.channel.close()


def run_turnstone(*words):
    """The client program, told everything by its arguments."""
    environment = {name: value for name, value in os.environ.items()
                   if not name.startswith("TURNSTONE_")}
    return subprocess.run([os.environ["TURNSTONE"], *words], text=True,
                          capture_output=True, env=environment,
                          timeout=DEADLINE)


def until(probe):
    """Waits for `probe` to say yes."""
    last = time.monotonic() + DEADLINE
    while not probe():
        if time.monotonic() > last:
            raise AssertionError(f"waited in vain for: {probe.__name__}")
        time.sleep(0.02)


def phq9(event_id, items, participant="p1", seconds=START_SECONDS):
    """A PHQ-9 with the given item scores; None leaves an item out."""
    event = event_pb2.Event(
        source="urn:test:python", event_id=event_id, site="pebble-bay",
        participant=participant,
        effective_time=timestamp_pb2.Timestamp(seconds=seconds))
    event.screening_result.instrument = "phq-9"
    for question, points in zip(PHQ9, items):
        if points is not None:
            event.screening_result.answers.add(question=question,
                                               answer=ANSWERS[points])
    return event


class SystemTest(unittest.TestCase):
    """A folder for the data, and servers that do not outlive the test."""

    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = folder.name
        self.data = folder.name + "/data"

    def serve(self, data=None, **options):
        server = Server(data or self.data, **options)

        def tidy():
            if server.process.poll() is None:
                server.kill()
        self.addCleanup(tidy)
        return server

    def own_config(self):
        """A copy of the shipped configuration, to be changed."""
        folder = self.folder + "/config"
        for name in ("rules/instruments", "rules/packs", "rules/properties",
                     "deploy/config/sites"):
            shutil.copytree(f"{ROOT}/{name}",
                            f"{folder}/{os.path.basename(name)}")
        return folder

    def real_config(self):
        """One that is served on real time, too."""
        folder = self.own_config()
        site = pathlib.Path(folder, "sites/pebble-bay.textproto")
        site.write_text(
            site.read_text().replace("PLACEHOLDER", "000 (fictional)"))
        return folder

    def assertRefused(self, code, text, call, *arguments, **options):
        with self.assertRaises(grpc.RpcError) as caught:
            call(*arguments, **options)
        self.assertEqual(caught.exception.code(), code,
                         caught.exception.details())
        self.assertIn(text, caught.exception.details())
