"""Makes the files of one schema version, with a turnstoned that writes it.

Usage: make_store.py SOURCE VERSION

SOURCE is a clone of the repository as it was then, TURNSTONED (environment) the
program built from it, and PYTHONPATH holds the stubs and tests/system. Writes
vVERSION.sql, the store as text, and vVERSION.json, what was seen of it.
"""

import json
import os
import pathlib
import sqlite3
import sys
import tempfile

from course import live
from harness import Server


def main():
    source, version = sys.argv[1:]
    here = pathlib.Path(__file__).parent
    with tempfile.TemporaryDirectory() as folder:
        server = Server(folder + "/data",
                        config=[os.path.join(source, "tests/check/good")])
        found = live(server, int(version))
        if server.stop() != 0:
            sys.exit(f"the server stopped badly:\n{server.raw}")
        db = sqlite3.connect(folder + "/data/turnstone.db")
        pragmas = [f"PRAGMA {name} = {db.execute(f'PRAGMA {name}').fetchone()[0]};"
                   for name in ("application_id", "user_version")]
        text = "\n".join(pragmas + list(db.iterdump())) + "\n"
        db.close()
    if f"PRAGMA user_version = {version};" not in text:
        sys.exit(f"that turnstoned does not write schema {version}")
    (here / f"v{version}.sql").write_text(text)
    (here / f"v{version}.json").write_text(
        json.dumps(found, indent=1, sort_keys=True) + "\n")


main()
