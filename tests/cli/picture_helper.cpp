// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/cli/picture_helper.hpp"

#include <cstddef>
#include <sstream>

#include "tests/catch.hpp"

namespace stackfit::cli::testing {

using svg_reader::Element;
using svg_reader::TextBox;

namespace {

void check_classes(const Element& element) {
  INFO(element.name);
  for (const char* attribute : {"style", "stroke", "stroke-width", "font-family", "font-weight"}) {
    CHECK_FALSE(element.attributes.contains(attribute));
  }
  const auto fill = element.attributes.find("fill");
  // Only an area that is hatched by the drawing's own pattern says so itself.
  if (fill != element.attributes.end()) CHECK(fill->second.starts_with("url(#"));
}

void check_texts(const std::vector<Element>& elements) {
  const std::vector<double> view = numbers_in(elements.front().said("viewBox"));
  REQUIRE(view.size() == 4);
  constexpr double phone_px = 328;
  constexpr double least_px = 10;
  for (const Element* text : svg_reader::named(elements, "text")) {
    INFO(text->text);
    CHECK(text->number("font-size") * phone_px >= least_px * view[2]);
  }
  const std::vector<TextBox> boxes = svg_reader::text_boxes(elements);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    INFO(boxes[i].text);
    CHECK(boxes[i].left >= -1);
    CHECK(boxes[i].top >= -1);
    CHECK(boxes[i].right <= view[2] + 1);
    CHECK(boxes[i].bottom <= view[3] + 1);
    for (std::size_t k = 0; k < i; ++k) {
      INFO(boxes[k].text);
      CHECK_FALSE(boxes[i].overlaps(boxes[k]));
    }
  }
}

}  // namespace

std::vector<Element> check_inline(const std::string& drawing, const std::string& id) {
  CHECK(drawing.starts_with("<svg "));
  std::vector<Element> elements =
      svg_reader::read_svg("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + drawing);
  const Element& root = elements.front();
  CHECK(root.name == "svg");
  CHECK(root.said("class").starts_with("drawing"));
  CHECK(root.said("role") == "img");
  CHECK(root.said("aria-labelledby") == id + "-t " + id + "-d");
  CHECK_FALSE(root.attributes.contains("width"));
  CHECK_FALSE(root.attributes.contains("height"));
  CHECK(svg_reader::by_id(elements, id + "-t").name == "title");
  CHECK(svg_reader::by_id(elements, id + "-d").text.ends_with("."));
  for (const Element& element : elements) {
    check_classes(element);
    const auto said = element.attributes.find("id");
    if (said != element.attributes.end()) CHECK(said->second.starts_with(id + "-"));
  }
  check_texts(elements);
  return elements;
}

Picture sample_picture(const Answer& answer) {
  Picture picture;
  for (const CellResult& cell : answer.cells) picture.inner_length_mm += cell.free_mm;
  for (const GapResult& gap : answer.plan.gaps) picture.inner_length_mm += gap.total_mm;
  picture.inner_length_mm -= answer.plan.interference_mm;
  picture.wall_width_mm = 160;
  picture.wall_height_mm = 200;
  picture.worst_face = {150, 190, 4, 5, {}};
  picture.worst_face.pressure_mpa.clear();
  for (int i = 0; i < 20; ++i) picture.worst_face.pressure_mpa.push_back(0.06 + 0.002 * i);
  picture.first_wall = {{0, 0.3, 0.5, 0.3, 0}, {0, 0.2, 0.4, 0.5, 0.5}};
  picture.last_wall = picture.first_wall;
  Play& play = picture.play;
  play.charge = {0, 0.5, 1};
  play.longer_mm = {-0.4, 0, 0.4};
  play.longer_mm_per_k = 0.01;
  play.longer_mm_per_loss = 8;
  play.total_mm = {answer.plan.shim_total_mm - 1, answer.plan.shim_total_mm,
                   answer.plan.shim_total_mm + 1};
  play.shift_mm = {-2, 2};
  PlayKind kind;
  for (const double total : {-1.0, 0.0, 1.0}) {
    for (const double shift : play.shift_mm) {
      kind.face_pressure_mpa.push_back(0.16 + 0.05 * (total + shift));
    }
  }
  play.kinds = {kind};
  return picture;
}

std::vector<const Element*> of_class(const std::vector<Element>& elements,
                                     const std::string& word) {
  std::vector<const Element*> found;
  for (const Element& element : elements) {
    const auto said = element.attributes.find("class");
    if (said == element.attributes.end()) continue;
    if ((' ' + said->second + ' ').find(' ' + word + ' ') != std::string::npos) {
      found.push_back(&element);
    }
  }
  return found;
}

bool has_text(const std::vector<Element>& elements, const std::string& text) {
  for (const Element* element : svg_reader::named(elements, "text")) {
    if (element->text == text) return true;
  }
  return false;
}

std::vector<double> numbers_in(const std::string& text) {
  std::istringstream stream(text);
  std::vector<double> numbers;
  for (double number = 0; stream >> number;) numbers.push_back(number);
  return numbers;
}

}  // namespace stackfit::cli::testing
