// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/patience.hpp"

#include <chrono>
#include <ostream>
#include <utility>

namespace stackfit::cli {

Patience::Patience(Console& console, std::string word) {
  if (!console.err_is_terminal) {
    return;
  }
  waits_ = std::thread([this, &console, said = std::move(word)] {
    std::unique_lock lock(mutex_);
    if (!done_.wait_for(lock, std::chrono::seconds(1), [this] { return over_; })) {
      console.err << said << std::endl;
    }
  });
}

Patience::~Patience() {
  if (!waits_.joinable()) {
    return;
  }
  {
    const std::scoped_lock lock(mutex_);
    over_ = true;
  }
  done_.notify_one();
  waits_.join();
}

}  // namespace stackfit::cli
