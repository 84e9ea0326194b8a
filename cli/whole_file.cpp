// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/whole_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <stdexcept>
#include <system_error>

namespace stackfit::cli {
namespace {

namespace fs = std::filesystem;

// What a program may ask for; the person's umask takes away from it.
constexpr mode_t new_file_mode = 0666;
constexpr int most_temporary_names = 100;

[[noreturn]] void fail(const std::string& path, const std::string& why) {
  throw std::runtime_error(fmt::format("{} was not written: {}", path, why));
}

std::string reason(int error) {
  return std::generic_category().message(error);
}

bool is_same_file(const std::string& left, const std::string& right) {
  std::error_code error;
  if (fs::equivalent(left, right, error)) return true;
  return fs::weakly_canonical(left, error) == fs::weakly_canonical(right, error);
}

// A file that goes away again unless it is moved to its place.
class TemporaryFile {
 public:
  explicit TemporaryFile(const fs::path& target) {
    const fs::path folder = target.parent_path().empty() ? fs::path(".") : target.parent_path();
    for (int number = 0; number < most_temporary_names && descriptor_ < 0; ++number) {
      name_ = (folder / fmt::format(".{}.{}-{}", target.filename().string(), ::getpid(), number))
                  .string();
      descriptor_ = ::open(name_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, new_file_mode);
      if (descriptor_ < 0 && errno != EEXIST) break;
    }
    if (descriptor_ < 0) fail(target.string(), reason(errno));
  }
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;
  TemporaryFile(TemporaryFile&&) = delete;
  TemporaryFile& operator=(TemporaryFile&&) = delete;
  ~TemporaryFile() {
    if (descriptor_ >= 0) ::close(descriptor_);
    if (!moved_) ::unlink(name_.c_str());
  }

  void write(std::string_view text, const std::string& path) {
    while (!text.empty()) {
      const ssize_t written = ::write(descriptor_, text.data(), text.size());
      if (written < 0 && errno == EINTR) continue;
      if (written < 0) fail(path, reason(errno));
      text.remove_prefix(static_cast<std::size_t>(written));
    }
    if (::fsync(descriptor_) != 0) fail(path, reason(errno));
    const int closed = ::close(descriptor_);
    descriptor_ = -1;
    if (closed != 0) fail(path, reason(errno));
  }

  void take_mode_of(const fs::path& target) const {
    struct stat status {};
    if (::stat(target.c_str(), &status) == 0) ::fchmod(descriptor_, status.st_mode & 07777U);
  }

  void move_to(const fs::path& target, Existing existing) {
    if (existing == Existing::replace) {
      if (std::rename(name_.c_str(), target.c_str()) != 0) fail(target.string(), reason(errno));
      moved_ = true;
      return;
    }
    // A hard link is never laid over a file that has appeared meanwhile; the first name then goes.
    if (::link(name_.c_str(), target.c_str()) == 0) return;
    if (errno == EEXIST) fail(target.string(), reason(errno));
    // Some file systems know no hard links.
    move_to(target, Existing::replace);
  }

 private:
  std::string name_;
  int descriptor_ = -1;
  bool moved_ = false;
};

}  // namespace

void write_whole_file(const std::string& path, std::string_view text,
                      const std::vector<std::string>& inputs, Existing existing) {
  const auto is_target = [&](const std::string& input) { return is_same_file(input, path); };
  if (std::ranges::any_of(inputs, is_target)) {
    fail(path, "it is one of the files read; give another name");
  }
  std::error_code error;
  if (existing == Existing::refuse && fs::exists(path, error)) {
    fail(path, "there is such a file already; give another name");
  }
  if (fs::is_directory(path, error)) fail(path, "it is a folder");
  if (fs::exists(path, error) && !fs::is_regular_file(path, error)) {
    fail(path, "it is no ordinary file");
  }
  // A link stays a link: what it points to is replaced.
  const fs::path target =
      fs::is_symlink(path, error) ? fs::weakly_canonical(path, error) : fs::path(path);
  TemporaryFile file(target);
  file.take_mode_of(target);
  file.write(text, path);
  file.move_to(target, existing);
}

}  // namespace stackfit::cli
