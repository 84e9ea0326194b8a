// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include "cli/answer_words.hpp"
#include "cli/view_text_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent hanging{.first = 2, .next = 6};

std::string ids_of(const OrderResult& order) {
  std::string text;
  for (const std::string& id : order.ids) {
    text += (text.empty() ? "" : ", ") + printable(id);
  }
  return text;
}

// What the reader may rely on: proven best, or found with a bound.
std::string how_sure(const OrderResult& order, const PlanResult& plan, const Figures& figures) {
  if (order.proven) {
    return order.fewest_moved ? "proven: none is better, none as good moves fewer cells"
                              : "proven: none is better";
  }
  return fmt::format("best found: terminals up to {} off, no order is below {}",
                     figures.length(plan.terminal_deviation_mm), figures.length(order.bound_mm));
}

// What the other order gained: the terminals, or as good terminals with more even sheets.
std::string gained(const OrderResult& order, const PlanResult& plan, const Figures& figures) {
  constexpr double worth_naming_mm = 0.005;
  return order.before_mm - plan.terminal_deviation_mm > worth_naming_mm
             ? fmt::format("as listed terminals were up to {} off", figures.length(order.before_mm))
             : "the sheets then lie more evenly";
}

}  // namespace

std::string cell_at(const Answer& answer, int place) {
  const bool moved = answer.order && answer.order->moved > 0;
  return moved ? printable(answer.order->ids[static_cast<std::size_t>(place) - 1])
               : fmt::format("{}", place);
}

void write_order(TextPage& page) {
  if (!page.answer.order) {
    return;
  }
  const OrderResult& order = *page.answer.order;
  const std::string sure = how_sure(order, page.answer.plan, page.figures);
  if (order.moved == 0) {
    page.lines.wrapped(fmt::format("order of the cells: as listed ({})", sure), hanging);
    return;
  }
  page.lines.wrapped(fmt::format("order of the cells from the {}: {}", first_wall_name(page.answer),
                                 ids_of(order)),
                     hanging);
  page.lines.wrapped(
      fmt::format("{} moved: {} ({}); gaps count places", counted(order.moved, "cell"),
                  gained(order, page.answer.plan, page.figures), sure),
      hanging);
}

}  // namespace stackfit::cli
