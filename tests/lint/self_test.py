"""Each lint finds what it is there to find, in a tree planted for it, and
nothing in one that is as it should be."""

import json
import pathlib
import tempfile
import unittest

import format as layout
import includes
import registered
import text
import tidy


class LintTest(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.root = pathlib.Path(folder.name).resolve()

    def plant(self, name, content):
        path = self.root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content)

    def assert_found(self, lint, *parts):
        findings = "\n".join(lint(self.root))
        for part in parts:
            self.assertIn(part, findings)

    def assert_quiet(self, lint):
        self.assertEqual([], list(lint(self.root)))

    def test_includes(self):
        for name, included in (
            ("rules/engine/a.cc", "<chrono>"),
            ("rules/check/a.h", "<grpcpp/grpcpp.h>"),
            ("rules/measure/a.cc", '"rules/engine/view.h"'),
            ("rules/measure/c.cc", '"rules/duty/rota.h"'),
            ("rules/duty/a.cc", '"rules/engine/setup.h"'),
            ("rules/engine/b.cc", '"rules/check/load.h"'),
            ("rules/measure/b.cc", '"platform/clock.h"'),
            ("platform/a.cc", '"service/options.h"'),
            ("service/a.cc", '"clients/cli/run.h"'),
            ("service/store/a.cc", '"rules/engine/decide.h"'),
            ("service/core/a.cc", "<grpcpp/server.h>"),
            ("service/core/b.cc", '"service/rpc/status.h"'),
            ("service/core/c.cc", "<curl/curl.h>"),
            ("service/core/d.cc", '"service/deliver/transport.h"'),
            ("service/deliver/a.cc", "<grpcpp/server.h>"),
            ("service/deliver/b.cc", "<sqlite3.h>"),
            ("clients/a.cc", '"service/store/store.h"'),
            ("clients/b.cc", '"rules/engine/decide.h"'),
        ):
            self.plant(name, f"#include {included}\n")
            self.assert_found(includes.lint, f"{name}:1: must not include")
        self.assertEqual(18, len(list(includes.lint(self.root))))

    def test_includes_that_are_allowed(self):
        self.plant("rules/engine/a.cc", '#include "rules/measure/score.h"\n')
        self.plant("service/core/a.cc", '#include "rules/engine/decide.h"\n')
        self.plant("service/rpc/a.cc", "#include <grpcpp/grpcpp.h>\n")
        self.plant("service/deliver/a.cc", "#include <curl/curl.h>\n")
        self.plant("clients/cli/a.cc", '#include "rules/check/load.h"\n')
        self.assert_quiet(includes.lint)

    def test_words(self):
        for number, line in enumerate((
            "// TODO: later",
            "TEST(A, DISABLED_b) {}",
            'GTEST_SKIP() << "not here";',
            "std::this_thread::sleep_for(1s);",
            "int x = 0;  // NOLINT",
            "int y = 0;  // NOLINT(some-check)",
        )):
            name = f"service/a{number}.cc"
            self.plant(name, line + "\n")
            self.assert_found(text.lint, f"{name}:1: ")

    def test_lengths(self):
        self.plant("service/a.cc", "// " + "x" * 98 + "\n")
        body = "  f();\n" * 69
        self.plant("service/b.cc", f"void F(int a,\n{body}}}\n")
        self.assert_found(text.lint, "service/a.cc:1: 101 columns",
                          "service/b.cc:1: 71 lines")

    def test_text_that_is_allowed(self):
        self.plant("service/a.cc", "// " + "x" * 97 + "\n")
        self.plant("service/b.cc", "void F() {\n" + "  f();\n" * 68 + "}\n")
        self.plant("service/c.cc", "int x;  // NOLINT(some-check): it must\n")
        self.plant("service/d.cc", 'mkdtemp("a-XXXXXX");\n')
        self.assert_quiet(text.lint)

    def test_registered(self):
        self.plant("rules/packs/good.textproto", 'id: "good"\n')
        self.assert_quiet(registered.stray_configuration)
        self.plant("rules/packs/bad.textproto", 'id: "other"\n')
        self.plant("rules/instruments/old.txt", "")
        self.plant("deploy/config/site.textproto", 'id: "site"\n')
        self.assert_found(registered.stray_configuration,
                          "rules/packs/bad.textproto: its id",
                          "rules/instruments/old.txt: nothing reads it",
                          "deploy/config/site.textproto: nothing reads it")

    def test_unnamed_presets(self):
        self.plant("rules/instruments/a.textproto",
                   'id: "a"\nchange_preset {\n  name: "one"\n}\n'
                   'change_preset {\n  name: "two"\n}\n')
        self.plant("README.md", "| `one` |\n")
        found = list(registered.unnamed_presets(self.root))
        self.assertEqual(1, len(found))
        self.assertIn("two of a.textproto", found[0])

    def test_unbuilt_sources(self):
        self.plant("service/a.cc", "")
        self.plant("service/b.cc", "")
        self.plant("build/compile_commands.json",
                   f'[{{"file": "{self.root}/build/unity_0_cxx.cxx"}}]')
        self.plant("build/unity_0_cxx.cxx",
                   f'#include "{self.root}/service/a.cc"\n')
        found = list(registered.unbuilt_sources(self.root, self.root / "build"))
        self.assertEqual(1, len(found))
        self.assertIn("service/b.cc: no target builds it", found[0])

    def test_tidy(self):
        """What is found in a source of a unit is told of the file and line it
        stands in; a clean unit is not looked at again."""
        self.plant(".clang-tidy", "Checks: '-*,modernize-use-nullptr'\n"
                   "WarningsAsErrors: '*'\nHeaderFilterRegex: '/platform/'\n")
        self.plant("platform/a.cc", "int a = 1;\n")
        self.plant("platform/b.cc", "int b = 1;\nint* p = 0;\n")
        build = self.root / "build"
        for name in ("a", "b"):
            self.plant(f"build/unity_{name}.cxx",
                       f'#include "{self.root}/platform/{name}.cc"\n')
        self.plant("build/build.ninja", "")
        self.plant("build/compile_commands.json", json.dumps([
            {"file": f"{build}/unity_{name}.cxx", "directory": str(build),
             "command": f"c++ -o {name}.o -c {build}/unity_{name}.cxx"}
            for name in ("a", "b")]))
        (build / "tidy").mkdir()
        clean, wrong = tidy.units_to_check(self.root, build)
        self.assertEqual("", tidy.findings_in(self.root, clean))
        self.assertIn(f"{self.root}/platform/b.cc:2:10: error: use nullptr",
                      tidy.findings_in(self.root, wrong))
        self.assertEqual([wrong],
                         list(tidy.units_to_check(self.root, build)))

    def test_format(self):
        self.plant(".clang-format", "BasedOnStyle: Google\n")
        self.plant("service/a.cc", "int a = 1;\n")
        self.assert_quiet(layout.lint)
        self.plant("service/b.cc", "int   b=1;\n")
        self.assert_found(layout.lint, "service/b.cc")


if __name__ == "__main__":
    unittest.main()
