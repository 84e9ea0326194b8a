// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/page_template.hpp"

#include <stdexcept>

#include "cli/page_files.hpp"

namespace stackfit::cli {
namespace {

/// Notes the names that are asked for and not there.
class StrictContext : public kainjow::mustache::context<std::string> {
 public:
  using context::context;

  const kainjow::mustache::data* get(const std::string& name) const override {
    const kainjow::mustache::data* found = context::get(name);
    if (found == nullptr) {
      missing_ += (missing_.empty() ? "" : ", ") + name;
    }
    return found;
  }
  [[nodiscard]] const std::string& missing() const { return missing_; }

 private:
  mutable std::string missing_;
};

}  // namespace

std::string_view page_file(std::string_view name) {
  for (const PageFile& file : page_files()) {
    if (file.name == name) {
      return file.text;
    }
  }
  throw std::logic_error("no file of the page is named " + std::string(name));
}

std::string filled(std::string_view template_name, const PageData& data) {
  kainjow::mustache::mustache sheet{std::string(page_file(template_name))};
  if (!sheet.is_valid()) {
    throw std::logic_error("template " + std::string(template_name) + ": " + sheet.error_message());
  }
  StrictContext context(&data);
  std::string text = sheet.render(context);
  if (!context.missing().empty()) {
    throw std::logic_error("template " + std::string(template_name) + " lacks " +
                           context.missing());
  }
  return text;
}

}  // namespace stackfit::cli
