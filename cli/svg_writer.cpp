// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/svg_writer.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <utility>

#include "cli/text_lines.hpp"

namespace stackfit::cli {
namespace {

std::string_view line_attributes(SvgLine line) {
  switch (line) {
    case SvgLine::none:
      return R"(stroke="none")";
    case SvgLine::thin:
      return R"(stroke="black" stroke-width="0.18")";
    case SvgLine::wide:
      return R"(stroke="black" stroke-width="0.35")";
    case SvgLine::hidden:
      return R"(stroke="black" stroke-width="0.18" stroke-dasharray="2 1")";
    case SvgLine::centre:
      return R"(stroke="black" stroke-width="0.18" stroke-dasharray="4 0.8 0.6 0.8")";
  }
  throw std::logic_error("line_attributes: no such line");
}

std::string_view fill_colour(SvgFill fill) {
  switch (fill) {
    case SvgFill::none:
      return "none";
    case SvgFill::white:
      return "white";
    case SvgFill::light:
      return "#e8e8e8";
    case SvgFill::grey:
      return "#a8a8a8";
    case SvgFill::black:
      return "black";
    default:
      break;  // areas of a page, whose colours are the page's
  }
  throw std::logic_error("fill_colour: no such fill");
}

std::string_view anchor_word(SvgAnchor anchor) {
  switch (anchor) {
    case SvgAnchor::start:
      return "start";
    case SvgAnchor::middle:
      return "middle";
    case SvgAnchor::end:
      return "end";
  }
  throw std::logic_error("anchor_word: no such anchor");
}

std::string_view line_class(SvgLine line) {
  switch (line) {
    case SvgLine::none:
      return "l-none";
    case SvgLine::thin:
      return "l-thin";
    case SvgLine::wide:
      return "l-wide";
    case SvgLine::hidden:
      return "l-hidden";
    case SvgLine::centre:
      return "l-centre";
  }
  throw std::logic_error("line_class: no such line");
}

std::string fill_class(SvgFill fill) {
  constexpr std::array<std::string_view, 15> classes{
      "f-none", "f-paper", "f-cell", "f-metal",  "f-ink",  "f-metal", "f-cell", "f-sheet",
      "f-pad",  "f-slip",  "f-band", "f-accent", "f-good", "f-bad",   "hatch"};
  const auto index = static_cast<std::size_t>(fill);
  if (index < classes.size()) return std::string(classes[index]);
  return fmt::format("f-m{}", index - static_cast<std::size_t>(SvgFill::map_0));
}

std::string_view text_class(const SvgText& look) {
  return look.bold ? "t-strong" : look.quiet ? "t-small" : "t-label";
}

std::string data_attributes(const SvgHook& hook) {
  std::string out;
  for (const auto& [key, value] : hook.data) {
    out += fmt::format(R"( data-{}="{}")", key, xml_escaped(value));
  }
  return out;
}

// `first` and, where there are any, more.
std::string classes_of(std::string first, const SvgHook& hook) {
  return hook.classes.empty() ? first : std::move(first) + ' ' + hook.classes;
}

std::string title_element(const SvgName& name) {
  return name.title.empty() ? "" : fmt::format("<title>{}</title>", xml_escaped(name.title));
}

// Bytes of the letter that begins the text; 0 where it is broken or nothing XML may hold
// (XML 1.0, production 2, and UTF-8 as RFC 3629 has it: no surrogates, shortest form).
std::size_t xml_letter_bytes(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(0);
  if (lead < 0x80) {
    return lead >= 0x20 && lead != 0x7F ? 1 : 0;
  }
  const std::size_t bytes = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < bytes) {
    return 0;
  }
  char32_t code = lead & (0xFFU >> (bytes + 1));
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) {
      return 0;
    }
    code = (code << 6U) | (byte(i) & 0x3FU);
  }
  const char32_t least = bytes == 4 ? 0x10000 : bytes == 3 ? 0x800 : 0xA0;
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  const bool no_letter = code == 0xFFFE || code == 0xFFFF || code > 0x10FFFF;
  return code < least || surrogate || no_letter ? 0 : bytes;
}

}  // namespace

double text_width_mm(std::string_view text, double size_mm) {
  return static_cast<double>(display_width(text)) * letter_width * size_mm;
}

std::string text_to_fit(std::string_view text, double size_mm, double width_mm) {
  const double letters = std::floor(width_mm / (letter_width * size_mm) + 1e-9);
  return shortened(text, letters > 0 ? static_cast<std::size_t>(letters) : 0);
}

std::string xml_escaped(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const std::size_t bytes = xml_letter_bytes(text);
    const char first = text.front();
    if (bytes == 0) {
      out += '?';
    } else if (first == '&') {
      out += "&amp;";
    } else if (first == '<') {
      out += "&lt;";
    } else if (first == '>') {
      out += "&gt;";
    } else if (first == '"') {
      out += "&quot;";
    } else if (first == '\'') {
      out += "&#39;";
    } else {
      out += text.substr(0, bytes);
    }
    text.remove_prefix(bytes == 0 ? 1 : bytes);
  }
  return out;
}

