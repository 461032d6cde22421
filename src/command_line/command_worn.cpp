#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>

#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/measure_options.h"
#include "command_line/measure_table.h"
#include "command_line/monte_carlo_text.h"
#include "dimension/analysis.h"
#include "dimension/lip_sizes.h"
#include "dimension/measurement_json.h"
#include "dimension/worn.h"
#include "verdict/cautions.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;

struct WornWork {
  MeasureArguments arguments;
  MeasureOptions options;
  bool json = false;
  bool monte_carlo = false;
  std::string rim;
  std::vector<std::string> lip_out, lip_in;
};

void print_checks(const std::string& owner, const std::vector<Check>& checks) {
  for (const Check& check : checks)
    fmt::print(stderr, "scantling: {}: {}: {}\n", owner, severity_word(check.severity),
               check.message);
}

std::optional<Measurement> measure_lip(const std::vector<std::string>& photos,
                                       MeasureOptions options) {
  if (photos.empty()) return std::nullopt;
  options.view = View::lip;
  std::vector<Analysis> analyses;
  for (const std::string& photo : photos) analyses.push_back(Analysis::run(photo, options));
  analyses = Analysis::agreed_on_lip(std::move(analyses));
  std::vector<Measurement> each;
  for (const Analysis& analysis : analyses) each.push_back(analysis.measurement());
  return solve_lip_together(each);
}

Json checks_json(const std::vector<Check>& checks) {
  Json list = Json::array();
  for (const Check& c : checks)
    list.push_back({{"id", c.id}, {"severity", severity_word(c.severity)}, {"message", c.message}});
  return list;
}

int run_worn(const WornWork& work) {
  MeasureOptions options = work.options;
  options.view = View::rim;
  const Measurement rim = Analysis::run(work.rim, options).measurement();
  const std::optional<Measurement> out = measure_lip(work.lip_out, work.options);
  const std::optional<Measurement> in = measure_lip(work.lip_in, work.options);
  const WornThickness worn = worn_thickness(rim, out ? &*out : nullptr, in ? &*in : nullptr);

  // The sizes as one table; a Measurement without edges carries them.
  Measurement table;
  table.view = View::rim;
  for (const auto& part : {worn.worn, worn.rim, worn.lip_out, worn.lip_in})
    if (part) table.dimensions.push_back(*part);
  table.checks = worn.checks;
  print_checks(work.rim, rim.checks);
  if (out) print_checks("outboard lip", out->checks);
  if (in) print_checks("inboard lip", in->checks);
  print_checks("worn thickness", worn.checks);
  std::vector<DimensionCheck> drawn;
  if (work.monte_carlo) drawn = check_by_monte_carlo(table);
  if (work.json) {
    Json sizes = measurement_for_printing(table);
    for (std::size_t i = 0; i < drawn.size(); ++i)
      sizes["dimensions"][i]["monte_carlo"] = monte_carlo_json(drawn[i]);
    Json json = {{"view", "worn"},
                 {"dimensions", sizes.at("dimensions")},
                 {"one_face_assumed", worn.one_face_assumed},
                 {"checks", checks_json(worn.checks)},
                 {"rim", measurement_for_printing(rim)},
                 {"lip_out", out ? measurement_for_printing(*out) : Json(nullptr)},
                 {"lip_in", in ? measurement_for_printing(*in) : Json(nullptr)}};
    fmt::print("{}\n", json.dump(1, ' ', false, Json::error_handler_t::replace));
  } else {
    fmt::print("{}\n", measure_table("disc: rim less the lips", table));
    if (!drawn.empty()) fmt::print("{}\n", monte_carlo_table(drawn));
    fmt::print("{}\n", beyond_thickness());
  }
  return worn.worn ? kDone : kInputUnusable;
}

}  // namespace

void add_worn_command(CLI::App& app, Work& work) {
  CLI::App* command = app.add_subcommand(
      "worn",
      "A disc's worn thickness inside its lips: the rim's thickness less both lips' heights.\n"
      "Example: scantling worn --sheet-scale 0.998,1.001 --rim rim.jpg --lip-out a.jpg b.jpg "
      "--lip-in c.jpg d.jpg");
  const auto wish = std::make_shared<WornWork>();
  command->add_option("--rim", wish->rim, "The rim through the notch card")
      ->type_name("PHOTO")
      ->required();
  command->add_option("--lip-out", wish->lip_out, "The outboard face's lip over the track card")
      ->type_name("PHOTO...");
  command->add_option("--lip-in", wish->lip_in, "The inboard face's lip over the track card")
      ->type_name("PHOTO...");
  add_common_arguments(*command, wish->arguments);
  command->add_flag("--monte-carlo", wish->monte_carlo,
                    "Draw every input of the sizes as well (JCGM 101) and say whether the "
                    "first-order intervals hold");
  command->add_flag("--json", wish->json, "Print one JSON object");
  command->callback([wish, &work] {
    if (wish->lip_out.empty() && wish->lip_in.empty())
      throw CLI::ValidationError("--lip-out",
                                 "give at least one face's lip: the rim's thickness alone is not "
                                 "the worn thickness");
    wish->arguments.view = "rim";
    wish->options = measure_options_from(wish->arguments);
    work = [wish] { return run_worn(*wish); };
  });
}

}  // namespace scantling
