"""clang-tidy over every source of ours, those unchanged since they were last
found clean left out.

A source is unchanged if it, every header it includes (as the compiler noted),
its command and .clang-tidy are. Clean ones leave a stamp in BUILD/tidy.

Usage: tidy.py ROOT BUILD
"""

import collections
import concurrent.futures
import functools
import hashlib
import json
import os
import pathlib
import subprocess
import sys

from sources import cpp_files


@functools.cache
def digest_of(path):
    try:
        return hashlib.sha256(pathlib.Path(path).read_bytes()).hexdigest()
    except OSError:
        return "missing"


def headers_by_object(build):
    """What ninja knows of each object file: {object: [header]}."""
    told = subprocess.run(["ninja", "-C", build, "-t", "deps"],
                          capture_output=True, text=True, check=True).stdout
    headers = collections.defaultdict(list)
    target = None
    for line in told.splitlines():
        if line.startswith("    "):
            headers[target].append(os.path.join(build, line.strip()))
        elif ":" in line:
            target = line.partition(":")[0]
    return headers


def stamp_of(root, command, headers):
    parts = [command["command"], digest_of(root / ".clang-tidy")]
    parts += [digest_of(path) for path in (command["file"], *sorted(headers))]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def tidy(build, path):
    return subprocess.run(["clang-tidy", "-quiet", "-p", build, path],
                          capture_output=True, text=True, check=False)


def sources_to_check(root, build, stamps):
    ours = {str(path) for path in cpp_files(root)}
    headers = headers_by_object(build)
    commands = json.loads((build / "compile_commands.json").read_text())
    for command in commands:
        if command["file"] not in ours:
            continue
        object_file = command["output"]
        stamp = stamps / stamp_of(root, command, headers[object_file])
        if not headers[object_file] or not stamp.exists():
            yield command["file"], stamp


def main():
    root, build = (pathlib.Path(arg).resolve() for arg in sys.argv[1:3])
    stamps = build / "tidy"
    stamps.mkdir(exist_ok=True)
    todo = dict(sources_to_check(root, build, stamps))
    unclean = 0
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        checks = {pool.submit(tidy, build, path): path for path in todo}
        for check in concurrent.futures.as_completed(checks):
            path, result = checks[check], check.result()
            if result.returncode == 0:
                todo[path].touch()
                continue
            unclean += 1
            print(f"{path}\n{result.stdout}{result.stderr}", flush=True)
    print(f"{len(todo)} looked at, {unclean} to mend")
    sys.exit(unclean > 0)


main()
