// SPDX-License-Identifier: GPL-3.0-or-later
//
// A page's text: whatever a file holds stays text, and figures carry what they are.
#include "cli/page_text.hpp"

#include <rapidcheck.h>

#include <string>

#include "cli/figures.hpp"
#include "cli/page_html.hpp"
#include "cli/page_template.hpp"
#include "cli/text_lines.hpp"
#include "tests/catch.hpp"

using namespace stackfit;
using namespace stackfit::cli;

namespace {

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++found;
  }
  return found;
}

}  // namespace

TEST_CASE("a marked figure becomes an element with its value, and is printed as ever") {
  const Figures marked({}, Marks::in_text);
  const Figures plain;
  CHECK(html_of(marked.pressure(0.0814)) ==
        R"(<span class="q" data-q="P" data-v="0.0814">81 kPa</span>)");
  CHECK(html_of("from " + marked.force_number(1383) + " on") ==
        R"(from <span class="q" data-q="f" data-v="1383">141</span> on)");
  CHECK(html_of(marked.pressure_unit()) == R"(<span class="u" data-u="P">kPa</span>)");
  CHECK(marked.unmarked().pressure(0.0814) == plain.pressure(0.0814));
}

TEST_CASE("text from a file cannot become an element") {
  CHECK(html_of("</script><img src=x onerror=\"a('b')\">") ==
        "&lt;/script&gt;&lt;img src=x onerror=&quot;a(&#39;b&#39;)&quot;&gt;");
  // Half a mark, a mark of no kind, and one whose value is no figure are text.
  CHECK(count(html_of("\x02P0.1"), "<") == 0);
  CHECK(count(html_of("\x02\x1f\x03"), "<") == 0);
  CHECK(count(html_of("\x02P\"><b>\x1f"
                      "9\x03"),
              "<") == 0);
}

TEST_CASE("no text whatever makes a page hold more elements than figures were marked") {
  const auto holds = rc::check("escaped", [](const std::string& before, const std::string& after) {
    const Figures marked({}, Marks::in_text);
    const std::string html = html_of(printable(before) + marked.length(1.5) + printable(after));
    RC_ASSERT(count(html, "<") == 2U);
    RC_ASSERT(count(html, "\"") == 6U);
  });
  CHECK(holds);
}

TEST_CASE("JSON in a script cannot end it") {
  const std::string json = json_in_script(R"({"id":"</script><!--&"})");
  CHECK(json == R"({"id":"\u003c/script\u003e\u003c!--\u0026"})");
}

TEST_CASE("blocks become headings, lists, labelled lines and tables") {
  TextLines lines(false);
  lines.line("MIND", Emphasis::heading);
  lines.wrapped("- first", {.first = 2, .next = 4});
  lines.wrapped("- second", {.first = 2, .next = 4});
  lines.beside("  charged to 100 %   ", "inside");
  lines.columns({{"a", 4}, {"1", 3, true}});
  lines.wrapped("words < more", {});
  CHECK(
      blocks_html(lines.blocks()) ==
      "<h3>MIND</h3>\n<ul>\n<li>first</li>\n<li>second</li>\n</ul>\n"
      "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Table\"><table>\n<tbody>\n"
      "<tr><th scope=\"row\">charged to 100 %</th><td>inside</td></tr>\n"
      "<tr><th scope=\"row\">a</th><td>1</td></tr>\n</tbody></table></div>\n"
      "<p>words &lt; more</p>\n");
  CHECK(lines.text().find("  a     1\n") != std::string::npos);
}

TEST_CASE("a heading in capitals becomes a section's name") {
  CHECK(sentence_case("WHAT TO ORDER") == "What to order");
  CHECK(sentence_case("IN THE BOX   your band 8 to 85 kPa") ==
        "In the box   your band 8 to 85 kPa");
}

TEST_CASE("a template that asks for what is not there is a mistake of ours") {
  CHECK_THROWS_AS(filled("sheet.html", PageData()), std::logic_error);
  CHECK_THROWS_AS(page_file("nothing.html"), std::logic_error);
}
