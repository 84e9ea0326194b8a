// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a person does at the bench: lay out, put together, write down, look again.
#include <fmt/format.h>

#include <algorithm>

#include "cli/answer_words.hpp"
#include "cli/csv.hpp"
#include "cli/page_html.hpp"
#include "cli/page_parts.hpp"
#include "cli/page_text.hpp"
#include "cli/quantity.hpp"

namespace stackfit::cli {
namespace {

// Every kind of sheet that the plan uses, the rows' plans together.
void count_kit(const PlanResult& plan, std::vector<KitUse>& kit) {
  for (const KitUse& use : plan.kit) {
    const auto known = std::ranges::find_if(kit, [&](const KitUse& other) {
      return other.name == use.name && other.thickness_mm == use.thickness_mm;
    });
    if (known == kit.end()) {
      kit.push_back(use);
    } else {
      known->used += use.used;
    }
  }
}

struct LaidSheet {
  std::string name;
  double thickness_mm = 0;
  bool pad = false;
  int count = 0;
};

// Pads and sheets that are always there.
void count_laid(const PlanResult& plan, std::vector<LaidSheet>& laid) {
  for (const GapResult& gap : plan.gaps) {
    for (const GapSheet& sheet : gap.sheets) {
      if (sheet.origin == SheetOrigin::kit) {
        continue;
      }
      const auto known = std::ranges::find_if(laid, [&](const LaidSheet& other) {
        return other.name == sheet.name && other.thickness_mm == sheet.thickness_mm;
      });
      if (known == laid.end()) {
        laid.push_back(
            {sheet.name, sheet.thickness_mm, sheet.origin == SheetOrigin::pad, sheet.count});
      } else {
        known->count += sheet.count;
      }
    }
  }
}

template <class Count, class Into>
void of_each_plan(const Answer& answer, const Count& count, Into& into) {
  if (answer.rows.empty()) {
    count(answer.plan, into);
  }
  for (const Answer& row : answer.rows) {
    count(row.plan, into);
  }
}

std::vector<std::string> parts_of(const Answer& answer, const Figures& figures) {
  std::vector<KitUse> kit;
  std::vector<LaidSheet> laid;
  of_each_plan(answer, count_kit, kit);
  of_each_plan(answer, count_laid, laid);
  std::vector<std::string> parts = {fmt::format(
      "{} at {} charge", counted(answer.cell_count, "cell"), percent(answer.build_charge))};
  for (const KitUse& use : kit) {
    if (use.used > 0) {
      parts.push_back(fmt::format("{} of {}, each {} thick (of {} on hand)",
                                  counted(use.used, "shim"),
                                  use.name.empty() ? "no name" : printable(use.name),
                                  figures.thickness(use.thickness_mm), use.on_hand));
    }
  }
  for (const LaidSheet& sheet : laid) {
    parts.push_back(fmt::format("{} of {}, each {} thick",
                                counted(sheet.count, sheet.pad ? "pad" : "fixed sheet"),
                                printable(sheet.name), figures.thickness(sheet.thickness_mm)));
  }
  return parts;
}

std::string_view method_tool(const Answer& answer) {
  if (answer.clamp_frame) {
    return "two spanners, a rule or calipers long enough for the whole frame, washers";
  }
  switch (answer.insertion.method) {
    case BuildMethod::hand:
      return "a flat block as wide as the cell, to push through on the can's shoulders";
    case BuildMethod::end_wall_last:
      return "two clamps with flat boards, the loose wall's screws and their driver";
    case BuildMethod::clamp:
      return "two clamps and two flat plates as large as a cell's face";
    case BuildMethod::walls_spread:
      return "a spreader that holds the end walls square, and boards under its feet";
  }
  return "";
}

// Lines of today for the log of `check`, with what is known of each cell.
std::string log_lines(const Answer& answer, const PageHead& head) {
  std::string text = "date,cell,edge (mm),charge,signs\n";
  const auto add = [&](const Answer& row) {
    for (const CellResult& cell : row.cells) {
      text += fmt::format("{},{},{:.2f},{:.0f} %,\n", head.date, csv_field(printable(cell.id)),
                          cell.edge_mm, row.build_charge * 100);
    }
  };
  if (answer.rows.empty()) {
    add(answer);
  }
  for (const Answer& row : answer.rows) {
    add(row);
  }
  return text;
}

}  // namespace

std::vector<std::string> tools_of(const Answer& answer) {
  std::vector<std::string> tools = {std::string(method_tool(answer)),
                                    "caps or tape for every terminal, insulated tools",
                                    "calipers, one cell at a time with its caps on",
                                    "a straightedge and feeler gauges, for the walls' bow",
                                    "a voltmeter, and the bus bars with their screws",
                                    answer.clamp_frame ? "insulation for what the frame stands on"
                                                       : "insulation for floor and sides"};
  if (answer.insertion.slip_film) {
    tools.emplace_back("slip film for both faces of the last cell");
  }
  if (answer.terminal_torque_nmm) {
    tools.emplace_back("a torque wrench for the terminals");
  }
  return tools;
}

std::string bench_html(const Answer& answer, const Figures& figures) {
  std::vector<std::string> all = parts_of(answer, figures);
  const std::vector<std::string> tools = tools_of(answer);
  all.insert(all.end(), tools.begin(), tools.end());
  return ticks_html(all);
}

namespace {

std::vector<std::string> steps_of_text(const Answer& answer, const Figures& figures) {
  TextPage page = marked_page(answer, figures);
  write_steps(page);
  std::vector<std::string> steps;
  for (const TextBlock& block : page.lines.blocks()) {
    if (block.kind == TextBlock::Kind::words && block.emphasis == Emphasis::none) {
      steps.push_back(block.text.substr(block.text.find(' ') + 1));  // its number is the list's
    }
  }
  return steps;
}

// Volts after each bus bar, each to be ticked off when it was read.
std::string volts_html(const Answer& answer) {
  std::string out = "<ol class=\"volts\">\n";
  int number = 0;
  for (const double volts : answer.sense_lead_v) {
    out += fmt::format(
        "<li><label><input type=\"checkbox\"><span class=\"label\">{}</span><b>{:.2f} V</b></label>"
        "</li>\n",
        ++number, volts);
  }
  out += "</ol>\n";
  return answer.voltage_assumed ? out + "<p>* Volts of rested cells: none were read.</p>\n" : out;
}

}  // namespace

std::string steps_html(const Answer& answer, const Figures& figures) {
  const std::vector<std::string> steps = steps_of_text(answer, figures);
  std::string out = "<p>Rings and watch off, terminals covered.</p>\n<ol class=\"steps\">\n";
  for (const std::string& step : steps) {
    out += fmt::format("<li><label><input type=\"checkbox\"><span>{}</span></label></li>\n",
                       html_of(step));
  }
  out += "</ol>\n";
  out += answer.sense_lead_v.empty() ? "" : volts_html(answer);
  out += fmt::format("<p class=\"pushes\"><strong>It pushes back with {}</strong> as built.</p>\n",
                     html_of(figures.force(answer.insertion.wall_force_n)));
  if (answer.terminal_torque_nmm) {
    const double torque = *answer.terminal_torque_nmm;
    out +=
        fmt::format("<p>Terminals: tighten to {:.1f} N·m ({:.0f} in-lb), as the maker says.</p>\n",
                    in_unit(torque, *find_unit(Dimension::torque, "N.m")),
                    in_unit(torque, *find_unit(Dimension::torque, "lbf.in")));
  }
  return out;
}

std::string blanks_html(const Answer& answer, const Figures& figures) {
  const std::string mm(figures.length_unit());
  std::vector<std::string> names = {"date", "charge, %",
                                    fmt::format("temperature, {}", figures.temperature_unit())};
  if (answer.clamp_frame) {
    names.push_back("length over both plates, " + mm);
  } else {
    names.push_back("bow of each wall, empty, " + mm);
    names.push_back("bow of each wall, built, " + mm);
    names.push_back("bow of each wall, after three cycles, " + mm);
  }
  names.emplace_back("terminal torque, N·m");
  names.emplace_back("built by");
  std::string out = "<div class=\"blanks\">\n";
  for (const std::string& name : names) {
    out +=
        fmt::format("<label><span>{}</span> <input type=\"text\" autocomplete=\"off\"></label>\n",
                    html_of(name));
  }
  return out + "</div>\n";
}

std::string later_html(const Answer& answer, const PageHead& head) {
  std::vector<std::string> texts = {
      answer.clamp_frame
          ? "After three cycles read the length over the plates, or the springs, and ask what the "
            "row then sees: stackfit gauge."
          : "After three cycles read the walls' bow at the same charge, and ask what the row then "
            "sees: stackfit gauge, with --bow and --empty-bow.",
      "Every three months, and at once where a cell has grown: measure again at the same charge, "
      "in "
      "the same way. A cell that is warm, leaks or smells is not measured: it goes outdoors, away "
      "from anything that burns.",
      "Keep these lines in a log; stackfit check with --log tells growth and a date."};
  if (answer.plan.life_span) {
    texts.push_back(
        fmt::format("By the figures above it stays inside until {} of capacity is lost{}; then "
                    "sheets come out.",
                    life_text(*answer.plan.life_span), star(rests_on(answer, Assumed::growth))));
  }
  return list_html(texts) +
         fmt::format(
             "<p>Lines of {} for the log:</p>\n"
             "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Lines for the "
             "log\"><pre class=\"copy\">{}</pre></div>\n",
             html_of(head.date), lines_html(log_lines(answer, head)));
}

}  // namespace stackfit::cli
