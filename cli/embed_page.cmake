# SPDX-License-Identifier: GPL-3.0-or-later
#
# Writes a C++ file that holds the texts of all FILES (names with | between them, in DIRECTORY):
# cmake -DDIRECTORY=... -DFILES=... -DOUTPUT=... -P this.
string(REPLACE "|" ";" names "${FILES}")
list(SORT names)
set(mark "stackfit_page")
# Compilers take no literal beyond 64 kB: each file is cut into parts that stand side by side.
set(part_bytes 12000)
set(entries "")
foreach(name IN LISTS names)
  file(READ "${DIRECTORY}/${name}" text)
  # What explains a file to its readers is of no use to a page's.
  if(name MATCHES "[.]css$")
    string(REGEX REPLACE "/[*][^*]*[*]+([^/*][^*]*[*]+)*/\n*" "" text "${text}")
  elseif(name MATCHES "[.]js$")
    string(REGEX REPLACE "\n *//[^\n]*" "" text "\n${text}")
  endif()
  if(NOT name MATCHES "[.]html$")
    string(REGEX REPLACE "\n[ \n]+" "\n" text "${text}")
  endif()
  string(FIND "${text}" ")${mark}\"" clash)
  if(NOT clash EQUAL -1)
    message(FATAL_ERROR "${name} holds the end mark of the string that is to hold it")
  endif()
  set(parts "")
  string(LENGTH "${text}" length)
  set(from 0)
  while(from LESS length)
    string(SUBSTRING "${text}" ${from} ${part_bytes} part)
    string(APPEND parts "R\"${mark}(${part})${mark}\"\n")
    math(EXPR from "${from} + ${part_bytes}")
  endwhile()
  string(APPEND entries "    {\"${name}\",\n${parts}},\n")
endforeach()
file(WRITE "${OUTPUT}" "// Written by the build from cli/page: change those files instead.
#include \"cli/page_files.hpp\"

namespace stackfit::cli {
namespace {

constexpr PageFile files[] = {
${entries}};

}  // namespace

std::span<const PageFile> page_files() {
  return files;
}

}  // namespace stackfit::cli
")
