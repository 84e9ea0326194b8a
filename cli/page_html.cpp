// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/page_html.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cstdint>
#include <utility>

#include "cli/answer_words.hpp"
#include "cli/page_text.hpp"

namespace stackfit::cli {
namespace {

std::string cell_html(const PageCell& cell, bool in_head, std::string_view label) {
  const std::string_view name = in_head || cell.heads_row ? "th" : "td";
  const std::string_view scope = in_head          ? R"( scope="col")"
                                 : cell.heads_row ? R"( scope="row")"
                                                  : "";
  const std::string text = cell.mark.empty() ? html_of(cell.text)
                                             : fmt::format(R"(<span class="{}">{}</span>)",
                                                           cell.mark, html_of(cell.text));
  return fmt::format("<{}{}{}{}>{}</{}>", name, scope, cell.number ? R"( class="n")" : "",
                     label.empty() || cell.heads_row
                         ? ""
                         : fmt::format(R"( data-label="{}")", html_of(plain_text(label))),
                     text, name);
}

// `heads`: where each cell names its column, for a table whose rows become cards.
std::string row_html(const std::vector<PageCell>& cells, bool in_head,
                     const std::vector<PageCell>* heads = nullptr) {
  std::string out = "<tr>";
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const bool labelled = heads != nullptr && i < heads->size();
    out += cell_html(cells[i], in_head, labelled ? std::string_view((*heads)[i].text) : "");
  }
  return out + "</tr>\n";
}

// Which list a block belongs to: `-` or `*` before it, or its number.
enum class Listed : std::uint8_t { no, points, numbers };

struct Item {
  Listed listed = Listed::no;
  std::string_view text;
};

Item item_of(std::string_view text) {
  const std::size_t from = text.find_first_not_of(' ');
  text.remove_prefix(std::min(from, text.size()));
  if (text.starts_with("- ")) {
    return {Listed::points, text.substr(2)};
  }
  const std::size_t digits = text.find_first_not_of("0123456789");
  if (digits != std::string_view::npos && digits > 0 && digits < 3) {
    if (text.substr(digits).starts_with(". ")) {
      return {Listed::numbers, text.substr(digits + 2)};
    }
    const bool step = text.substr(digits).starts_with(" ") && digits + 1 < text.size() &&
                      std::isupper(static_cast<unsigned char>(text[digits + 1])) != 0;
    if (step) {
      return {Listed::numbers, text.substr(digits + 1)};
    }
  }
  return {Listed::no, text};
}

std::string_view trimmed(std::string_view text) {
  const std::size_t from = text.find_first_not_of(' ');
  if (from == std::string_view::npos) {
    return {};
  }
  return text.substr(from, text.find_last_not_of(' ') - from + 1);
}

// Writes blocks one after another; whatever list or column block is open ends where another kind
// begins.
class BlockWriter {
 public:
  explicit BlockWriter(const std::vector<std::string>& heads) : heads_(heads) {}
  void add(const TextBlock& block) {
    switch (block.kind) {
      case TextBlock::Kind::blank:
        open("");
        return;
      case TextBlock::Kind::verbatim:
        open("");
        out_ +=
            fmt::format("<p class=\"copy\"><code>{}</code></p>\n", html_of(trimmed(block.text)));
        return;
      case TextBlock::Kind::beside:
        add_beside(block);
        return;
      case TextBlock::Kind::columns:
        open("table");
        add_row(block.cells);
        return;
      case TextBlock::Kind::line:
      case TextBlock::Kind::words:
        add_words(block);
    }
  }
  [[nodiscard]] std::string finish() && {
    open("");
    return std::move(out_);
  }

 private:
  void add_words(const TextBlock& block) {
    if (block.emphasis == Emphasis::heading) {
      open("");
      out_ += fmt::format("<h3>{}</h3>\n", html_of(trimmed(block.text)));
      return;
    }
    const Item item = item_of(block.text);
    if (item.listed != Listed::no) {
      open(item.listed == Listed::points ? "ul" : "ol");
      out_ += fmt::format("<li>{}</li>\n", html_of(item.text));
      return;
    }
    if (block.kind == TextBlock::Kind::line && block.text.starts_with("  ")) {
      open("pre");
      out_ += html_of(block.text) + "\n";
      return;
    }
    open("");
    out_ += fmt::format("<p>{}</p>\n", html_of(trimmed(block.text)));
  }
  // One without a label goes on in the line before it.
  void add_beside(const TextBlock& block) {
    constexpr std::string_view row_end = "</td></tr>\n";
    const std::string_view label = trimmed(block.label);
    if (label.empty() && open_ == "table" && out_.ends_with(row_end)) {
      out_.resize(out_.size() - row_end.size());
      out_ += fmt::format("<br>{}{}", html_of(trimmed(block.text)), row_end);
      return;
    }
    open("table");
    out_ += row_html({row_head(std::string(label)), {std::string(trimmed(block.text))}}, false);
  }
  void add_row(const std::vector<std::string>& cells) {
    std::vector<PageCell> row;
    for (const std::string& cell : cells) {
      row.push_back({std::string(trimmed(cell)), false, row.empty()});
    }
    out_ += row_html(row, false);
  }
  // The first head is the section's name.
  [[nodiscard]] std::string table_head() const {
    std::vector<PageCell> head;
    for (std::size_t i = 0; i < heads_.size(); ++i) {
      head.push_back({i == 0 ? "" : std::string(trimmed(heads_[i]))});
    }
    return head.empty() ? "" : "<thead>" + row_html(head, true) + "</thead>\n";
  }
  void open(std::string_view element) {
    if (element == open_) {
      return;
    }
    if (!open_.empty()) {
      out_ += open_ == "pre"     ? "</pre></div>\n"
              : open_ == "table" ? "</tbody></table></div>\n"
                                 : fmt::format("</{}>\n", open_);
    }
    open_ = element;
    if (element == "pre") {
      out_ += "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Lines\"><pre>";
    } else if (element == "table") {
      out_ +=
          "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Table\"><table>\n" +
          table_head() + "<tbody>\n";
    } else if (!element.empty()) {
      out_ += fmt::format("<{}>\n", element);
    }
  }

