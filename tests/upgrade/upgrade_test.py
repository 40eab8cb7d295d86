"""Stores of every schema there has been, opened by the turnstoned of today:
the same alerts, the same answers, and everything is as it should be."""

import json
import os
import pathlib
import shutil
import sqlite3
import subprocess
import unittest

from course import AFTER, BEFORE, configuration, seen
from harness import ROOT, SystemTest

HERE = pathlib.Path(__file__).parent
# As in service/store/schema.cc; a new step needs a file of its own here.
VERSIONS = [1, 2, 3, 4, 5]


def verify(data):
    return subprocess.run(
        [os.environ["TURNSTONED"], "verify", "--data", data], text=True,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=60,
        check=False)


class UpgradeTest(SystemTest):
    def lay_out(self, version):
        """A data folder as that version left it."""
        data = f"{self.folder}/v{version}"
        os.mkdir(data)
        db = sqlite3.connect(data + "/turnstone.db")
        db.executescript((HERE / f"v{version}.sql").read_text())
        db.close()
        return data

    def look(self, version):
        data = self.lay_out(version)
        expected = json.loads((HERE / f"v{version}.json").read_text())
        before = verify(data)
        if version == VERSIONS[-1]:
            self.assertEqual(before.returncode, 0, before.stdout)
        else:
            self.assertIn("an older turnstoned wrote them", before.stdout)
            self.assertEqual(before.returncode, 1)
        # Looking at it has not changed it, so going back is still possible.
        db = sqlite3.connect(data + "/turnstone.db")
        self.assertEqual(db.execute("PRAGMA user_version").fetchone()[0],
                         version)
        db.close()
        server = self.serve(data=data, config=[configuration(ROOT, data + "-with")])
        client = server.client()
        answers = {event.event_id: client.submit(event)
                   for event in BEFORE + AFTER}
        self.assertTrue(all(answer.repeated_submission
                            for answer in answers.values()))
        self.assertEqual(seen(server, answers), expected)
        client.close()
        self.assertEqual(server.stop(), 0)
        after = verify(data)
        self.assertEqual(after.returncode, 0, after.stdout)

    def test_every_version(self):
        for version in VERSIONS:
            with self.subTest(version=version):
                self.look(version)

    def test_a_backup_of_an_older_version_is_restored(self):
        data = self.lay_out(1)
        backup = self.folder + "/turnstone-20270120T100000Z-8.db"
        shutil.copy(data + "/turnstone.db", backup)
        said = subprocess.run(
            [os.environ["TURNSTONED"], "restore", "--from", backup, "--data",
             self.folder + "/new"], text=True, stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT, timeout=60, check=False).stdout
        self.assertIn("8 events", said)

    def test_there_is_a_file_for_every_version_there_has_been(self):
        """The latest schema step is the last one here."""
        steps = (pathlib.Path(ROOT) /
                 "service/store/schema.cc").read_text().count("Schema[] =")
        self.assertEqual(VERSIONS, list(range(1, steps + 1)))

    def test_a_newer_version_is_left_as_it_is(self):
        data = self.lay_out(VERSIONS[-1])
        db = sqlite3.connect(data + "/turnstone.db")
        db.execute(f"PRAGMA user_version = {VERSIONS[-1] + 1}")
        db.close()
        server = self.serve(data=data, start=False)
        self.assertNotEqual(server.finish(), 0)
        self.assertIn("newer turnstoned", server.raw)
        self.assertIn("newer turnstoned", verify(data).stdout)


if __name__ == "__main__":
    unittest.main()
