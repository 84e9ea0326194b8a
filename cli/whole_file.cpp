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
#include <memory>
#include <stdexcept>
#include <system_error>

namespace stackfit::cli {
namespace {

namespace fs = std::filesystem;

// What a program may ask for; the person's umask takes away from it.
constexpr mode_t new_file_mode = 0666;
constexpr int most_temporary_names = 100;
// Bytes of a name that a temporary one begins with: file systems take 255.
constexpr std::size_t longest_beginning = 200;
// As many as Linux follows.
constexpr int most_links = 40;

[[noreturn]] void fail(const std::string& path, const std::string& why) {
  throw std::runtime_error(fmt::format("{} was not written: {}", path, why));
}

// What a person can do about it.
const char* way_out(int error) {
  switch (error) {
    case ENOSPC:
    case EDQUOT:
      return "make room there, or name a place that has it";
    case EFBIG:
      return "allow larger files (ulimit -f), or name a place that takes them";
    case EACCES:
    case EPERM:
    case EROFS:
      return "name a place where you may write";
    case ENOENT:
      return "make that folder first, or check its name";
    case ENOTDIR:
      return "a file stands where a folder should; check the name";
    case ENAMETOOLONG:
      return "give a shorter name";
    default:
      return "name another place";
  }
}

[[noreturn]] void fail(const std::string& path, int error) {
  fail(path, fmt::format("{}; {}", std::generic_category().message(error), way_out(error)));
}

// A link stays a link: what it points to is written, whether it is there yet or not.
fs::path target_of(const std::string& path) {
  std::error_code error;
  fs::path target(path);
  for (int links = 0; links < most_links && fs::is_symlink(target, error); ++links) {
    // An absolute path takes the place of the folder before it.
    target = target.parent_path() / fs::read_symlink(target, error);
  }
  return target;
}

bool is_standard_input(const std::string& path) {
  struct stat input {};
  struct stat file {};
  return ::fstat(STDIN_FILENO, &input) == 0 && ::stat(path.c_str(), &file) == 0 &&
         input.st_dev == file.st_dev && input.st_ino == file.st_ino;
}

bool is_input(const std::string& input, const std::string& path) {
  return input == "-" ? is_standard_input(path) : is_same_file(input, path);
}

// A file that goes away again unless it is moved to its place.
class TemporaryFile {
 public:
  explicit TemporaryFile(const fs::path& target) {
    const fs::path folder = target.parent_path().empty() ? fs::path(".") : target.parent_path();
    const std::string beginning = target.filename().string().substr(0, longest_beginning);
    for (int number = 0; number < most_temporary_names && descriptor_ < 0; ++number) {
      name_ = (folder / fmt::format(".{}.{}-{}", beginning, ::getpid(), number)).string();
      descriptor_ = ::open(name_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, new_file_mode);
      if (descriptor_ < 0 && errno != EEXIST) break;
    }
    if (descriptor_ < 0) fail(target.string(), errno);
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
      if (written < 0) fail(path, errno);
      text.remove_prefix(static_cast<std::size_t>(written));
    }
    if (::fsync(descriptor_) != 0) fail(path, errno);
    const int closed = ::close(descriptor_);
    descriptor_ = -1;
    if (closed != 0) fail(path, errno);
  }

  void take_mode_of(const fs::path& target) const {
    struct stat status {};
    if (::stat(target.c_str(), &status) == 0) ::fchmod(descriptor_, status.st_mode & 07777U);
  }

  void move_to(const fs::path& target, Existing existing) {
    if (existing == Existing::replace) {
      if (std::rename(name_.c_str(), target.c_str()) != 0) fail(target.string(), errno);
      moved_ = true;
      return;
    }
    // A hard link is never laid over a file that has appeared meanwhile; the first name then goes.
    if (::link(name_.c_str(), target.c_str()) == 0) return;
    if (errno == EEXIST) fail(target.string(), errno);
    // Some file systems know no hard links.
    move_to(target, Existing::replace);
  }

 private:
  std::string name_;
  int descriptor_ = -1;
  bool moved_ = false;
};

void check_target(const std::string& path, const std::vector<std::string>& inputs,
                  Existing existing) {
  const auto is_target = [&](const std::string& input) { return is_input(input, path); };
  if (std::ranges::any_of(inputs, is_target)) {
    fail(path, "it is one of the files read; give another name");
  }
  std::error_code error;
  if (existing == Existing::refuse && fs::exists(path, error)) {
    fail(path, "there is such a file already; give another name");
  }
  if (path == "-") fail(path, "that is standard input; name a file");
  if (fs::is_symlink(target_of(path), error)) fail(path, ELOOP);
  if (fs::is_directory(path, error)) fail(path, "it is a folder; name a file in it");
  if (!fs::exists(path, error)) return;
  if (!fs::is_regular_file(path, error)) fail(path, "it is no ordinary file; give another name");
  // A rename asks the folder alone: a file that its owner has shut is not to be replaced.
  if (::access(path.c_str(), W_OK) != 0) fail(path, errno);
}

// Files moved to their places, taken back unless all of them came there. One that was there
// before stays as it now is: what it held is gone.
class Moved {
 public:
  Moved() = default;
  Moved(const Moved&) = delete;
  Moved& operator=(const Moved&) = delete;
  Moved(Moved&&) = delete;
  Moved& operator=(Moved&&) = delete;
  ~Moved() {
    for (const fs::path& target : new_) ::unlink(target.c_str());
  }
  void move(TemporaryFile& file, const fs::path& target) {
    std::error_code error;
    const bool was_there = fs::exists(target, error);
    file.move_to(target, Existing::replace);
    if (!was_there) new_.push_back(target);
  }
  void keep() { new_.clear(); }

 private:
  std::vector<fs::path> new_;
};

}  // namespace

bool is_same_file(const std::string& left, const std::string& right) {
  std::error_code error;
  if (fs::equivalent(left, right, error)) return true;
  const auto place = [&](const std::string& path) {
    return fs::weakly_canonical(fs::absolute(target_of(path), error), error);
  };
  return place(left) == place(right);
}

void write_whole_file(const std::string& path, std::string_view text,
                      const std::vector<std::string>& inputs, Existing existing) {
  check_target(path, inputs, existing);
  const fs::path target = target_of(path);
  TemporaryFile file(target);
  file.take_mode_of(target);
  file.write(text, path);
  file.move_to(target, existing);
}

void write_whole_files(const std::vector<FileToWrite>& files,
                       const std::vector<std::string>& inputs) {
  for (const FileToWrite& file : files) check_target(file.path, inputs, Existing::replace);
  std::vector<std::unique_ptr<TemporaryFile>> written;
  for (const FileToWrite& file : files) {
    const fs::path target = target_of(file.path);
    written.push_back(std::make_unique<TemporaryFile>(target));
    written.back()->take_mode_of(target);
    written.back()->write(file.text, file.path);
  }
  Moved moved;
  for (std::size_t i = 0; i < files.size(); ++i) moved.move(*written[i], target_of(files[i].path));
  moved.keep();
}

}  // namespace stackfit::cli
