// SPDX-License-Identifier: GPL-3.0-or-later
//
// JSON laid out for people: what fits on a line stands on one, and blocks carry comments.
//
// For: build files the program writes. Not for: results (view_json.hpp).
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <string>

namespace stackfit::cli {

/// Comments by JSON pointer: each stands on lines of its own above the key it speaks of.
using Comments = std::map<std::string, std::string>;

/// The document with a newline at its end; `head` stands above it as a comment.
[[nodiscard]] std::string pretty_json(const nlohmann::ordered_json& document,
                                      const Comments& comments = {}, const std::string& head = {});

}  // namespace stackfit::cli
