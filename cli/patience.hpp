// SPDX-License-Identifier: GPL-3.0-or-later
//
// A word on a terminal when an answer takes its time.
//
// For: commands that may work for more than a second. Says it once, and only where someone looks.
// Not for: results, or how much is left.
#pragma once

#include <condition_variable>
#include <mutex>
#include <string>
#include <thread>

#include "cli/console.hpp"

namespace stackfit::cli {

class Patience {
 public:
  /// Nothing happens unless `console.err` is a terminal.
  Patience(Console& console, std::string word);
  ~Patience();
  Patience(const Patience&) = delete;
  Patience& operator=(const Patience&) = delete;

 private:
  std::mutex mutex_;
  std::condition_variable done_;
  bool over_ = false;
  std::thread waits_;
};

}  // namespace stackfit::cli
