"""Makes the files of one schema version, with a turnstoned that writes it.

Usage: make_store.py SOURCE VERSION [BACK_TO]

SOURCE is a clone of the repository as it was then, TURNSTONED (environment) the
program built from it, and PYTHONPATH holds the stubs and tests/system. Writes
vVERSION.sql, the store as text, and vVERSION.json, what was seen of it. With
BACK_TO also those of the versions before, down to it, by taking away what the
steps since had added: so 2 and 3 were made, from 4.
"""

import json
import pathlib
import sqlite3
import sys
import tempfile

from course import configuration, live
from harness import Server


# What takes a step back: by the version it led to.
UNDO = {4: "DROP INDEX alert_open", 3: "DROP TABLE shadow; DROP TABLE version"}


def write(db, version, found):
    here = pathlib.Path(__file__).parent
    pragmas = [f"PRAGMA {name} = {db.execute(f'PRAGMA {name}').fetchone()[0]};"
               for name in ("application_id", "user_version")]
    (here / f"v{version}.sql").write_text(
        "\n".join(pragmas + list(db.iterdump())) + "\n")
    (here / f"v{version}.json").write_text(
        json.dumps(found, indent=1, sort_keys=True) + "\n")


def main():
    source, version, back_to = (sys.argv[1:] + sys.argv[2:3])[:3]
    version, back_to = int(version), int(back_to)
    with tempfile.TemporaryDirectory() as folder:
        server = Server(folder + "/data",
                        config=[configuration(source, folder)])
        found = live(server, version)
        if server.stop() != 0:
            sys.exit(f"the server stopped badly:\n{server.raw}")
        db = sqlite3.connect(folder + "/data/turnstone.db")
        if db.execute("PRAGMA user_version").fetchone()[0] != version:
            sys.exit(f"that turnstoned does not write schema {version}")
        write(db, version, found)
        for older in range(version - 1, back_to - 1, -1):
            db.executescript(
                f"{UNDO[older + 1]}; PRAGMA user_version = {older}")
            write(db, older, found)
        db.close()


main()
