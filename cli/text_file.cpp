// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/text_file.hpp"

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <system_error>

namespace stackfit::cli {
namespace {

constexpr std::string_view utf8_mark = "\xEF\xBB\xBF";

struct Signature {
  std::string_view bytes;
  const char* what;
  const char* mend;
};

constexpr const char* save_as_csv = "in the spreadsheet program, save it as CSV (UTF-8) first";
constexpr const char* save_as_utf8 = "save the file as UTF-8";
constexpr const char* save_as_text = "save it as plain text (UTF-8) first";
constexpr const char* type_figures = "type the figures into a build file";

constexpr std::array signatures{
    Signature{"PK\x03\x04", "a zip archive, as spreadsheet programs write", save_as_csv},
    Signature{"\xD0\xCF\x11\xE0", "an older spreadsheet or word processor file", save_as_csv},
    Signature{std::string_view("\xFF\xFE\0\0", 4), "UTF-32 text", save_as_utf8},
    Signature{std::string_view("\0\0\xFE\xFF", 4), "UTF-32 text", save_as_utf8},
    Signature{"\xFF\xFE", "UTF-16 text", save_as_utf8},
    Signature{"\xFE\xFF", "UTF-16 text", save_as_utf8},
    Signature{"%PDF", "a PDF file", type_figures},
    Signature{"\x89PNG", "a picture (PNG)", type_figures},
    Signature{"\xFF\xD8\xFF", "a picture (JPEG)", type_figures},
    Signature{"\x1F\x8B", "a packed file (gzip)", "unpack it first"},
    Signature{"{\\rtf", "a word processor's file (RTF)", save_as_text},
};
// Nothing that is read here begins like this, and what does is long and says nothing.
constexpr Signature page{"<", "a web page or drawing (HTML, XML)",
                         "save the file itself, not the page that shows it"};

constexpr const char* text_allowed = "a text file in UTF-8: JSON, or CSV";

Problem file_problem(const std::string& name, std::string found, std::string mend) {
  return {{name, 0, 0, ""}, std::move(found), text_allowed, std::move(mend)};
}

unsigned char byte_at(std::string_view text, std::size_t at) {
  return at < text.size() ? static_cast<unsigned char>(text[at]) : 0;
}

bool is_continuation(unsigned char byte) {
  return (byte & 0xC0U) == 0x80U;
}

// Length of the valid UTF-8 sequence at `at`, or 0. The second byte's bounds shut out overlong
// forms, surrogates and what lies beyond U+10FFFF (RFC 3629, section 4).
std::size_t sequence_length(std::string_view text, std::size_t at) {
  const unsigned char first = byte_at(text, at);
  if (first < 0x80U) return 1;
  if (first < 0xC2U || first > 0xF4U) return 0;
  const std::size_t length = first < 0xE0U ? 2 : first < 0xF0U ? 3 : 4;
  const unsigned char second = byte_at(text, at + 1);
  const unsigned char least = first == 0xE0U ? 0xA0U : first == 0xF0U ? 0x90U : 0x80U;
  const unsigned char most = first == 0xEDU ? 0x9FU : first == 0xF4U ? 0x8FU : 0xBFU;
  if (second < least || second > most) return 0;
  for (std::size_t next = 2; next < length; ++next) {
    if (!is_continuation(byte_at(text, at + next))) return 0;
  }
  return length;
}

std::optional<std::size_t> first_bad_byte(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = sequence_length(text, at);
    if (length == 0 || text[at] == '\0') return at;
    at += length;
  }
  return std::nullopt;
}

const Signature* signature_of(std::string_view text) {
  for (const Signature& signature : signatures) {
    if (text.starts_with(signature.bytes)) return &signature;
  }
  if (text.starts_with(utf8_mark)) text.remove_prefix(utf8_mark.size());
  text.remove_prefix(std::min(text.find_first_not_of(" \t\r\n"), text.size()));
  return text.starts_with(page.bytes) ? &page : nullptr;
}

// One byte more than allowed is enough to know.
std::string read_limited(std::istream& stream) {
  std::string bytes(largest_file_bytes + 1, '\0');
  stream.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  bytes.resize(static_cast<std::size_t>(stream.gcount()));
  return bytes;
}

}  // namespace

LineColumn line_column(std::string_view text, std::size_t offset) {
  const std::string_view before = text.substr(0, std::min(offset, text.size()));
  const std::size_t line_start = before.rfind('\n') + 1;  // npos + 1 is 0
  const auto letters = std::ranges::count_if(before.substr(line_start), [](char byte) {
    return !is_continuation(static_cast<unsigned char>(byte));
  });
  return {static_cast<int>(std::ranges::count(before, '\n')) + 1, static_cast<int>(letters) + 1};
}

TextFile check_text(std::string name, std::string bytes) {
  TextFile file{std::move(name), std::move(bytes), {}};
  if (file.text.size() > largest_file_bytes) {
    file.problem = file_problem(file.name, "more than 16 MB", "this is not a build file");
    return file;
  }
  if (const Signature* const signature = signature_of(file.text)) {
    file.problem = file_problem(file.name, signature->what, signature->mend);
    return file;
  }
  if (file.text.starts_with(utf8_mark)) file.text.erase(0, utf8_mark.size());
  if (const auto bad = first_bad_byte(file.text)) {
    const LineColumn at = line_column(file.text, *bad);
    const bool zero = file.text[*bad] == '\0';
    file.problem = file_problem(
        file.name, zero ? "a zero byte, which no text has" : "a byte that is not UTF-8 text",
        zero ? "save the file as UTF-8; is it a text file at all?" : save_as_utf8);
    file.problem->place.line = at.line;
    file.problem->place.column = at.column;
  }
  return file;
}

TextFile read_text_file(const std::string& path) {
  if (path == "-") return check_text("standard input", read_limited(std::cin));
  std::error_code error;
  if (std::filesystem::is_directory(path, error)) {
    return {path, {}, file_problem(path, "a folder", "name a file in it")};
  }
  std::ifstream stream(path, std::ios::binary);
  if (!stream) {
    const bool there = std::filesystem::exists(path, error);
    return {path,
            {},
            file_problem(path, there ? "a file that may not be read" : "no such file",
                         there ? "" : "check the name and the folder")};
  }
  return check_text(path, read_limited(stream));
}

TextFile read_table_file(const std::string& path) {
  std::error_code error;
  const bool there = std::filesystem::exists(path, error);
  if (there && !std::filesystem::is_regular_file(path, error) &&
      !std::filesystem::is_directory(path, error)) {
    return {path, {}, file_problem(path, "a device or a pipe", "save the table as a file")};
  }
  // "-" is here a name like any other.
  TextFile file = read_text_file((std::filesystem::path(".") / path).string());
  file.name = path;
  if (file.problem) file.problem->place.file = path;
  return file;
}

}  // namespace stackfit::cli
