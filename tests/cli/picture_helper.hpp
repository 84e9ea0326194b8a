// SPDX-License-Identifier: GPL-3.0-or-later
//
// What every inline drawing of the build sheet keeps, and an answer with a picture made by hand.
//
// For: picture_*_test.cpp.
#pragma once

#include <string>
#include <vector>

#include "solver/answer.hpp"
#include "tests/cli/svg_reader.hpp"

namespace stackfit::cli::testing {

/// Reads the drawing and checks: classes and no colours, all ids its own, a title and a text in
/// sentences, texts no smaller than 10 px on a phone, inside the drawing and clear of each other.
[[nodiscard]] std::vector<svg_reader::Element> check_inline(const std::string& drawing,
                                                            const std::string& id);

/// Walls that bow by 0.5 mm in the middle, a map of 4 x 5 squares that rises to the lower right,
/// and reduced curves in which a row that is 1 mm longer has 50 kPa more.
[[nodiscard]] Picture sample_picture(const Answer& answer);

/// Those whose class attribute holds the word.
[[nodiscard]] std::vector<const svg_reader::Element*> of_class(
    const std::vector<svg_reader::Element>& elements, const std::string& word);
[[nodiscard]] bool has_text(const std::vector<svg_reader::Element>& elements,
                            const std::string& text);
[[nodiscard]] std::vector<double> numbers_in(const std::string& text);

}  // namespace stackfit::cli::testing
