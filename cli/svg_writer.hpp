// SPDX-License-Identifier: GPL-3.0-or-later
//
// A drawing as SVG, true to scale on paper: lines, areas and text, all in mm of the sheet.
//
// For: drawings that are printed and measured. x to the right, y downwards, as SVG has it.
// Not for: what is drawn (drawing_svg.hpp), dimension lines (drawing_dimension.hpp).
//
// Contract, each tested: 1 width, height and view box are the sheet's mm; 2 whatever text comes
// in, the result is well-formed XML: what XML does not allow becomes a question mark; 3 nothing is
// loaded from elsewhere, and no font is named.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
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
enum class SvgFill : std::uint8_t { none, white, light, grey, black };
struct SvgLook {
  SvgLine line = SvgLine::thin;
  SvgFill fill = SvgFill::none;
};
/// What names a shape: `id` for programs, `title` for people; both may be empty.
struct SvgName {
  std::string id;
  std::string title;
};

enum class SvgAnchor : std::uint8_t { start, middle, end };
struct SvgText {
  double size_mm = 2.5;
  SvgAnchor anchor = SvgAnchor::start;
  bool turned = false;  ///< read from below to above
  bool bold = false;
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

  [[nodiscard]] std::string finish() &&;

 private:
  void shape(std::string_view element, std::string_view attributes, SvgLook look,
             const SvgName& name);

  std::string out_;
};

}  // namespace stackfit::cli
