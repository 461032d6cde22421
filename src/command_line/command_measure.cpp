#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>

#include "base/save_file.h"
#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/measure_options.h"
#include "command_line/measure_table.h"
#include "command_line/monte_carlo_text.h"
#include "dimension/analysis.h"
#include "dimension/lip_sizes.h"
#include "dimension/measurement_json.h"
#include "photo/photo.h"
#include "report/overlay.h"
#include "verdict/cautions.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;

struct MeasureWork {
  MeasureArguments arguments;
  MeasureOptions options;
  bool json = false;
  bool monte_carlo = false;
  std::optional<std::string> overlay;
  std::vector<std::string> photos;
};

std::string json_text(const Json& json) {
  // A file name need not be UTF-8: what isn't is replaced, not a reason to fail.
  return json.dump(1, ' ', false, Json::error_handler_t::replace);
}

void print_checks(const std::string& photo, const Measurement& measurement) {
  for (const Check& check : measurement.checks)
    fmt::print(stderr, "scantling: {}: {}: {}\n", photo, severity_word(check.severity),
               check.message);
}

/// @return whether the picture was written; the reason why not goes to standard error.
bool write_overlay(const std::string& photo, const std::string& file, const Analysis& analysis) {
  const cv::Mat colour = load_colour(photo);
  if (colour.empty()) {
    fmt::print(stderr, "scantling: {}: no overlay, as the photo can't be shown.\n", photo);
    return true;  // the checks say why, and the exit status follows them
  }
  try {
    save_file(file, overlay_png(colour, colour.cols, analysis.measurement(), analysis.corners()));
    return true;
  } catch (const UnwritableFile& fault) {
    fmt::print(stderr, "scantling: {}\n", fault.what());
    return false;
  }
}

/// Several photos of one lip: each by itself, and height and run solved from all of them.
int run_lips(const MeasureWork& work) {
  std::vector<Analysis> analyses;
  for (const std::string& photo : work.photos)
    analyses.push_back(Analysis::run(photo, work.options));
  analyses = Analysis::agreed_on_lip(std::move(analyses));
  std::vector<Measurement> each;
  for (const Analysis& analysis : analyses) each.push_back(analysis.measurement());
  const Measurement joint = solve_lip_together(each);
  Json list = Json::array();
  for (std::size_t i = 0; i < each.size(); ++i) {
    if (work.json) {
      Json json = {{"photo", work.photos[i]}};
      json.update(measurement_for_printing(each[i]));
      list.push_back(std::move(json));
    } else {
      fmt::print("{}\n", measure_table(work.photos[i], each[i]));
    }
    std::fflush(stdout);
    print_checks(work.photos[i], each[i]);
  }
  print_checks("all photos", joint);
  std::vector<DimensionCheck> drawn;
  if (work.monte_carlo) drawn = check_by_monte_carlo(joint);
  if (work.json) {
    Json json = measurement_for_printing(joint);
    for (std::size_t i = 0; i < drawn.size(); ++i)
      json["dimensions"][i]["monte_carlo"] = monte_carlo_json(drawn[i]);
    json["photos"] = std::move(list);
    fmt::print("{}\n", json_text(json));
  } else {
    fmt::print("{}\n", measure_table("all photos of this lip together", joint));
    if (!drawn.empty()) fmt::print("{}\n", monte_carlo_table(drawn));
    fmt::print("{}\n", beyond_thickness());
  }
  return joint.usable() ? kDone : kInputUnusable;
}

int run_measure(const MeasureWork& work) {
  if (work.options.view == View::lip && work.photos.size() > 1) return run_lips(work);
  const bool several = work.photos.size() > 1;
  bool all_usable = true;
  bool overlay_written = true;
  Json list = Json::array();
  for (const std::string& photo : work.photos) {
    const Analysis analysis = Analysis::run(photo, work.options);
    const Measurement& measurement = analysis.measurement();
    all_usable = all_usable && measurement.usable();
    std::vector<DimensionCheck> drawn;
    if (work.monte_carlo) drawn = check_by_monte_carlo(measurement);
    if (work.json) {
      Json json = several ? Json{{"photo", photo}} : Json::object();
      json.update(measurement_for_printing(measurement));
      for (std::size_t i = 0; i < drawn.size(); ++i)
        json["dimensions"][i]["monte_carlo"] = monte_carlo_json(drawn[i]);
      list.push_back(std::move(json));
    } else {
      fmt::print("{}\n", measure_table(photo, measurement));
      if (!drawn.empty()) fmt::print("{}\n", monte_carlo_table(drawn));
    }
    std::fflush(stdout);
    print_checks(photo, measurement);
    if (work.overlay) overlay_written = write_overlay(photo, *work.overlay, analysis);
  }
  if (work.json)
    fmt::print("{}\n", json_text(several ? Json{{"photos", std::move(list)}} : list.at(0)));
  else
    fmt::print("{}\n", beyond_thickness());
  if (!overlay_written) return kWrongUsage;
  return all_usable ? kDone : kInputUnusable;
}

}  // namespace

void add_measure_command(CLI::App& app, Work& work) {
  CLI::App* command = app.add_subcommand(
      "measure",
      "Measures a part on photos taken with the printed card: thickness in mm with its "
      "uncertainty.\nExample: scantling measure --view pad --sheet-scale 0.998,1.001 pad.jpg");
  const auto wish = std::make_shared<MeasureWork>();
  add_measure_arguments(*command, wish->arguments);
  command->add_flag("--json", wish->json, "Print one JSON object");
  command->add_flag("--monte-carlo", wish->monte_carlo,
                    "Set each size's Monte Carlo interval beside its first-order one");
  command
      ->add_option("--overlay", wish->overlay,
                   "Write the photo with the measured edges drawn over it; for one photo")
      ->type_name("OUT.png");
  command->add_option("PHOTO", wish->photos, "Photos as the phone stored them")
      ->type_name("FILE")
      ->required();
  command->callback([wish, &work] {
    wish->options = measure_options_from(wish->arguments);
    if (wish->overlay && wish->photos.size() > 1)
      throw CLI::ValidationError("--overlay", "takes one photo: measure the photos one by one");
    if (wish->overlay == "-" || wish->overlay == "")
      throw CLI::ValidationError("--overlay", "needs the name of a file, such as pad-edges.png");
    work = [wish] { return run_measure(*wish); };
  });
}

}  // namespace scantling
