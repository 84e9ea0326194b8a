# SPDX-License-Identifier: GPL-3.0-or-later
"""An installed tree to look at: into a folder of the build's own, removed when Python ends."""
import os
import subprocess
import sys
import tempfile


def run(*command, **keywords):
    """The finished process; what it said is text. Nothing here takes minutes unless it hangs."""
    return subprocess.run(command, capture_output=True, text=True, timeout=600, **keywords)


def must(*command, **keywords):
    """As run, and ends the test where it failed, with all that was said."""
    done = run(*command, **keywords)
    if done.returncode != 0:
        sys.exit(f"{' '.join(command)} ended with {done.returncode}\n{done.stdout}{done.stderr}")
    return done


class Installed:
    """cmake --install of a build, all of it."""

    def __init__(self, cmake, build):
        self._folder = tempfile.TemporaryDirectory(prefix="installed-", dir=build)
        self.folder = os.path.realpath(self._folder.name)
        self.prefix = os.path.join(self.folder, "prefix")
        must(cmake, "--install", build, "--prefix", self.prefix)
        self.program = self.path("bin/stackfit")

    def path(self, name):
        return os.path.join(self.prefix, name)

    def files(self):
        """Names below the prefix."""
        return {os.path.relpath(os.path.join(folder, name), self.prefix)
                for folder, _, names in os.walk(self.prefix) for name in names}
