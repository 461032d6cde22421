#include <fmt/format.h>

#include <chrono>
#include <memory>
#include <nlohmann/json.hpp>

#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "dimension/id_card_scale.h"
#include "photo/photo.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;

struct ScaleOptions {
  std::string photo;
  bool json = false;
};

/// What --sheet-scale takes; one uncertainty serves both directions, so the larger is given.
std::string sheet_scale_text(const CheckedScale& scale) {
  return fmt::format("{:.4f},{:.4f},{:.4f}", scale.x, scale.y,
                     std::max(scale.x_uncertainty, scale.y_uncertainty));
}

Json scale_json(const IdCardScale& found) {
  Json json = {{"sheet", "ground"},  {"scale", nullptr},        {"sheet_scale", nullptr},
               {"id_card", nullptr}, {"budget", Json::array()}, {"checks", Json::array()}};
  if (found.scale) {
    json["scale"] = {{"x", found.scale->x},
                     {"y", found.scale->y},
                     {"x_standard_uncertainty", found.scale->x_uncertainty},
                     {"y_standard_uncertainty", found.scale->y_uncertainty}};
    json["sheet_scale"] = sheet_scale_text(*found.scale);
    Json outline = Json::array();
    for (const Point_px& p : found.outline_px) outline.push_back({p.x, p.y});
    json["id_card"] = {{"angle_deg", found.angle_deg},
                       {"edge_residual_mm", found.edge_residual_mm},
                       {"outline_px", std::move(outline)}};
  }
  for (const ScaleBudgetLine& line : found.budget)
    json["budget"].push_back({{"source", line.source}, {"x", line.x}, {"y", line.y}});
  for (const Check& check : found.checks)
    json["checks"].push_back({{"id", check.id},
                              {"severity", severity_word(check.severity)},
                              {"message", check.message}});
  return json;
}

int find_scale(const ScaleOptions& options) {
  const auto start = std::chrono::steady_clock::now();
  PhotoLoad load = load_photo(options.photo);
  IdCardScale found;
  if (load.photo) found = scale_from_id_card(load.photo->luma, load.photo->tags);
  found.checks.insert(found.checks.begin(), load.checks.begin(), load.checks.end());
  found.checks.push_back({"card_number", Severity::info,
                          "Never photograph a bank card's number: use a blank or loyalty card."});
  const std::chrono::duration<double, std::milli> total = std::chrono::steady_clock::now() - start;

  if (options.json) {
    Json json = scale_json(found);
    json["timing_ms"] = {{"decode", load.photo ? load.photo->decode_ms : 0.0},
                         {"total", total.count()}};
    fmt::print("{}\n", json.dump(1, ' ', false, Json::error_handler_t::replace));
  } else if (found.scale) {
    fmt::print(
        "x: {:.4f} of nominal, standard uncertainty {:.4f}\n"
        "y: {:.4f} of nominal, standard uncertainty {:.4f}\n"
        "For measuring with this sheet: --sheet-scale {}\n",
        found.scale->x, found.scale->x_uncertainty, found.scale->y, found.scale->y_uncertainty,
        sheet_scale_text(*found.scale));
  }
  for (const Check& check : found.checks)
    if (!options.json || check.severity == Severity::stop)
      fmt::print(stderr, "{}: {}\n", severity_word(check.severity), check.message);
  return found.scale ? kDone : kInputUnusable;
}

}  // namespace

void add_scale_command(CLI::App& app, Work& work) {
  const auto options = std::make_shared<ScaleOptions>();
  CLI::App* command = app.add_subcommand(
      "scale",
      "Find a ground sheet's print scale from a photo of a card of bank-card size lying on it.\n"
      "Lay a light-coloured blank or loyalty card flat on the printed ground sheet, its sides\n"
      "along the squares and squares all round it, and take the photo from straight above.\n"
      "Never photograph a bank card's number.\n"
      "Example: scantling scale --json sheet.jpg");
  command->add_option("photo", options->photo, "The photo")->required()->type_name("PHOTO");
  command->add_flag("--json", options->json, "One JSON object on standard output");
  command->callback([options, &work] { work = [options] { return find_scale(*options); }; });
}

}  // namespace scantling
