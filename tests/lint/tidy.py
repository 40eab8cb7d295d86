"""clang-tidy over every source of ours, those unchanged since they were last
found clean left out.

Looks at what the build compiles: where that is a unit of several sources (see
CMakePresets.json), at the unit, which takes a fifth of the time, since nearly
all of it goes into the headers that sources share.

Unchanged is a unit whose sources, the headers of ours they include (as the
compiler noted), its command and .clang-tidy are. Clean ones leave a stamp in
BUILD/tidy.

Usage: tidy.py ROOT BUILD
"""

import collections
import functools
import hashlib
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile


@functools.cache
def digest_of(path):
    try:
        return hashlib.sha256(pathlib.Path(path).read_bytes()).hexdigest()
    except OSError:
        return "missing"


def inputs_by_object(root, build):
    """What ninja knows of each object file: {object: [file of ours]}."""
    told = subprocess.run(["ninja", "-C", build, "-t", "deps"],
                          capture_output=True, text=True, check=True).stdout
    inputs = collections.defaultdict(list)
    target = None
    for line in told.splitlines():
        if line.startswith("    "):
            path = os.path.join(build, line.strip())
            if path.startswith(str(root)):
                inputs[target].append(path)
        elif ":" in line:
            target = line.partition(":")[0]
    return inputs


def digest_of_unit(root, command, inputs):
    parts = [command["command"], digest_of(root / ".clang-tidy")]
    parts += [digest_of(path) for path in (command["file"], *sorted(inputs))]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def units_to_check(root, build):
    """(command, stamp) of each; what protoc wrote is not ours."""
    inputs = inputs_by_object(root, build)
    commands = json.loads((build / "compile_commands.json").read_text())
    for command in commands:
        if command["file"].endswith(".pb.cc"):
            continue
        target = re.search(r" -o (\S+)", command["command"])[1]
        stamp = build / "tidy" / digest_of_unit(root, command, inputs[target])
        if not stamp.exists():
            yield command, stamp


def findings_in(root, unit):
    """What clang-tidy says of the unit; empty if all is well."""
    command, stamp = unit
    # Sanitizers change no finding, and want headers that clang may not have.
    plain = re.sub(r" -f(no-)?sanitize\S+", "", command["command"])
    with tempfile.TemporaryDirectory() as folder:
        database = pathlib.Path(folder) / "compile_commands.json"
        database.write_text(json.dumps([dict(command, command=plain)]))
        result = subprocess.run(
            ["clang-tidy", "-quiet",
             # The commands are g++'s, and clang knows other warnings.
             "--extra-arg=-Wno-unknown-warning-option",
             f"--config-file={root}/.clang-tidy", "-p", folder,
             command["file"]],
            capture_output=True, text=True, check=False)
    if result.returncode == 0:
        stamp.touch()
        return ""
    return result.stdout or result.stderr


def main():
    root, build = (pathlib.Path(arg).resolve() for arg in sys.argv[1:3])
    (build / "tidy").mkdir(exist_ok=True)
    todo = list(units_to_check(root, build))
    unclean = 0
    for unit in todo:
        findings = findings_in(root, unit)
        unclean += bool(findings)
        print(findings, end="", flush=True)
    print(f"{len(todo)} units looked at")
    sys.exit(unclean > 0)


if __name__ == "__main__":
    main()
