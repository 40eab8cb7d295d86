"""Long lines, long functions, and words that do not belong in the code.

Usage: text.py ROOT
"""

import re

from sources import code_files, cpp_files, run

COLUMNS_MAX = 100
FUNCTION_LINES_MAX = 70

# (what, what to write instead).
BANNED = (
    (r"\b(TODO|FIXME|XXX)\b", "do it now, or leave it out"),
    (r"\bDISABLED_", "mend the test, or delete it"),
    (r"\bGTEST_SKIP\b", "make the test run everywhere, or delete it"),
    (r"\bsleep_for\b|\bsleep_until\b|absl::SleepFor|\busleep\(",
     "wait for the thing itself, or take a Sleeper that tests replace"),
    (r"std::this_thread::(?!yield)", "no thread of ours needs to know itself"),
    (r"\bNOLINT(NEXTLINE|BEGIN)?\b(?!\([\w.,* -]+\): \S)",
     "name the check and the reason: NOLINT(check-name): because ..."),
)
# The one place that really sleeps, behind an interface; and the lints, which
# must name what they look for.
ALLOWED = {"clients/cli/sleeper.cc"}
LINTS = "tests/lint/"


def banned_words(name, lines):
    for number, line in enumerate(lines, 1):
        for word, instead in BANNED:
            found = re.search(word, line)
            if found:
                yield f"{name}:{number}: \"{found[0]}\": {instead}"


def long_lines(name, lines):
    for number, line in enumerate(lines, 1):
        if len(line) > COLUMNS_MAX:
            yield (f"{name}:{number}: {len(line)} columns: break it before "
                   f"{COLUMNS_MAX}")


def long_functions(name, lines):
    """Bodies end with a brace in the first column; what they belong to is the
    nearest line before that begins there."""
    first = 0
    for number, line in enumerate(lines, 1):
        if re.match(r"[A-Za-z\[]", line):
            first = number
        if line == "}" and number - first + 1 > FUNCTION_LINES_MAX:
            yield (f"{name}:{first}: {number - first + 1} lines: a function "
                   f"has at most {FUNCTION_LINES_MAX}; give a part of it a "
                   "name of its own")


def lint(root):
    for path in code_files(root):
        name = path.relative_to(root).as_posix()
        lines = path.read_text().splitlines()
        yield from long_lines(name, lines)
        if name not in ALLOWED and not name.startswith(LINTS):
            yield from banned_words(name, lines)
    for path in cpp_files(root):
        name = path.relative_to(root).as_posix()
        yield from long_functions(name, path.read_text().splitlines())


if __name__ == "__main__":
    run(lint)
