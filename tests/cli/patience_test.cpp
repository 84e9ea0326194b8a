// SPDX-License-Identifier: GPL-3.0-or-later
#include <chrono>
#include <sstream>
#include <thread>

#include "cli/patience.hpp"
#include "tests/catch.hpp"

using namespace stackfit::cli;

namespace {

std::string said_after(bool terminal, std::chrono::milliseconds work) {
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  Console console{in, out, err, false, terminal};
  {
    const Patience patience(console, "working");
    std::this_thread::sleep_for(work);
  }
  CHECK(out.str().empty());
  return err.str();
}

}  // namespace

TEST_CASE("a word only on a terminal, and only when an answer takes long") {
  using namespace std::chrono_literals;
  CHECK(said_after(true, 10ms).empty());
  CHECK(said_after(false, 1500ms).empty());
  CHECK(said_after(true, 2500ms) == "working\n");
}
