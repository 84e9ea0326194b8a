// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/whole_file.hpp"

#include <filesystem>
#include <stdexcept>

#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

namespace stackfit::cli {

TEST_CASE("whole file: written, replaced, and nothing left over") {
  const testing::Folder folder;
  write_whole_file(folder.path("a.json"), "one");
  CHECK(folder.text("a.json") == "one");
  write_whole_file(folder.path("a.json"), "two");
  CHECK(folder.text("a.json") == "two");
  write_whole_file(folder.path("b.json"), "three", {folder.path("a.json")}, Existing::refuse);
  CHECK(folder.text("b.json") == "three");
  CHECK(folder.files() == 2);
}

TEST_CASE("whole file: never over an input, whatever it is called") {
  const testing::Folder folder;
  const std::string input = folder.write("in.json", "input");
  const std::string other_name = (std::filesystem::path(folder.path(".")) / "in.json").string();
  std::filesystem::create_symlink(input, folder.path("link.json"));
  for (const std::string& name : {input, other_name, folder.path("link.json")}) {
    CHECK_THROWS_AS(write_whole_file(name, "x", {input}), std::runtime_error);
  }
  CHECK(folder.text("in.json") == "input");
}

TEST_CASE("whole file: what cannot be written says so and leaves all as it was") {
  const testing::Folder folder;
  const std::string there = folder.write("there.json", "old");
  CHECK_THROWS_AS(write_whole_file(there, "new", {}, Existing::refuse), std::runtime_error);
  CHECK(folder.text("there.json") == "old");
  CHECK_THROWS_AS(write_whole_file(folder.path("none/a.json"), "x"), std::runtime_error);
  CHECK_THROWS_AS(write_whole_file(folder.path("."), "x"), std::runtime_error);
  CHECK_THROWS_AS(write_whole_file("/dev/full", "x"), std::runtime_error);
  CHECK(folder.files() == 1);
}

TEST_CASE("whole file: the sign for standard input is no name") {
  CHECK_THROWS_AS(write_whole_file("-", "x"), std::runtime_error);
  CHECK_FALSE(std::filesystem::exists("-"));
}

TEST_CASE("whole file: one file by several names, be it there yet or not") {
  const testing::Folder folder;
  const std::string there = folder.write("there.json", "old");
  std::filesystem::create_hard_link(there, folder.path("hard.json"));
  std::filesystem::create_symlink("later.json", folder.path("link.json"));
  std::filesystem::create_symlink("turning.json", folder.path("turning.json"));
  CHECK(is_same_file(there, folder.path("./there.json")));
  CHECK(is_same_file(there, folder.path("hard.json")));
  CHECK(is_same_file(folder.path("link.json"), folder.path("later.json")));
  CHECK(is_same_file("none/later.json", "./none//later.json"));
  CHECK_FALSE(is_same_file(there, folder.path("later.json")));
  CHECK_FALSE(is_same_file(folder.path("turning.json"), there));
  CHECK_THROWS_AS(write_whole_file(folder.path("turning.json"), "x"), std::runtime_error);
}

TEST_CASE("whole file: a link stays a link") {
  const testing::Folder folder;
  const std::string target = folder.write("target.json", "old");
  std::filesystem::create_symlink(target, folder.path("link.json"));
  write_whole_file(folder.path("link.json"), "new");
  CHECK(std::filesystem::is_symlink(folder.path("link.json")));
  CHECK(folder.text("target.json") == "new");
}

}  // namespace stackfit::cli
