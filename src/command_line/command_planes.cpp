#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>

#include "camera/camera_shelf.h"
#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/measure_options.h"
#include "command_line/measure_table.h"
#include "command_line/monte_carlo_text.h"
#include "command_line/number_text.h"
#include "planes/plane_session.h"
#include "planes/planes_json.h"
#include "verdict/cautions.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;

struct PlanesWork {
  std::string view;
  std::optional<std::string> sheet_scale, card_scale, card_thickness, camera;
  PlanesOptions options;
  std::shared_ptr<const CameraShelf> cameras;
  bool json = false, monte_carlo = false;
  std::vector<std::string> photos;
};

[[noreturn]] void refuse(const char* option, const std::string& why) {
  throw CLI::ValidationError(option, why);
}

CardThickness card_thickness_from(const std::string& text) {
  const std::vector<double> numbers = numbers_in("--card-thickness", text, ',', 1, 2);
  // A calliper that shows 0.02 mm, evenly spread, is 0.012 mm.
  CardThickness thickness{numbers[0], 0.012, true};
  if (numbers.size() == 2) thickness.standard_uncertainty_mm = numbers[1];
  if (!(thickness.thickness_mm >= 0.03 && thickness.thickness_mm <= 10))
    refuse("--card-thickness",
           fmt::format("'{}': give the cut-out card's thickness with all that is glued to it, in "
                       "mm, such as 0.25",
                       text));
  if (!(thickness.standard_uncertainty_mm >= 0 && thickness.standard_uncertainty_mm <= 1))
    refuse("--card-thickness", fmt::format("'{}': the uncertainty lies between 0 and 1 mm", text));
  return thickness;
}

PlanesOptions planes_options_from(const PlanesWork& wish) {
  PlanesOptions options;
  const auto view = planes_view_from_word(wish.view);
  if (!view) refuse("--view", fmt::format("'{}' is no view: write faces or pile", wish.view));
  options.view = *view;
  if (wish.sheet_scale) options.sheet_scale = sheet_scale_from("--sheet-scale", *wish.sheet_scale);
  if (wish.card_scale) options.card_scale = sheet_scale_from("--card-scale", *wish.card_scale);
  if (wish.card_thickness) options.card_thickness = card_thickness_from(*wish.card_thickness);
  return options;
}

std::string planes_text(const PlanesResult& result) {
  Measurement shared;
  shared.dimensions = result.dimensions;
  std::string text = measure_table(
      fmt::format("{} view, {} photos", planes_view_word(result.view), result.photos.size()),
      shared);
  if (result.angle_deg)
    text += fmt::format("{}: {:.2f}° ± {:.2f}° (one sigma)\n",
                        result.view == PlanesView::faces ? "Angle between the faces"
                                                         : "Tilt of the card to the sheet",
                        *result.angle_deg, result.angle_u_deg);
  if (result.fit) text += fmt::format("Fit: {}\n", result.fit->words);
  for (const SolvedPhoto& photo : result.photos) {
    text += fmt::format("  {}: ", photo.name);
    for (std::size_t i = 0; i < photo.shows.size(); ++i)
      text += fmt::format("{}{}", i ? ", " : "", piece_words(photo.shows[i]));
    if (photo.solved)
      text += fmt::format("; {} corners to {:.2f} px", photo.corners.size(), photo.residual_px);
    else
      text += photo.shows.empty() ? "nothing found" : "; not used";
    text += "\n";
  }
  if (result.next_photo)
    text += fmt::format("One more photo would help most so: {}\n", result.next_photo->words);
  return text;
}

int run_planes(const PlanesWork& work) {
  PlaneSession session(work.options);
  std::vector<PlanePhoto> photos;
  std::map<std::string, int> names;
  for (const std::string& photo : work.photos) {
    photos.push_back(sight_pieces(std::filesystem::path(photo), work.cameras.get()));
    ++names[photos.back().name];
  }
  // Photos of one name in two folders are told apart by their paths.
  for (std::size_t i = 0; i < photos.size(); ++i)
    if (names[photos[i].name] > 1) photos[i].name = work.photos[i];
  session.add(std::move(photos));
  const PlanesResult& result = session.result();
  std::vector<DimensionCheck> drawn;
  if (work.monte_carlo) {
    Measurement sizes;
    sizes.dimensions = result.dimensions;
    drawn = check_by_monte_carlo(sizes);
  }
  if (work.json) {
    Json json = planes_to_json(result);
    for (std::size_t i = 0; i < drawn.size(); ++i)
      json["dimensions"][i]["monte_carlo"] = monte_carlo_json(drawn[i]);
    fmt::print("{}\n", json.dump(1, ' ', false, Json::error_handler_t::replace));
  } else {
    fmt::print("{}\n", planes_text(result));
    if (!drawn.empty()) fmt::print("{}\n", monte_carlo_table(drawn));
    fmt::print("{}\n", beyond_thickness());
  }
  std::fflush(stdout);
  for (const Check& check : result.checks)
    fmt::print(stderr, "scantling: {}: {}\n", severity_word(check.severity), check.message);
  return result.usable() ? kDone : kInputUnusable;
}

}  // namespace

void add_planes_command(CLI::App& app, Work& work) {
  CLI::App* command = app.add_subcommand(
      "planes",
      "Measures a thickness between planes instead of edges, from photos that show the printed "
      "ground sheet and a track card.\n"
      "faces: the disc stands upright on the sheet and does not move; card A on its outboard worn "
      "track, card B on its inboard one; two or more photos of each side.\n"
      "pile: the pad lies on the sheet, friction side up, card A on it, or A and B at its ends; "
      "two or more photos from different sides.\n"
      "Example: scantling planes --view faces --sheet-scale 0.998,1.001 --card-thickness 0.26 "
      "out1.jpg out2.jpg in1.jpg in2.jpg out3.jpg");
  const auto wish = std::make_shared<PlanesWork>();
  command->add_option("--view", wish->view, "What the photos show")
      ->type_name("faces|pile")
      ->required();
  command
      ->add_option("--camera", wish->camera,
                   "The phone's camera profile, made by 'scantling camera'; where not given, the "
                   "fitting one of the user's profiles, or none")
      ->type_name("FILE");
  command
      ->add_option("--sheet-scale", wish->sheet_scale,
                   "Printed over nominal length of the ground sheet's check bars across and down, "
                   "and its standard uncertainty (0.003 where not given: a steel rule)")
      ->type_name("SX,SY[,U]");
  command
      ->add_option("--card-scale", wish->card_scale,
                   "The same of the cards' page, where it was printed at another time or on "
                   "another printer than the sheet")
      ->type_name("SX,SY[,U]");
  command
      ->add_option("--card-thickness", wish->card_thickness,
                   "Thickness of a cut-out card in mm, and its standard uncertainty (0.012 where "
                   "not given: a calliper)")
      ->type_name("MM[,U]");
  command->add_flag("--monte-carlo", wish->monte_carlo,
                    "Draw the errors of the sizes as well (JCGM 101) and say whether the "
                    "first-order intervals hold");
  command->add_flag("--json", wish->json, "Print one JSON object");
  command->add_option("PHOTO", wish->photos, "Photos as the phone stored them")
      ->type_name("FILE")
      ->required();
  command->callback([wish, &work] {
    wish->options = planes_options_from(*wish);
    wish->cameras = camera_shelf_from(wish->camera);
    work = [wish] { return run_planes(*wish); };
  });
}

}  // namespace scantling
