#include "command_line/measure_options.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cmath>

#include "camera/camera_profile_file.h"
#include "camera/camera_shelf.h"
#include "command_line/number_text.h"

namespace scantling {
namespace {

/// A steel rule may be off by 0.5 mm at any length up to a metre (EC class II); on a check bar of
/// 100 mm, evenly spread: 0.5 / 100 / sqrt(3).
constexpr double kRuleOnCheckBar = 0.003;

[[noreturn]] void refuse(const char* option, const std::string& why) {
  throw CLI::ValidationError(option, why);
}

View view_from(const MeasureArguments& arguments) {
  const auto view = view_from_word(arguments.view);
  if (view && from_planes(*view))
    refuse("--view", fmt::format("'{0}' is measured from several photos together: scantling planes "
                                 "--view {0} PHOTO...",
                                 arguments.view));
  if (!view)
    refuse("--view", fmt::format("'{}' is no view: write pad, rim or lip", arguments.view));
  return *view;
}

void require_card(const MeasureArguments& arguments, View view) {
  const std::string wanted = view == View::lip ? "track" : "notch";
  if (arguments.card == "id1") {
    if (view == View::lip)
      refuse("--card", "a lip is measured with the track card only: print it, or gauge the lip");
    if (arguments.sheet_scale)
      refuse("--sheet-scale", "an ID-1 card has its standard's size: leave the option out");
    return;
  }
  if (!arguments.card || *arguments.card == wanted) return;
  if (arguments.card == "track" || arguments.card == "notch")
    refuse("--card", fmt::format("the {} view is measured with the {} card: write --card {}",
                                 view_word(view), wanted, wanted));
  refuse("--card", fmt::format("'{}' is no card: write {}", *arguments.card, wanted));
}

PartOffset offset_from(const std::string& text) {
  const std::vector<double> numbers = numbers_in("--offset", text, ',', 1, 2);
  PartOffset offset;
  offset.offset_mm = numbers[0];
  if (numbers.size() == 2) offset.standard_uncertainty_mm = numbers[1];
  if (!(std::abs(offset.offset_mm) <= 30))
    refuse("--offset",
           fmt::format("'{}': give how far the part's edge lies behind the card's face, "
                       "at most 30 mm",
                       text));
  if (!(offset.standard_uncertainty_mm >= 0 && offset.standard_uncertainty_mm <= 10))
    refuse("--offset", fmt::format("'{}': the uncertainty lies between 0 and 10 mm", text));
  return offset;
}

}  // namespace

std::shared_ptr<const CameraShelf> camera_shelf_from(const std::optional<std::string>& file) {
  const auto shelf = std::make_shared<CameraShelf>();
  if (file) {
    CameraProfileLoad load = load_camera_profile(*file);
    if (!load.profile) refuse("--camera", load.checks.at(0).message);
    shelf->profiles.push_back(std::move(*load.profile));
    shelf->named_by_user = true;
    return shelf;
  }
  CameraShelfLoad load = load_camera_shelf();
  for (const Check& check : load.checks)
    fmt::print(stderr, "scantling: {}: {}\n", severity_word(check.severity), check.message);
  *shelf = std::move(load.shelf);
  return shelf;
}

SheetScale sheet_scale_from(const char* option, const std::string& text) {
  const std::vector<double> numbers = numbers_in(option, text, ',', 2, 3);
  for (int i = 0; i < 2; ++i)
    if (!(numbers[static_cast<std::size_t>(i)] >= 0.8 &&
          numbers[static_cast<std::size_t>(i)] <= 1.25))
      refuse(option,
             fmt::format("'{}': give the printed length of each check bar divided by its nominal "
                         "length, across and down, such as 0.998,1.001",
                         text));
  SheetScale scale{numbers[0], numbers[1], kRuleOnCheckBar, true};
  if (numbers.size() == 3) scale.standard_uncertainty = numbers[2];
  if (!(scale.standard_uncertainty > 0 && scale.standard_uncertainty <= 0.1))
    refuse(option, fmt::format("'{}': the uncertainty is a part of the scale, above 0 and at "
                               "most 0.1, such as 0.001",
                               text));
  return scale;
}

void add_measure_arguments(CLI::App& command, MeasureArguments& arguments) {
  command
      .add_option("--view", arguments.view,
                  "What the photos show: pad, a pad's edge in the notch card; rim, a disc's rim in "
                  "the notch card; lip, the lip behind the track card (several photos of one lip "
                  "are solved together)")
      ->type_name("pad|rim|lip")
      ->required();
  command
      .add_option("--card", arguments.card,
                  "The card in the photo; the view's own where not given. Without a printer: id1, "
                  "a blank or "
                  "loyalty card of bank-card size (ISO/IEC 7810 ID-1) beside the part, its face "
                  "level with the part's edge; less sure")
      ->type_name("notch|track|id1");
  add_common_arguments(command, arguments);
}

void add_common_arguments(CLI::App& command, MeasureArguments& arguments) {
  command
      .add_option("--sheet-scale", arguments.sheet_scale,
                  "Printed over nominal length of the check bars across and down, and its standard "
                  "uncertainty (0.003 where not given: a steel rule)")
      ->type_name("SX,SY[,U]");
  command
      .add_option("--offset", arguments.offset,
                  "How far the part's edge lies behind the card's face, in mm, and its standard "
                  "uncertainty (0.3 where not given)")
      ->type_name("MM[,U]");
  command
      .add_option("--disc-diameter", arguments.disc_diameter_mm,
                  "The disc's diameter in mm, for the rim's curve; the pad view does without it")
      ->type_name("MM")
      ->check(wholly_a_number());
  command
      .add_option("--camera", arguments.camera,
                  "The phone's camera profile, made by 'scantling camera'; where not given, the "
                  "fitting one among those kept in the user's data folder serves")
      ->type_name("FILE");
}

MeasureOptions measure_options_from(const MeasureArguments& arguments) {
  MeasureOptions options;
  options.view = view_from(arguments);
  require_card(arguments, options.view);
  options.cameras = camera_shelf_from(arguments.camera);
  options.sheet_scale.id_card = arguments.card == "id1";
  if (arguments.sheet_scale)
    options.sheet_scale = sheet_scale_from("--sheet-scale", *arguments.sheet_scale);
  if (arguments.offset) options.part_offset = offset_from(*arguments.offset);
  if (const auto diameter = arguments.disc_diameter_mm;
      diameter && !(*diameter >= 50 && *diameter <= 1000))
    refuse("--disc-diameter",
           fmt::format("{} mm is no brake disc: give its diameter in mm", *diameter));
  options.disc_diameter_mm = arguments.disc_diameter_mm;
  return options;
}

}  // namespace scantling
