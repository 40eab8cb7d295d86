"""clang-tidy over every source of ours, those unchanged since they were last
found clean left out.

A source is unchanged if it, every header of ours it includes (as the compiler
noted), its command and .clang-tidy are. Clean ones leave a stamp in BUILD/tidy.

Nearly all the time goes into the headers that sources share. Those of a folder
are therefore looked at as one unit; where two of them give one name to
different things, so that the unit does not compile, it is halved.

Usage: tidy.py ROOT BUILD
"""

import collections
import concurrent.futures
import dataclasses
import functools
import hashlib
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

from sources import cpp_files

UNIT_SOURCES_MAX = 12
NOT_COMPILED = "[clang-diagnostic-error]"


@dataclasses.dataclass
class Source:
    path: pathlib.Path
    command: dict  # as in compile_commands.json
    stamp: pathlib.Path


@functools.cache
def digest_of(path):
    try:
        return hashlib.sha256(pathlib.Path(path).read_bytes()).hexdigest()
    except OSError:
        return "missing"


def headers_by_object(root, build):
    """What ninja knows of each object file: {object: [header of ours]}."""
    told = subprocess.run(["ninja", "-C", build, "-t", "deps"],
                          capture_output=True, text=True, check=True).stdout
    headers = collections.defaultdict(list)
    target = None
    for line in told.splitlines():
        if line.startswith("    "):
            path = os.path.join(build, line.strip())
            if path.startswith(str(root)):
                headers[target].append(path)
        elif ":" in line:
            target = line.partition(":")[0]
    return headers


def digest_with_headers(root, command, headers):
    parts = [command["command"], digest_of(root / ".clang-tidy")]
    parts += [digest_of(path) for path in (command["file"], *sorted(headers))]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def sources_to_check(root, build):
    ours = set(cpp_files(root))
    headers = headers_by_object(root, build)
    commands = json.loads((build / "compile_commands.json").read_text())
    for command in commands:
        path = pathlib.Path(command["file"])
        if path not in ours:
            continue
        target = re.search(r" -o (\S+)", command["command"])[1]
        digest = digest_with_headers(root, command, headers[target])
        source = Source(path, command, build / "tidy" / digest)
        if not source.stamp.exists():
            yield source


def units_of(sources):
    folders = collections.defaultdict(list)
    for source in sources:
        folders[source.path.parent].append(source)
    for folder in folders.values():
        for first in range(0, len(folder), UNIT_SOURCES_MAX):
            yield folder[first:first + UNIT_SOURCES_MAX]


def write_unit(folder, unit):
    """One file of all the unit's sources, and how to compile it. Returns, for
    each of its lines, where it comes from."""
    origins, text = [], []
    for source in unit:
        lines = source.path.read_text().splitlines()
        text += lines
        origins += [f"{source.path}:{n + 1}" for n in range(len(lines))]
    path = folder / "unit.cc"
    path.write_text("\n".join(text) + "\n")
    command = dict(unit[0].command, file=str(path))
    # Sanitizers change no finding, and want headers that clang may not have.
    command["command"] = re.sub(
        r" -f(no-)?sanitize\S+", "",
        command["command"].replace(str(unit[0].path), str(path)))
    (folder / "compile_commands.json").write_text(json.dumps([command]))
    return origins


def findings_in(root, unit):
    """What clang-tidy says of the unit; empty if all is well."""
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        origins = write_unit(folder, unit)
        result = subprocess.run(
            ["clang-tidy", "-quiet",
             # The commands are g++'s, and clang knows other warnings.
             "--extra-arg=-Wno-unknown-warning-option", f"--config-file={root}/.clang-tidy", "-p",
             folder, folder / "unit.cc"],
            capture_output=True, text=True, check=False)
        said = re.sub(re.escape(f"{folder}/unit.cc") + r":(\d+)",
                      lambda at: origins[int(at[1]) - 1], result.stdout)
    if result.returncode == 0:
        for source in unit:
            source.stamp.touch()
        return ""
    if NOT_COMPILED in said and len(unit) > 1:
        middle = len(unit) // 2
        return (findings_in(root, unit[:middle]) +
                findings_in(root, unit[middle:]))
    return said or result.stderr


def main():
    root, build = (pathlib.Path(arg).resolve() for arg in sys.argv[1:3])
    (build / "tidy").mkdir(exist_ok=True)
    todo = list(sources_to_check(root, build))
    unclean = 0
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        look = functools.partial(findings_in, root)
        for findings in pool.map(look, list(units_of(todo))):
            unclean += bool(findings)
            print(findings, end="", flush=True)
    print(f"{len(todo)} sources looked at")
    sys.exit(unclean > 0)


if __name__ == "__main__":
    main()
