// SPDX-License-Identifier: GPL-3.0-or-later
//
// replay_NAME DIRECTORY...: every saved input once through the target, without libFuzzer.
//
// A property that does not hold ends the run; so does a directory without inputs, which would
// otherwise pass unseen.
#include <algorithm>
#include <csignal>
#include <cstdint>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "tests/fuzz/hold.hpp"

namespace {

std::vector<std::filesystem::path> files_in(const char* directory) {
  std::vector<std::filesystem::path> files;
  std::error_code error;
  for (const auto& entry : std::filesystem::directory_iterator(directory, error)) {
    if (entry.is_regular_file()) files.push_back(entry.path());
  }
  std::ranges::sort(files);
  return files;
}

std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

// What is about to run is known even where it ends the process.
const char* running = "";

int replay(const char* directory) {
  const std::vector<std::filesystem::path> files = files_in(directory);
  if (files.empty()) {
    std::fprintf(stderr, "%s: no inputs there\n", directory);
    return 1;
  }
  for (const std::filesystem::path& file : files) {
    running = file.c_str();
    const std::string bytes = bytes_of(file);
    const std::vector<std::uint8_t> data(bytes.begin(), bytes.end());
    LLVMFuzzerTestOneInput(data.data(), data.size());
  }
  std::printf("%s: %zu inputs, every property held\n", directory, files.size());
  return 0;
}

}  // namespace

int main(int count, char** directories) {
  if (count < 2) {
    std::fputs("replay_NAME DIRECTORY...\n", stderr);
    return 2;
  }
  std::signal(SIGABRT, [](int) { std::fprintf(stderr, "  in: %s\n", running); });
  int status = 0;
  for (int i = 1; i < count; ++i) status |= replay(directories[i]);
  return status;
}
