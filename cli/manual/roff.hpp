// SPDX-License-Identifier: GPL-3.0-or-later
//
// A manual page's source, man(7), piece by piece.
//
// For: manual_page.hpp. Text goes in as it is to be read; what the language minds is escaped here.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace stackfit::cli::manual {

/// Running text: a line may be broken between words, so a `-` between letters stays a hyphen.
[[nodiscard]] std::string prose(std::string_view text);
/// As it would be typed: every `-` and quote can be copied from the page.
[[nodiscard]] std::string typed(std::string_view text);
[[nodiscard]] std::string bold(std::string_view text);
[[nodiscard]] std::string italic(std::string_view text);

/// Pieces named `markup` hold what the functions above give; all others plain text.
class Roff {
 public:
  struct Head {
    std::string title;  ///< "STACKFIT-PICK"
    std::string date;   ///< 2026-11-28
    std::string version;
  };
  explicit Roff(const Head& head);

  void section(std::string_view name);
  void part(std::string_view name);  ///< of a section
  void line(std::string_view markup);
  void new_line();
  void paragraph(std::string_view text);
  void tagged(std::string_view markup, std::string_view text);
  void bullet(std::string_view text);
  void example(const std::vector<std::string>& lines);

  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  void part_from_above();
  void running(std::string_view text);

  std::string text_;
};

}  // namespace stackfit::cli::manual
