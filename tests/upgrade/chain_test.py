"""The chain over the audit of the stored schema 5, computed once more from the
description in service/store/audit_chain.h."""

import hashlib
import pathlib
import sqlite3
import struct
import unittest

HERE = pathlib.Path(__file__).parent


def sized(text):
    text = text.encode() if isinstance(text, str) else text
    return struct.pack(">Q", len(text)) + text


def digest(*parts):
    return hashlib.sha256(b"".join(parts)).digest()


def seal(salt, participant, detail):
    return digest(*map(sized, ("turnstone audit seal 1", salt, participant,
                               detail)))


class ChainTest(unittest.TestCase):
    def test_it_is_what_the_description_says(self):
        db = sqlite3.connect(":memory:")
        db.executescript((HERE / "v5.sql").read_text())
        chain = bytes(32)
        personal = 0
        rows = db.execute(
            "SELECT sequence, at, actor, action, subject, site, participant, "
            "detail, salt, emptied, sealed, chain FROM audit ORDER BY sequence")
        for (sequence, at, actor, action, subject, site, participant, detail,
             salt, emptied, sealed, kept) in rows:
            personal += participant != ""
            chain = digest(
                sized("turnstone audit record 1"), sized(chain),
                struct.pack(">qq", sequence, at),
                *map(sized, (actor, action, subject, site, emptied,
                             sealed or seal(salt, participant, detail))))
            self.assertEqual(kept, chain, sequence)
        self.assertGreater(personal, 0)
        db.close()


if __name__ == "__main__":
    unittest.main()
