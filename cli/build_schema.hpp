// SPDX-License-Identifier: GPL-3.0-or-later
//
// The JSON Schema of the build file, embedded from build.schema.json when the program is built.
#pragma once

namespace stackfit::cli {

extern const char* const build_schema_text;

}  // namespace stackfit::cli