  const std::vector<std::string>& heads_;
  std::string out_;
  std::string open_;
};

}  // namespace

PageCell number_cell(std::string text) {
  return {std::move(text), true, false};
}

PageCell row_head(std::string text) {
  return {std::move(text), false, true};
}

PageCell standing_cell(std::string text, Standing standing) {
  std::string shape(code(standing));
  std::ranges::replace(shape, '_', '-');
  return {std::move(text), false, false, "standing standing-" + shape};
}

std::string table_html(const PageTable& table) {
  std::string out = fmt::format(
      "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"{}\"><table{}>\n",
      html_of(table.caption.empty() ? "Table" : plain_text(table.caption)),
      table.look.empty() ? "" : fmt::format(" class=\"{}\"", table.look));
  if (!table.caption.empty()) {
    out += fmt::format("<caption>{}</caption>\n", html_of(table.caption));
  }
  out += "<thead>" + row_html(table.head, true) + "</thead>\n<tbody>\n";
  const bool cards = table.look.find("stack") != std::string::npos;
  for (const auto& row : table.rows) {
    out += row_html(row, false, cards ? &table.head : nullptr);
  }
  return out + "</tbody></table></div>\n";
}

std::string ticks_html(const std::vector<std::string>& texts) {
  std::string out = "<ul class=\"ticks two\">\n";
  for (const std::string& text : texts) {
    out += fmt::format("<li><label><input type=\"checkbox\"><span>{}</span></label></li>\n",
                       html_of(text));
  }
  return out + "</ul>\n";
}

std::string list_html(const std::vector<std::string>& texts) {
  std::string out = "<ul>\n";
  for (const std::string& text : texts) {
    out += fmt::format("<li>{}</li>\n", html_of(text));
  }
  return out + "</ul>\n";
}

std::string figure_html(const std::string& svg_html, std::string_view caption, bool wide) {
  const std::string frame =
      wide ? fmt::format(R"(<div class="scroll" tabindex="0" role="region" aria-label="{}">)",
                         html_of(plain_text(caption)))
           : "<div>";
  return fmt::format("<figure>{}{}</div><figcaption>{}</figcaption></figure>\n", frame, svg_html,
                     html_of(caption));
}

std::string sentence_case(const std::string& heading) {
  std::string out = heading;
  bool first = true;
  for (std::size_t from = 0; from < out.size();) {
    const std::size_t end = std::min(out.find(' ', from), out.size());
    const bool shouted = std::all_of(out.begin() + static_cast<std::ptrdiff_t>(from),
                                     out.begin() + static_cast<std::ptrdiff_t>(end), [](char c) {
                                       return std::islower(static_cast<unsigned char>(c)) == 0;
                                     });
    for (std::size_t i = from; shouted && i < end; ++i) {
      const auto letter = static_cast<unsigned char>(out[i]);
      out[i] = static_cast<char>(first && i == from ? letter : std::tolower(letter));
    }
    first = false;
    from = end + 1;
  }
  return out;
}

std::string section_html(const BlockSection& section) {
  return blocks_html(section.blocks, section.heads);
}

std::string blocks_html(std::span<const TextBlock> blocks, const std::vector<std::string>& heads) {
  BlockWriter writer(heads);
  for (const TextBlock& block : blocks) {
    writer.add(block);
  }
  return std::move(writer).finish();
}

namespace {

// What stands apart from a heading's name, as in `IN THE BOX   your band 8 to 85 kPa`, is its first
// sentence.
BlockSection section_under(const TextBlock& heading) {
  const std::string_view text = trimmed(heading.text);
  const std::size_t end = std::min(text.find("  "), text.size());
  BlockSection section{plain_text(text.substr(0, end)), heading.cells, {}};
  const std::string_view rest = trimmed(text.substr(end));
  if (!rest.empty()) {
    section.blocks.push_back({TextBlock::Kind::words, Emphasis::none, 0, "", std::string(rest)});
  }
  return section;
}

}  // namespace

std::vector<BlockSection> split_at_headings(std::span<const TextBlock> blocks) {
  std::vector<BlockSection> sections(1);
  for (const TextBlock& block : blocks) {
    if (block.emphasis == Emphasis::heading) {
      sections.push_back(section_under(block));
    } else {
      sections.back().blocks.push_back(block);
    }
  }
  return sections;
}

}  // namespace stackfit::cli
