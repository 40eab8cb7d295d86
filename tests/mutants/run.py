"""Breaks the service on purpose, a line at a time, and sees that the named test
goes red. planted.toml lists the breakages; the last column of the table says
what killed each. Works on a copy of the sources, in build/mutants.

Usage: run.py [NUMBER ...]    those, or all (a minute each on two cores)
       run.py --check         only that each still fits the sources and that its
                              test is there
"""

import pathlib
import re
import shutil
import subprocess
import sys
import tomllib

ROOT = pathlib.Path(__file__).resolve().parents[2]
TREE = ROOT / "build" / "mutants" / "tree"
BUILD = ROOT / "build" / "mutants" / "build"
SECONDS_MAX = 600  # a breakage that makes its test hang is found too


def read_planted():
    text = (ROOT / "tests" / "mutants" / "planted.toml").read_text()
    return tomllib.loads(text)["mutant"]


def program_and_filter(mutant):
    program, _, names = mutant["killed_by"].partition(" ")
    return program, names


def misfits(mutant):
    """Why it cannot be planted; empty if it can."""
    source = ROOT / mutant["file"]
    found = source.read_text().count(mutant["from"]) if source.exists() else 0
    if found != 1:
        yield f"{mutant['file']} has its text {found} times, not once"
    program, names = program_and_filter(mutant)
    sources = [path.read_text() for path in (ROOT / "tests").rglob("*.cc")]
    lists = [path.read_text() for path in (ROOT / "tests").rglob("*.txt")]
    if not any(f"NAME {program}" in text for text in lists):
        yield f"there is no test {program}"
    for name in filter(None, names.split(":")):
        # A test with values is "Values/Suite.Test/3".
        suite, _, test = next(
            part for part in name.split("/") if "." in part).rpartition(".")
        suite = re.escape(suite.lstrip("*"))
        pattern = rf"TEST(_F|_P)?\(\s*{suite},\s*{re.escape(test)}\b"
        if test != "*" and not any(re.search(pattern, s) for s in sources):
            yield f"there is no {name} in {program}"


def check(planted):
    wrong = [f"{number}: {why}" for number, mutant in enumerate(planted, 1)
             for why in misfits(mutant)]
    print("\n".join(wrong or [f"{len(planted)} fit"]))
    return not wrong


def copy_sources():
    """Only what changed, so that little is compiled again."""
    listed = subprocess.run(
        ["git", "-C", ROOT, "ls-files", "-co", "--exclude-standard"],
        capture_output=True, text=True, check=True).stdout
    for name in listed.splitlines():
        source, copy = ROOT / name, TREE / name
        if not source.is_file():
            continue
        if copy.exists() and copy.read_bytes() == source.read_bytes():
            continue
        copy.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(source, copy)  # newer than what was built of the old one


def build(program):
    return subprocess.run(["ninja", "-C", BUILD, program],
                          capture_output=True, text=True, check=False)


def test(program, names):
    """Whether it passes."""
    path = next(path for path in BUILD.rglob(program) if path.is_file())
    command = [path] + ([f"--gtest_filter={names}"] if names else [])
    try:
        return subprocess.run(command, capture_output=True, check=False,
                              cwd=path.parent,
                              timeout=SECONDS_MAX).returncode == 0
    except subprocess.TimeoutExpired:
        return False


def try_one(mutant):
    """What became of it, in a word."""
    program, names = program_and_filter(mutant)
    if build(program).returncode != 0 or not test(program, names):
        return "RED ALREADY"
    copy = TREE / mutant["file"]
    whole = copy.read_text()
    copy.write_text(whole.replace(mutant["from"], mutant["to"]))
    try:
        if build(program).returncode != 0:
            return "DOES NOT COMPILE"
        return "SURVIVES" if test(program, names) else "killed"
    finally:
        copy.write_text(whole)


def main():
    planted = read_planted()
    if sys.argv[1:] == ["--check"]:
        sys.exit(not check(planted))
    numbers = [int(word) for word in sys.argv[1:]]
    copy_sources()
    subprocess.run(["cmake", "--preset", "dev", "-S", TREE, "-B", BUILD],
                   check=True, stdout=subprocess.DEVNULL)
    chosen = [(number, mutant) for number, mutant in enumerate(planted, 1)
              if not numbers or number in numbers]
    killed = 0
    for number, mutant in chosen:
        outcome = try_one(mutant)
        killed += outcome == "killed"
        print(f"{number:3}  {mutant['breaks']:18}  {mutant['what']:58}  "
              f"{outcome:8}  {mutant['killed_by']}", flush=True)
    print(f"{killed} of {len(chosen)} killed")
    sys.exit(killed != len(chosen))


if __name__ == "__main__":
    main()