std::string svg_number(double value) {
  if (!std::isfinite(value)) throw std::invalid_argument("svg_number: not a finite number");
  std::string text = fmt::format("{:.4f}", value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

SvgWriter::SvgWriter(const Sheet& sheet) : inline_id_(xml_escaped(sheet.inline_id)) {
  if (is_inline()) {
    open_inline(sheet);
  } else {
    open_for_paper(sheet);
  }
}

void SvgWriter::open_for_paper(const Sheet& sheet) {
  const std::string width = svg_number(sheet.width_mm);
  const std::string height = svg_number(sheet.height_mm);
  out_ = fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      R"(<svg xmlns="http://www.w3.org/2000/svg" width="{0}mm" height="{1}mm" )"
      R"(viewBox="0 0 {0} {1}" role="img" aria-labelledby="sheet-title sheet-description" )"
      "font-family=\"sans-serif\">\n"
      "<title id=\"sheet-title\">{2}</title>\n<desc id=\"sheet-description\">{3}</desc>\n",
      width, height, xml_escaped(sheet.title), xml_escaped(sheet.description));
  rect({0, 0, sheet.width_mm, sheet.height_mm}, {SvgLine::none, SvgFill::white});
}

void SvgWriter::open_inline(const Sheet& sheet) {
  out_ = fmt::format(
      R"(<svg class="{0}" viewBox="0 0 {1} {2}" role="img" aria-labelledby="{3}-t {3}-d"{4}>)"
      "\n<title id=\"{3}-t\">{5}</title>\n<desc id=\"{3}-d\">{6}</desc>\n",
      classes_of("drawing", sheet.hook), number(sheet.width_mm), number(sheet.height_mm),
      inline_id_, data_attributes(sheet.hook), xml_escaped(sheet.title),
      xml_escaped(sheet.description));
}

std::string SvgWriter::number(double value) const {
  constexpr double hundredths = 100;
  return svg_number(is_inline() ? std::round(value * hundredths) / hundredths : value);
}

std::string SvgWriter::id_attribute(const SvgName& name) const {
  if (name.id.empty()) return "";
  return fmt::format(R"( id="{}{}{}")", inline_id_, is_inline() ? "-" : "", xml_escaped(name.id));
}

std::string SvgWriter::look_attributes(SvgLook look, const SvgHook& hook) const {
  if (!is_inline()) {
    return fmt::format(R"(fill="{}" {})", fill_colour(look.fill), line_attributes(look.line));
  }
  const std::string classes =
      classes_of(fmt::format("{} {}", fill_class(look.fill), line_class(look.line)), hook);
  const bool hatched = look.fill == SvgFill::hatch;
  return fmt::format(R"(class="{}"{}{})", classes,
                     hatched ? fmt::format(R"x( fill="url(#{}-hatch)")x", inline_id_) : "",
                     data_attributes(hook));
}

void SvgWriter::define_hatch(double step) {
  const std::string size = number(step);
  out_ += fmt::format(
      R"(<defs><pattern id="{0}-hatch" width="{1}" height="{1}" patternUnits="userSpaceOnUse" )"
      R"x(patternTransform="rotate(45)"><path class="f-none l-thin" d="M0 0V{1}"/></pattern></defs>)x"
      "\n",
      inline_id_, size);
}

void SvgWriter::shape(std::string_view element, std::string_view attributes, SvgLook look,
                      const SvgName& name) {
  out_ += fmt::format(R"(<{}{} {} {})", element, id_attribute(name), attributes,
                      look_attributes(look, name.hook));
  const std::string title = title_element(name);
  out_ += title.empty() ? std::string("/>\n") : fmt::format(">{}</{}>\n", title, element);
}

void SvgWriter::line(SvgPoint from, SvgPoint to, SvgLine look) {
  shape("line",
        fmt::format(R"(x1="{}" y1="{}" x2="{}" y2="{}")", number(from.x), number(from.y),
                    number(to.x), number(to.y)),
        {look, SvgFill::none}, {});
}

void SvgWriter::rect(const SvgBox& box, SvgLook look, const SvgName& name, double radius_mm) {
  std::string attributes = fmt::format(R"(x="{}" y="{}" width="{}" height="{}")", number(box.x),
                                       number(box.y), number(box.width), number(box.height));
  if (radius_mm > 0) attributes += fmt::format(R"( rx="{}")", number(radius_mm));
  shape("rect", attributes, look, name);
}

void SvgWriter::circle(SvgPoint centre, double radius_mm, SvgLook look, const SvgName& name) {
  shape("circle",
        fmt::format(R"(cx="{}" cy="{}" r="{}")", number(centre.x), number(centre.y),
                    number(radius_mm)),
        look, name);
}

void SvgWriter::polygon(const std::vector<SvgPoint>& points, SvgLook look, const SvgName& name) {
  std::string list;
  for (const SvgPoint& point : points) {
    if (!list.empty()) list += ' ';
    list += number(point.x) + ',' + number(point.y);
  }
  shape("polygon", fmt::format(R"(points="{}")", list), look, name);
}

void SvgWriter::path(std::string_view commands, SvgLook look, const SvgName& name) {
  shape("path", fmt::format(R"(d="{}")", xml_escaped(commands)), look, name);
}

void SvgWriter::text(SvgPoint at, std::string_view text, const SvgText& look) {
  if (text.empty()) return;
  if (look.size_mm < least_text_mm) throw std::invalid_argument("SvgWriter::text: too small");
  const std::string x = number(at.x);
  const std::string y = number(at.y);
  const std::string classed = fmt::format(R"( class="{}")", text_class(look));
  const std::string weight = look.bold ? R"( font-weight="bold")" : "";
  out_ +=
      fmt::format(R"(<text x="{}" y="{}" font-size="{}" text-anchor="{}"{}{}>{}</text>)", x, y,
                  number(look.size_mm), anchor_word(look.anchor), is_inline() ? classed : weight,
                  look.turned ? fmt::format(R"x( transform="rotate(-90 {} {})")x", x, y) : "",
                  xml_escaped(text));
  out_ += '\n';
}

void SvgWriter::open_group(const SvgName& name) {
  out_ += fmt::format("<g{}>{}\n", id_attribute(name), title_element(name));
}

void SvgWriter::close_group() {
  out_ += "</g>\n";
}

std::string SvgWriter::finish() && {
  return std::move(out_) + "</svg>\n";
}

}  // namespace stackfit::cli
