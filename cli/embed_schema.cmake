# SPDX-License-Identifier: GPL-3.0-or-later
#
# Writes a C++ file that holds the text of INPUT: cmake -DINPUT=... -DOUTPUT=... -P this.
file(READ "${INPUT}" text)
set(mark "stackfit_schema")
string(FIND "${text}" ")${mark}\"" clash)
if(NOT clash EQUAL -1)
  message(FATAL_ERROR "${INPUT} holds the end mark of the string that is to hold it")
endif()
file(WRITE "${OUTPUT}" "// Written by the build from build.schema.json: change that file instead.
#include \"cli/build_schema.hpp\"

namespace stackfit::cli {

const char* const build_schema_text = R\"${mark}(${text})${mark}\";

}  // namespace stackfit::cli
")
