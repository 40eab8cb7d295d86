"""Requires the tests of rules/measure to run every line of it, and to take
every branch both ways. What cannot be reached stands in exclusions.txt, each
with its reason; a reason that is not needed any more is refused too.

Usage: measure.py ROOT BUILD PROGRAM   (built by clang with the preset
"coverage")
"""

import collections
import json
import os
import pathlib
import subprocess
import sys
import tempfile

FOLDER = "rules/measure/"
LINE, COLUMN, TRUE_COUNT, FALSE_COUNT = 0, 1, 4, 5


def counted(program):
    """What llvm-cov says of the program after a whole run."""
    with tempfile.TemporaryDirectory() as folder:
        raw, merged = f"{folder}/raw", f"{folder}/merged"
        run = subprocess.run([program], capture_output=True, text=True,
                             env=dict(os.environ, LLVM_PROFILE_FILE=raw),
                             check=False)
        if run.returncode != 0:
            sys.exit(f"{run.stdout[-3000:]}\nthe tests themselves fail")
        subprocess.run(["llvm-profdata", "merge", "-o", merged, raw],
                       check=True)
        told = subprocess.run(
            ["llvm-cov", "export", f"-instr-profile={merged}", program],
            capture_output=True, text=True, check=True).stdout
    return json.loads(told)["data"][0]["files"]


def lines_never_run(segments):
    """A segment begins where the count changes: [line, column, count, has
    count, begins a region, lies between regions]."""
    for line, _, count, has_count, _, is_gap in segments:
        if has_count and count == 0 and not is_gap:
            yield line


def branches_never_taken(branches):
    """A template has the same branch once for each use; their counts add up."""
    totals = collections.defaultdict(lambda: [0, 0])
    for branch in branches:
        totals[branch[LINE], branch[COLUMN]][0] += branch[TRUE_COUNT]
        totals[branch[LINE], branch[COLUMN]][1] += branch[FALSE_COUNT]
    for (line, _), (true, false) in sorted(totals.items()):
        if true == 0:
            yield line, "never true"
        if false == 0:
            yield line, "never false"


def gaps_in(root, files):
    """(file, text of the line, what is wrong), and how much was looked at."""
    gaps, looked_at = [], 0
    for file in files:
        path = pathlib.Path(file["filename"])
        if not path.is_relative_to(root / FOLDER):
            continue
        looked_at += path.suffix == ".cc"
        name = path.relative_to(root).as_posix()
        source = path.read_text().splitlines()
        found = [(line, "never run")
                 for line in lines_never_run(file["segments"])]
        found += branches_never_taken(file["branches"])
        gaps += [(name, source[line - 1].strip(), what, line)
                 for line, what in sorted(set(found))]
    return gaps, looked_at


def exclusions(path):
    """{(file, text, what): reason}; a line is "file | text | what | reason"."""
    allowed = {}
    for line in path.read_text().splitlines():
        if line and not line.startswith("#"):
            name, text, what, reason = (part.strip()
                                        for part in line.split(" | "))
            allowed[name, text, what] = reason
    return allowed


def main():
    root, build = (pathlib.Path(arg).resolve() for arg in sys.argv[1:3])
    gaps, looked_at = gaps_in(root, counted(build / sys.argv[3]))
    sources = len(list((root / FOLDER).glob("*.cc")))
    if looked_at < sources:
        sys.exit(f"only {looked_at} of {sources} sources were counted")
    allowed = exclusions(pathlib.Path(__file__).with_name("exclusions.txt"))
    needed = {gap[:3] for gap in gaps}
    for name, text, what, line in gaps:
        if (name, text, what) not in allowed:
            print(f"{name}:{line}: {what}: {text}")
    for name, text, what in sorted(set(allowed) - needed):
        print(f"exclusions.txt: not needed: {name} | {text} | {what}")
    print(f"{looked_at} sources of {FOLDER}, {len(allowed)} exclusions")
    sys.exit(needed != set(allowed))


if __name__ == "__main__":
    main()
