// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the end walls do, and a clamp frame in figures for the bench.
//
// For: the text answer. Not for: warnings about them (words_warning.hpp).
#pragma once

#include <string>

#include "cli/view_text_parts.hpp"

namespace stackfit::cli {

/// `end walls bow 1.5 mm, 62 MPa at the surface`; empty where no wall is a plate.
[[nodiscard]] std::string wall_words(const PlanResult& plan, const Figures& figures);

/// `498.3 mm over both plates at the rods`.
[[nodiscard]] std::string frame_length(const FrameResult& frame, const Figures& figures);

/// How to bring the frame to its force, and what its rods do over the swing.
void write_frame(TextPage& page, const FrameResult& frame);

}  // namespace stackfit::cli
