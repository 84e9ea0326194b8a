// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/text_lines.hpp"

#include <string>

#include "tests/catch.hpp"

using namespace stackfit::cli;

TEST_CASE("a text's width on a terminal counts letters, not bytes") {
  CHECK(display_width("abc") == 3);
  CHECK(display_width("63.4\xC2\xB1"
                      "0.6") == 8);
  CHECK(display_width("\xE7\x94\xB5\xE6\xB1\xA0") == 4);
  CHECK(display_width("e\xCC\x81") == 1);
  CHECK(display_width("\xFF\xFE") == 2);
}

TEST_CASE("control characters and broken bytes of a file become question marks") {
  CHECK(printable("a\033[31mb\nc\x7F") == "a?[31mb?c?");
  CHECK(printable("\xC2\x9B"
                  "31m") == "?31m");
  // In two pieces, so that the source itself does not turn the reading direction around.
  CHECK(printable(std::string("\xE2\x80") + "\xAE" + "abc") == "?abc");
  CHECK(printable("\xC3(") == "?(");
  CHECK(printable("Gr\xC3\xBC\xC3\x9F") == "Gr\xC3\xBC\xC3\x9F");
}

TEST_CASE("what is shortened shows that it was, and never splits a letter") {
  CHECK(shortened("abcdef", 6) == "abcdef");
  CHECK(shortened("abcdefg", 6) == "abcd..");
  CHECK(shortened("\xE7\x94\xB5\xE6\xB1\xA0\xE7\x94\xB5", 5) == "\xE7\x94\xB5..");
  CHECK(shortened("abc", 1) == ".");
}

TEST_CASE("words are flowed under their indent, one too long for a line is cut") {
  TextLines lines(false);
  lines.wrapped("one " + std::string(100, 'x') + " two", {.first = 2, .next = 4});
  CHECK(lines.text() ==
        "  one\n    " + std::string(76, 'x') + "\n    " + std::string(24, 'x') + " two\n");
}

TEST_CASE("a line that is too wide is wrapped, and trailing blanks go") {
  TextLines lines(false);
  lines.line("  " + std::string(50, 'a') + " " + std::string(50, 'b'));
  lines.line("end   ");
  CHECK(lines.text() == "  " + std::string(50, 'a') + "\n    " + std::string(50, 'b') + "\nend\n");
}
