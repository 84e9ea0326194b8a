// SPDX-License-Identifier: GPL-3.0-or-later
//
// A drawing as SVG: lines, areas and text. On paper it is true to scale, all in mm of the sheet;
// inline it is a part of a page, whose style sheet gives colours and line widths.
//
// For: drawings that are printed and measured, and those of the build sheet. x to the right,
// y downwards, as SVG has it.
// Not for: what is drawn (drawing_svg.hpp, picture_*.hpp), dimension lines (drawing_dimension.hpp).
//
// Contract, each tested: 1 on paper, width, height and view box are the sheet's mm; 2 whatever text
// comes in, the result is well-formed XML: what XML does not allow becomes a question mark;
// 3 nothing is loaded from elsewhere, and no font is named; 4 inline, no colour, width or style is
// written, only classes, and every id begins with the drawing's own.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace stackfit::cli {

struct SvgPoint {
  double x = 0;
  double y = 0;
};
struct SvgBox {
  double x = 0;
  double y = 0;
  double width = 0;
  double height = 0;

  [[nodiscard]] double right() const { return x + width; }
  [[nodiscard]] double bottom() const { return y + height; }
};

/// Lines by their meaning; widths are the group 0.35 of ISO 128-2 (from memory).
enum class SvgLine : std::uint8_t { none, thin, wide, hidden, centre };
/// From `metal` on for inline drawings only: what an area stands for.
enum class SvgFill : std::uint8_t {
  none,
  white,  ///< inline: the paper
  light,  ///< inline: a cell
  grey,   ///< inline: metal
  black,  ///< inline: ink
  metal,
  cell,
  sheet,
  pad,
  slip,
  band,
  accent,
  good,
  bad,
  hatch,  ///< lines at 45 degrees; `define_hatch` comes first
  map_0,  ///< lowest of eight levels, up to map_7
  map_7 = map_0 + 7
};
struct SvgLook {
  SvgLine line = SvgLine::thin;
  SvgFill fill = SvgFill::none;
};
/// What a page's script finds a shape by: classes, and `data-` attributes without that word.
struct SvgHook {
  std::string classes;
  std::vector<std::pair<std::string, std::string>> data;
};
/// What names a shape: `id` for programs, `title` for people; all may be empty.
struct SvgName {
  std::string id;
  std::string title;
  SvgHook hook = {};  ///< inline only
};

enum class SvgAnchor : std::uint8_t { start, middle, end };
struct SvgText {
  double size_mm = 2.5;
  SvgAnchor anchor = SvgAnchor::start;
  bool turned = false;  ///< read from below to above
  bool bold = false;
  bool quiet = false;  ///< second in rank; inline only
};

/// No text of a drawing is smaller [mm]: ISO 3098 begins at 1.8, and 2.5 is read at arm's length
/// (common practice).
inline constexpr double least_text_mm = 2.5;
/// Width of a letter over the text's size, on the safe side for a sans-serif font (measured on
/// common ones: 0.5 to 0.6 on average).
inline constexpr double letter_width = 0.6;
/// Paper that a text takes along its line [mm].
[[nodiscard]] double text_width_mm(std::string_view text, double size_mm);
/// The text cut to this width, its end marked by two dots.
[[nodiscard]] std::string text_to_fit(std::string_view text, double size_mm, double width_mm);

/// `&`, `<`, `>` and quotes as XML writes them; broken UTF-8 and letters that XML forbids as `?`.
[[nodiscard]] std::string xml_escaped(std::string_view text);
/// At most four decimals, none that say nothing.
[[nodiscard]] std::string svg_number(double value);

class SvgWriter {
 public:
  struct Sheet {
    double width_mm = 0;
    double height_mm = 0;
    std::string title;
    std::string description;
    std::string inline_id = {};  ///< its ids begin with this; empty: a file for paper
    SvgHook hook = {};           ///< of the whole drawing; inline only
  };
  explicit SvgWriter(const Sheet& sheet);

  void line(SvgPoint from, SvgPoint to, SvgLine look = SvgLine::thin);
  void rect(const SvgBox& box, SvgLook look, const SvgName& name = {}, double radius_mm = 0);
  void circle(SvgPoint centre, double radius_mm, SvgLook look, const SvgName& name = {});
  void polygon(const std::vector<SvgPoint>& points, SvgLook look, const SvgName& name = {});
  /// `commands` as SVG's path has them.
  void path(std::string_view commands, SvgLook look, const SvgName& name = {});
  void text(SvgPoint at, std::string_view text, const SvgText& look);

  void open_group(const SvgName& name);
  void close_group();
  /// The lines that SvgFill::hatch draws, this far apart; inline only.
  void define_hatch(double step);

  /// A number as this drawing writes it: no finer than can be seen.
  [[nodiscard]] std::string number(double value) const;

  [[nodiscard]] std::string finish() &&;

 private:
  void shape(std::string_view element, std::string_view attributes, SvgLook look,
             const SvgName& name);
  [[nodiscard]] bool is_inline() const { return !inline_id_.empty(); }
  [[nodiscard]] std::string id_attribute(const SvgName& name) const;
  [[nodiscard]] std::string look_attributes(SvgLook look, const SvgHook& hook) const;
  void open_for_paper(const Sheet& sheet);
  void open_inline(const Sheet& sheet);

  std::string inline_id_;
  std::string out_;
};

}  // namespace stackfit::cli
