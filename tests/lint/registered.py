"""Nothing lies about unused: every source is built, every configuration file
lies where the service reads it and says which message it is, and README names
every published figure on change.

Usage: registered.py ROOT [BUILD]   (without BUILD, sources are not looked at)
"""

import json
import pathlib
import re
import sys

from sources import cpp_files, run

CONFIGURATION = ("rules/instruments", "rules/packs", "deploy/config")
PRESET = re.compile(r'^change_preset \{\s+name: "([^"]+)"', re.MULTILINE)
# How CMake writes the units it makes of several sources.
UNIT_SOURCE = re.compile(r'^#include "(\S+\.cc)"$', re.MULTILINE)
MESSAGE_OF = {
    "instruments": "Instrument",
    "packs": "RuleSet",
    "sites": "SiteConfig",
}


def stray_configuration(root):
    for folder in CONFIGURATION:
        for path in sorted((root / folder).rglob("*")):
            name = path.relative_to(root).as_posix()
            if path.is_dir():
                continue
            if path.suffix != ".textproto" or path.parent.name not in MESSAGE_OF:
                yield (f"{name}: nothing reads it: configuration is "
                       f"*.textproto below {', '.join(MESSAGE_OF)}")
                continue
            said = re.search(r"^id: \"([^\"]+)\"", path.read_text(), re.M)
            if not said or said[1] != path.stem:
                yield f"{name}: its id and its file name must be the same"


def unnamed_presets(root):
    readme = (root / "README.md").read_text()
    for path in sorted((root / "rules/instruments").glob("*.textproto")):
        for preset in PRESET.findall(path.read_text()):
            if f"`{preset}`" not in readme:
                yield (f"README.md: does not name change preset {preset} of "
                       f"{path.name}")


def built_sources(build):
    """What the targets compile, alone or as part of a unit."""
    commands = json.loads((build / "compile_commands.json").read_text())
    for command in commands:
        path = pathlib.Path(command["file"])
        yield path.resolve()
        if path.suffix == ".cxx":
            for source in UNIT_SOURCE.findall(path.read_text()):
                yield pathlib.Path(source).resolve()


def unbuilt_sources(root, build):
    built = set(built_sources(build))
    for path in cpp_files(root):
        if path.suffix == ".cc" and path not in built:
            yield (f"{path.relative_to(root)}: no target builds it: add it to "
                   "the CMakeLists.txt beside it, or delete it")


def lint(root):
    yield from stray_configuration(root)
    yield from unnamed_presets(root)
    if len(sys.argv) > 2:
        yield from unbuilt_sources(root, pathlib.Path(sys.argv[2]))


if __name__ == "__main__":
    run(lint)
