#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The installed libraries as somebody else uses them:
consumer_test.py CMAKE BUILD SOURCE COMPILER FLAGS BUILD_TYPE HEADER...

Builds tests/consumer against an installed tree and holds its figures against the program's;
compiles every public header by itself.
"""
import json
import os
import shlex
import sys
import unittest

from installed import Installed, must, run

CMAKE, BUILD, SOURCE, COMPILER, FLAGS, BUILD_TYPE = sys.argv[1:7]
HEADERS = sys.argv[7:]
CONSUMER = os.path.join(SOURCE, "tests", "consumer")
INSTALLED = Installed(CMAKE, BUILD)
INCLUDE = INSTALLED.path("include/stackfit")
# The same figures, but for what printing and reading them again costs.
RELATIVE_ERROR = 1e-14


class Consumer(unittest.TestCase):
    """tests/consumer, configured and built as its author would."""

    @classmethod
    def setUpClass(cls):
        cls.folder = os.path.join(INSTALLED.folder, "consumer")
        must(CMAKE, "-S", CONSUMER, "-B", cls.folder, f"-DCMAKE_PREFIX_PATH={INSTALLED.prefix}",
             f"-DCMAKE_CXX_COMPILER={COMPILER}", f"-DCMAKE_CXX_FLAGS={FLAGS}",
             f"-DCMAKE_BUILD_TYPE={BUILD_TYPE}")
        must(CMAKE, "--build", cls.folder)

    def printed(self, program):
        return json.loads(must(os.path.join(self.folder, program)).stdout)

    def assert_near(self, left, right):
        self.assertGreater(abs(right), 0)
        self.assertLess(abs(left - right), RELATIVE_ERROR * abs(right), f"{left} beside {right}")

    def test_figures_are_those_of_the_program(self):
        own = self.printed("consumer")
        build = os.path.join(CONSUMER, "build.json")
        answer = json.loads(run(INSTALLED.program, "pick", build, "--json", "--no-chance").stdout)
        plan = answer["plan"]
        self.assertEqual(own["inside"], answer["inside"])
        for state in ("lowest", "as_built", "highest"):
            self.assert_near(own[f"{state}_mpa"], plan[state]["face_pressure_mpa"])
        self.assertLess(own["lowest_mpa"], own["as_built_mpa"])
        self.assertLess(own["as_built_mpa"], own["highest_mpa"])
        self.assert_near(own["shim_total_mm"], plan["shim_total_mm"])
        self.assert_near(own["first_spacing_mm"], plan["terminal_spacing_mm"][0])
        self.assert_near(own["face_area_mm2"], answer["band"]["face_area_mm2"])

    def test_geometry_goes_by_itself(self):
        own = self.printed("face_area")
        self.assertAlmostEqual(own["covered_mm2"], own["exact_mm2"], places=6)
        self.assertAlmostEqual(own["flatness_mm"], 0.5, places=9)

    def test_another_version_is_refused(self):
        folder = os.path.join(INSTALLED.folder, "too_new")
        os.mkdir(folder)
        with open(os.path.join(folder, "CMakeLists.txt"), "w", encoding="utf-8") as lists:
            lists.write("cmake_minimum_required(VERSION 3.16)\nproject(p NONE)\n"
                        "find_package(stackfit 99 REQUIRED CONFIG)\n")
        done = run(CMAKE, "-S", folder, "-B", os.path.join(folder, "build"),
                   f"-DCMAKE_PREFIX_PATH={INSTALLED.prefix}")
        self.assertNotEqual(done.returncode, 0)
        self.assertIn("99", done.stderr)


class PublicHeaders(unittest.TestCase):
    """What is installed is what CMake lists, and each stands by itself."""

    def test_no_other_is_installed(self):
        found = {os.path.relpath(name, "include/stackfit") for name in INSTALLED.files()
                 if name.startswith("include/")}
        self.assertEqual(found, set(HEADERS))
        self.assertGreater(len(found), 5)

    def reached(self, header):
        """Files that one header makes a compiler read; the test ends where it does not compile."""
        listed = os.path.join(INSTALLED.folder, "reached.d")
        source = os.path.join(INSTALLED.folder, "one.cpp")
        with open(source, "w", encoding="utf-8") as text:
            text.write(f'#include "{header}"\n#include "{header}"\n')
        must(COMPILER, *shlex.split(FLAGS), "-std=c++20", "-Wall", "-Wextra", "-Wpedantic",
             "-Werror", "-fsyntax-only", "-MD", "-MF", listed, "-I", INCLUDE, source)
        with open(listed, encoding="utf-8") as text:
            names = text.read().replace("\\\n", " ").split()[1:]
        return {os.path.realpath(name) for name in names} - {os.path.realpath(source)}

    def test_each_compiles_by_itself_and_reaches_no_other(self):
        public = {os.path.join(os.path.realpath(INCLUDE), header) for header in HEADERS}
        for header in HEADERS:
            with self.subTest(header=header):
                reached = self.reached(header)
                self.assertIn(os.path.join(os.path.realpath(INCLUDE), header), reached)
                ours = {name for name in reached if name.startswith(os.path.realpath(SOURCE) + "/")
                        or name.startswith(INSTALLED.folder)}
                self.assertEqual(ours - public, set())
                for library in ("/CGAL/", "/boost/", "/Eigen/", "/nlohmann/", "/fmt/"):
                    self.assertFalse([name for name in reached if library in name], library)

    def test_each_says_what_it_is_for(self):
        for header in HEADERS:
            with open(os.path.join(INCLUDE, header), encoding="utf-8") as text:
                head = " ".join(text.read().split("#pragma once")[0].replace("//", " ").split())
            for word in ("SPDX-License-Identifier", "For: ", "Not for: "):
                self.assertIn(word, head, header)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
