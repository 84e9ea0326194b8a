// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/validate_schema.hpp"

#include <set>
#include <string>

// With sanitizers on, g++ 12 takes parts of std::regex, which valijson includes, for uninitialised.
#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
#endif
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>
#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic pop
#endif

#include "cli/build_schema.hpp"
#include "cli/explain_schema.hpp"

namespace stackfit::cli {
namespace {

using Adapter = valijson::adapters::NlohmannJsonAdapter;

// The validator names the root "<root>" and each step "[key]".
std::string pointer_of(const std::vector<std::string>& context) {
  std::string pointer;
  for (const std::string& step : context) {
    if (step.starts_with('[') && step.ends_with(']')) {
      pointer = child_pointer(pointer, std::string_view(step).substr(1, step.size() - 2));
    }
  }
  return pointer;
}

struct Complaint {
  std::string pointer;
  std::string words;
};

// In the order they were raised; the validator repeats a complaint for everything around it.
std::vector<Complaint> complaints_of(const nlohmann::json& schema_text,
                                     const nlohmann::json& document) {
  valijson::Schema schema;
  valijson::SchemaParser parser;
  parser.populateSchema(Adapter(schema_text), schema);
  valijson::Validator validator(valijson::Validator::kStrongTypes);
  valijson::ValidationResults results;
  std::vector<Complaint> complaints;
  if (validator.validate(schema, Adapter(document), &results)) return complaints;
  std::set<std::string> seen;
  for (const auto& error : results) {
    std::string pointer = pointer_of(error.context);
    if (seen.insert(pointer).second) complaints.push_back({std::move(pointer), error.description});
  }
  return complaints;
}

// Neither box nor frame, nor what is known of the kind of cell; what is said is still checked.
void ask_for_cells_alone(nlohmann::ordered_json& schema) {
  schema.erase("oneOf");
  schema["required"] = {"stackfit"};
  schema["definitions"]["cell"].erase("required");
}

// What is to be made has no length yet, and need not be settled to be a box or a frame.
void ask_for_no_length(nlohmann::ordered_json& schema, const nlohmann::ordered_json& document) {
  schema["definitions"]["box"].erase("required");
  schema["definitions"]["inner"].erase("required");
  schema["definitions"]["rods"].erase("required");
  if (!document.contains("box") && !document.contains("frame")) schema.erase("oneOf");
}

}  // namespace

std::vector<Problem> validate_schema(const nlohmann::ordered_json& document, const Places& places,
                                     BuildNeeds needs) {
  auto schema = nlohmann::ordered_json::parse(build_schema_text);
  if (needs == BuildNeeds::cells) ask_for_cells_alone(schema);
  if (needs == BuildNeeds::to_order) ask_for_no_length(schema, document);
  const std::vector<Complaint> complaints =
      complaints_of(nlohmann::json(schema), nlohmann::json(document));
  std::vector<Problem> problems;
  for (const Complaint& complaint : complaints) {
    for (Problem& problem : explain(schema, document, complaint.pointer, places)) {
      problems.push_back(std::move(problem));
    }
  }
  // What the schema refuses is refused, even where no plain words were found for it.
  if (problems.empty() && !complaints.empty()) {
    problems.push_back({places.value(complaints.front().pointer), complaints.front().words,
                        "what build.schema.json describes", ""});
  }
  return problems;
}

}  // namespace stackfit::cli
