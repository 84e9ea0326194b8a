// SPDX-License-Identifier: GPL-3.0-or-later
//
// The words that every answer begins and ends with, whatever else it says.
//
// For: views. Each stands once, so that no view can soften it.
#pragma once

namespace stackfit::cli::cautions {

inline constexpr const char* never_pressed =
    "a swollen, warm, dented, leaking or smelling cell is never pressed.";
inline constexpr const char* overruled =
    "The maker's data sheet and local codes overrule this. A pack for a home, boat or vehicle is "
    "checked by a licensed or qualified person.";

}  // namespace stackfit::cli::cautions
