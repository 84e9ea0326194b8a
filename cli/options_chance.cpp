// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/options_chance.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstdint>
#include <optional>
#include <string_view>
#include <utility>

#include "cli/figures.hpp"
#include "cli/quantity.hpp"
#include "solver/monte_carlo.hpp"

namespace stackfit::cli {
namespace {

// As many numbers of each result are held in memory at once.
constexpr double most_samples = 1e7;
constexpr double most_threads = 256;

class ChanceReader {
 public:
  explicit ChanceReader(const ChanceInWords& words) : words_(words) {}

  ChanceRead read() {
    out_.wanted = !words_.none;
    if (words_.none && !words_.need.empty()) {
      problem("--no-chance", "with --need-chance", "one of the two",
              "a chance that is needed is computed");
    }
    read_need();
    read_by();
    if (const auto samples = whole("--samples", words_.samples, most_samples)) {
      out_.options.samples = *samples;
    }
    if (const auto threads = whole("--threads", words_.threads, most_threads)) {
      out_.options.threads = static_cast<int>(*threads);
    }
    return std::move(out_);
  }

 private:
  void problem(const char* option, std::string found, std::string allowed, std::string mend = "") {
    out_.problems.push_back(
        {{option, 0, 0, ""}, std::move(found), std::move(allowed), std::move(mend)});
  }

  void read_need() {
    if (words_.need.empty()) {
      return;
    }
    std::string_view text = trimmed(words_.need);
    if (text.ends_with('%')) {
      text = trimmed(text.substr(0, text.size() - 1));
    }
    const auto hundred = read_number(text);
    if (!hundred || *hundred < 1 || *hundred > surest_chance * 100) {
      // A share where parts in a hundred are meant is the likely slip.
      const bool share = hundred && *hundred > 0 && *hundred < 1;
      problem("--need-chance", words_.need,
              fmt::format("parts in a hundred, from 1 to {}", exact(surest_chance * 100)),
              share ? fmt::format("--need-chance {:.4g}", *hundred * 100) : "");
      return;
    }
    out_.options.need = *hundred / 100;
  }

  void read_by() {
    const auto [by_chance, by_margin] = by_words;
    if (words_.by == by_margin) {
      out_.options.by = PickBy::margin;
    } else if (!words_.by.empty() && words_.by != by_chance) {
      problem("--by", words_.by, "chance or margin");
    }
  }

  std::optional<std::int64_t> whole(const char* option, const std::string& text, double most) {
    if (text.empty()) {
      return {};
    }
    const auto number = read_number(text);
    if (!number || *number < 1 || *number > most || std::floor(*number) != *number) {
      problem(option, text, fmt::format("a whole number from 1 to {:.0f}", most));
      return {};
    }
    return static_cast<std::int64_t>(*number);
  }

  const ChanceInWords& words_;
  ChanceRead out_;
};

}  // namespace

ChanceRead read_chance_options(const ChanceInWords& words) {
  return ChanceReader(words).read();
}

}  // namespace stackfit::cli
