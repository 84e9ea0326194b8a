// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <ostream>
#include <stdexcept>
#include <utility>

#include "cli/answer_words.hpp"
#include "cli/cautions.hpp"
#include "cli/days.hpp"
#include "cli/page_files.hpp"
#include "cli/page_html.hpp"
#include "cli/page_parts.hpp"
#include "cli/page_template.hpp"
#include "cli/page_text.hpp"
#include "cli/view_json.hpp"
#include "cli/whole_file.hpp"
#include "cli/words_chance.hpp"

namespace stackfit::cli {
namespace {

std::vector<PageFact> facts_of(const Answer& answer, const Figures& figures) {
  const std::string cells = answer.parallel > 1
                                ? fmt::format("{}, {} in series, {} in parallel", answer.cell_count,
                                              answer.series, answer.parallel)
                                : fmt::format("{} in series", answer.cell_count);
  return {{"Cells", cells},
          {"Built at", fmt::format("{}, {}", percent(answer.build_charge),
                                   figures.temperature(answer.build_temperature_c))},
          band_fact(answer.band, figures),
          use_fact(answer.use_charge, answer.use_temperature_c, figures)};
}

std::string_view tone_name(PageTone tone) {
  switch (tone) {
    case PageTone::inside:
      return "inside";
    case PageTone::doubtful:
      return "doubtful";
    case PageTone::warning:
      return "warning";
    case PageTone::stop:
      return "stop";
  }
  return "";
}

std::string stop_html(const PageSheet& sheet) {
  std::string out = sheet.stopped.empty()
                        ? ""
                        : fmt::format("<p><strong>{}</strong></p>\n", html_of(sheet.stopped));
  for (const char* line : cautions::stop_lines) {
    out += fmt::format("<p>{}</p>\n", html_of(line));
  }
  return out;
}

PageList fact_list(const PageSheet& sheet, const std::string& file, const PageHead& head) {
  PageList list;
  const auto add = [&](const std::string& name, const std::string& text) {
    PageData item;
    item.set("name", name);
    item.set("value", html_of(text));
    list.push_back(std::move(item));
  };
  for (const PageFact& fact : sheet.facts) {
    add(fact.name, fact.text);
  }
  add("File", file);
  add("Printed", head.date);
  return list;
}

PageList section_list(const PageSheet& sheet) {
  PageList list;
  for (const PageSection& section : sheet.sections) {
    PageData item;
    item.set("id", section.id);
    item.set("title", section.title);
    item.set("html", section.html);
    item.set("class", section.screen_only ? section.id + " screen-only script-only" : "");
    list.push_back(std::move(item));
  }
  return list;
}

// All files of a kind, in the order of their names.
std::string texts_ending(std::string_view ending) {
  std::string text;
  for (const PageFile& file : page_files()) {
    if (file.name.ends_with(ending)) {
      text += file.text;
    }
  }
  return text;
}

PageTone tone_of(const Answer& answer) {
  if (answer.verdict == Verdict::stop) {
    return PageTone::stop;
  }
  if (!answer.inside()) {
    return PageTone::warning;
  }
  const bool doubtful = answer.chance && likelier_not(answer.chance->plan.chance);
  return doubtful ? PageTone::doubtful : PageTone::inside;
}

std::string verdict_html(const Answer& answer, const Figures& figures) {
  TextPage page = marked_page(answer, figures);
  write_verdict(page);
  std::string out = lead_html(without_word(page.lines.blocks(), plain(answer.verdict)));
  TextPage more = marked_page(answer, figures);
  more.all = true;  // a page has the room
  if (!answer.inside()) {
    write_failure(more);
  }
  write_warnings(more);
  return out + blocks_html(more.lines.blocks());
}

std::string closing_html(const Answer& answer, const Figures& figures) {
  TextPage page = marked_page(answer, figures);
  page.all = true;
  if (answer.inside()) {
    write_remedies(page);
  }
  write_looser(page);
  return blocks_html(page.lines.blocks());
}

// Nothing that could be taken for leave to press.
void add_stopped(PageSheet& sheet, const Answer& answer, const Figures& figures) {
  TextPage page = marked_page(answer, figures);
  write_stop(page);
  sheet.stopped = page.lines.blocks().front().text;
  sheet.word = "NO PLAN";
  sheet.verdict_html = "<p class=\"lead\">Set the cells named above aside.</p>\n";
  add_section(sheet, {"cells", "The cells", cells_html(answer, figures)});
}

std::string row_title(const Answer& answer) {
  if (answer.question == Question::pressure) {
    return "The row as placed";
  }
  return answer.inside() ? "Where the sheets go" : "The nearest to it: not to be built";
}

void add_plan(PageSheet& sheet, const Answer& answer, const PageHead& head,
              const Figures& figures) {
  const bool build = answer.question == Question::pick && answer.inside();
  if (build) {
    add_section(sheet, {"bench", "Lay out before you begin", bench_html(answer, figures)});
  }
  if (answer.has_plan) {
    add_section(sheet, {"row", row_title(answer), row_html(answer, figures)});
  }
  if (build) {
    add_section(sheet, {"steps", "Put it together", steps_html(answer, figures)});
    add_section(sheet, {"blanks", "Write down", blanks_html(answer, figures)});
  }
  if (answer.has_plan) {
    add_section(sheet, {"pressure", "Face pressure", pressure_html(answer, figures)});
    add_section(sheet, {"charge", "Pressure as it is charged", charge_html(answer, figures)});
    add_section(sheet, {"face", "The face pressed most, and who gives", worst_face_html(answer)});
  }
  add_section(sheet, {"sure", "How sure", sure_html(answer, figures)});
  add_section(sheet, {"play", "Try it", play_html(answer), true});
  add_section(sheet, {"instead", "Instead", closing_html(answer, figures)});
  add_section(sheet, {"cells", "The cells", cells_html(answer, figures)});
  add_section(sheet, {"assumed", "What is assumed", assumed_html(assumed_lines(answer, figures))});
  if (build) {
    add_section(sheet, {"later", "The next check", later_html(answer, head)});
  }
}

}  // namespace

namespace {

// What a terminal asks for with an option stands on the page.
void take_out_option(std::string& text) {
  constexpr std::string_view long_form = " (* is assumed: --assumed)";
  constexpr std::string_view option = ": --assumed";
  if (const std::size_t at = text.find(long_form); at != std::string::npos) {
    text.replace(at, long_form.size(), " A * marks what is assumed, not the maker's.");
  } else if (const std::size_t end = text.find(option); end != std::string::npos) {
    text.replace(end, option.size(), ".");
  }
}

// `NOT BY HAND - the last cell ...`: what decides first, and strong.
std::string sentence_html(std::string_view text) {
  const std::size_t dash = text.find(" - ");
  const bool shouted = dash != std::string_view::npos &&
                       std::none_of(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(dash),
                                    [](unsigned char c) { return std::islower(c) != 0; });
  return shouted ? fmt::format("<strong>{}</strong>{}", html_of(text.substr(0, dash)),
                               html_of(text.substr(dash)))
                 : html_of(text);
}

}  // namespace

std::vector<TextBlock> without_word(std::vector<TextBlock> blocks, std::string_view word) {
  if (!blocks.empty() && blocks.front().text.starts_with(word)) {
    std::string& text = blocks.front().text;
    const std::size_t from = text.find_first_not_of(":-., ", word.size());
    text.erase(0, std::min(from, text.size()));
  }
  for (TextBlock& block : blocks) {
    take_out_option(block.text);
  }
  return blocks;
}

std::string lead_html(std::span<const TextBlock> blocks) {
  std::string out;
  for (const TextBlock& block : blocks) {
    if (!block.text.empty()) {
      out += fmt::format("<p class=\"lead\">{}</p>\n", sentence_html(block.text));
    }
  }
  return out;
}

PageFact band_fact(const BandResult& band, const Figures& figures) {
  return {"Your band", fmt::format("{}-{}{}", figures.pressure_number(band.low_mpa),
                                   figures.pressure(band.high_mpa), star(band.assumed))};
}

PageFact use_fact(const Span& charge, const Span& temperature_c, const Figures& figures) {
  return {"Used at",
          fmt::format("{}, {}-{}", percent(charge), figures.temperature_number(temperature_c.low),
                      figures.temperature(temperature_c.high))};
}

TextPage marked_page(const Answer& answer, const Figures& figures) {
  return {answer, figures, false, TextLines(false)};
}

void add_section(PageSheet& sheet, PageSection section) {
  if (!section.html.empty()) {
    sheet.sections.push_back(std::move(section));
  }
}

PageHead page_head(const BuildInput& input, const BuildTaken& taken) {
  return {file_name(input), day_text(day_today()), taken.units};
}

int write_page(const std::string& path, const std::string& html,
               const std::vector<std::string>& inputs, Console& console) {
  try {
    write_whole_file(path, html, inputs);
  } catch (const std::runtime_error& error) {
    console.err << "stackfit: " << error.what() << '\n';
    return exit_failed;
  }
  return 0;
}

std::string sheet_html(const PageSheet& sheet, const PageHead& head) {
  PageData data;
  const std::string file = head.file.empty() ? "described on the command line" : head.file;
  data.set("command", sheet.command);
  data.set("title", sheet.title.empty() ? "(no title)" : printable(sheet.title));
  data.set("facts", PageData(fact_list(sheet, printable(file), head)));
  data.set("file", printable(file));
  data.set("date", head.date);
  data.set("tone", std::string(tone_name(sheet.tone)));
  data.set("verdict",
           fmt::format("<p class=\"word\">{}</p>\n{}", html_of(sheet.word), sheet.verdict_html));
  data.set("stop", stop_html(sheet));
  data.set("overruled", cautions::overruled);
  data.set("sections", PageData(section_list(sheet)));
  data.set("style", texts_ending(".css"));
  data.set("script", texts_ending(".js"));
  data.set("answer", json_in_script(sheet.answer_json));
  data.set("has_play", !sheet.play_json.empty());
  data.set("play", json_in_script(sheet.play_json));
  const auto unit = [&](Dimension dimension) { return std::string(head.units.of(dimension).name); };
  data.set("unit_pressure", unit(Dimension::pressure));
  data.set("unit_force", unit(Dimension::force));
  data.set("unit_length", unit(Dimension::length));
  data.set("unit_temperature", unit(Dimension::temperature));
  return filled("sheet.html", data);
}

std::string page_of(const Answer& answer, const PageHead& head) {
  const Figures figures(head.units, Marks::in_text);
  PageSheet sheet;
  sheet.command = code(answer.question);
  sheet.title = answer.title;
  sheet.word = plain(answer.verdict);
  sheet.facts = facts_of(answer, figures);
  sheet.tone = tone_of(answer);
  if (answer.verdict == Verdict::stop) {
    add_stopped(sheet, answer, figures);
  } else {
    sheet.verdict_html = verdict_html(answer, figures);
    add_plan(sheet, answer, head, figures);
    sheet.play_json = play_json(answer);
  }
  add_section(sheet, {"measuring", "Where to measure", measuring_html()});
  add_section(sheet, {"cautions", "Cautions in full", cautions_html()});
  sheet.answer_json = json_of(answer).dump();
  return sheet_html(sheet, head);
}

}  // namespace stackfit::cli
