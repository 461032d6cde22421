#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>

#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/number_text.h"
#include "command_line/wear_point_text.h"
#include "verdict/cautions.h"
#include "verdict/forecast.h"
#include "verdict/instrument.h"
#include "verdict/verdict.h"

namespace scantling {

namespace {

struct JudgeOptions {
  std::optional<double> size_mm;
  std::optional<double> standard_uncertainty_mm;
  std::optional<double> degrees_of_freedom;
  double minimum_mm = 0;
  std::vector<std::string> hand;
  std::vector<std::string> earlier;
  ForecastOptions when;
  bool json = false;
};

HandReading hand_reading_of(const std::string& text) {
  const std::vector<double> numbers = numbers_in("--hand", text, ',', 1, 2);
  HandReading reading{numbers[0], kUnnamedInstrumentUncertainty_mm, ""};
  if (numbers.size() == 2) reading.standard_uncertainty_mm = numbers[1];
  // "22,4" reads as 22 mm with an uncertainty of 4 mm, "22,0" as 22 mm without any: almost surely
  // a decimal comma, and no reading is exact.
  const double u = reading.standard_uncertainty_mm;
  if (!(u > 0 && u < 1))
    throw CLI::ValidationError(
        "--hand",
        fmt::format("'{}' gives a reading of {} mm an uncertainty of {} mm: write the "
                    "decimal mark as a point and the uncertainty, above 0, after a comma, "
                    "as in 22.40,0.02",
                    text, numbers[0], u));
  return reading;
}

nlohmann::ordered_json json_of(const Verdict& verdict) {
  nlohmann::ordered_json json;
  json["state"] = verdict_word(verdict.state);
  json["probability_below"] = nullptr;
  if (verdict.probability_below) json["probability_below"] = *verdict.probability_below;
  json["because"] = verdict.because;
  json["checks"] = nlohmann::ordered_json::array();
  for (const Check& check : verdict.checks)
    json["checks"].push_back({{"id", check.id},
                              {"severity", severity_word(check.severity)},
                              {"message", check.message}});
  json["not_covered"] = beyond_thickness();
  return json;
}

/// The part's wear up to this size: its smallest reading by hand, else the photo's.
std::optional<Forecast> wear_of(const JudgeOptions& options,
                                const std::vector<HandReading>& readings,
                                std::vector<WearPoint> points) {
  if (points.empty()) return std::nullopt;
  const auto smallest = std::min_element(
      readings.begin(), readings.end(),
      [](const HandReading& a, const HandReading& b) { return a.value_mm < b.value_mm; });
  WearPoint today{*options.when.now_km};
  today.size_mm = smallest == readings.end() ? *options.size_mm : smallest->value_mm;
  today.standard_uncertainty_mm = smallest == readings.end() ? *options.standard_uncertainty_mm
                                                             : smallest->standard_uncertainty_mm;
  points.push_back(today);
  return forecast_wear(points, options.minimum_mm, options.when);
}

int run_judge(const JudgeOptions& options, const std::vector<HandReading>& readings,
              const std::vector<WearPoint>& earlier) {
  std::optional<Quantity> photo;
  if (options.size_mm)
    photo = Quantity{*options.size_mm,
                     *options.standard_uncertainty_mm,
                     options.degrees_of_freedom.value_or(kUnlimitedDegreesOfFreedom),
                     {}};
  const std::optional<Forecast> wear = wear_of(options, readings, earlier);
  const bool due = wear && wear->reaches_minimum_before_next_check;
  Verdict verdict = judge(photo, readings, options.minimum_mm, due).value();
  // A wear that cannot be foretold takes nothing from what the size itself says.
  if (wear && !any_stop(verdict.checks))
    for (Check check : wear->checks) {
      check.severity = std::min(check.severity, Severity::warn);
      verdict.checks.push_back(std::move(check));
    }
  if (options.json) {
    fmt::print("{}\n", json_of(verdict).dump(1));
  } else {
    fmt::print("{}\n", verdict_word(verdict.state));
    for (const std::string& sentence : verdict.because) fmt::print("  {}\n", sentence);
    fmt::print("  {}\n", beyond_thickness());
  }
  for (const Check& check : verdict.checks)
    fmt::print(stderr, "scantling: {}: {}\n", severity_word(check.severity), check.message);
  return any_stop(verdict.checks) ? kInputUnusable : kDone;
}

}  // namespace

void add_judge_command(CLI::App& app, Work& work) {
  CLI::App* command = app.add_subcommand(
      "judge",
      "Sets a size against the part's minimum: keep, replace, or gauge it where the size cannot "
      "decide.\nExample: scantling judge --size 22.30 --standard-uncertainty 0.05 --minimum 22.00\n"
      "With its wear: ... --earlier 0:25.00 --now 60000 --next-check 75000");
  const auto options = std::make_shared<JudgeOptions>();
  CLI::Option* size = command->add_option("--size", options->size_mm, "Size from photos, in mm")
                          ->type_name("MM")
                          ->check(wholly_a_number());
  CLI::Option* uncertainty =
      command
          ->add_option("--standard-uncertainty", options->standard_uncertainty_mm,
                       "Standard uncertainty of that size (one sigma, not doubled), in mm")
          ->type_name("MM")
          ->check(wholly_a_number());
  size->needs(uncertainty);
  uncertainty->needs(size);
  command
      ->add_option("--degrees-of-freedom", options->degrees_of_freedom,
                   "Degrees of freedom of that uncertainty; unlimited where not given")
      ->type_name("NU")
      ->check(wholly_a_number())
      ->needs(size);
  command
      ->add_option("--minimum", options->minimum_mm,
                   "The minimum that the part's maker gives, in mm")
      ->type_name("MM")
      ->check(wholly_a_number())
      ->required();
  command
      ->add_option("--hand", options->hand,
                   "A reading by hand and its standard uncertainty (0.03 where not given), in mm; "
                   "may be repeated")
      ->type_name("MM[,U]")
      ->expected(1)
      ->take_all();
  CLI::Option* earlier =
      command
          ->add_option("--earlier", options->earlier,
                       "The same part's size at an earlier odometer reading, or new; may be "
                       "repeated, in the order they were measured")
          ->type_name("KM:MM[:U]")
          ->expected(1)
          ->take_all();
  CLI::Option* now = command
                         ->add_option("--now", options->when.now_km,
                                      "Odometer now, at which the part was measured, in km")
                         ->type_name("KM")
                         ->check(wholly_a_number());
  CLI::Option* next = command
                          ->add_option("--next-check", options->when.next_check_km,
                                       "Odometer at the next planned check, in km: a part that may "
                                       "wear to its minimum by then is due soon")
                          ->type_name("KM")
                          ->check(wholly_a_number());
  earlier->needs(now)->needs(next);
  next->needs(earlier);
  now->needs(earlier);
  command->add_flag("--json", options->json, "Print one JSON object");
  command->callback([options, &work] {
    if (!options->size_mm && options->hand.empty()) throw CLI::RequiredError("--size or --hand");
    std::vector<HandReading> readings;
    for (const std::string& text : options->hand) readings.push_back(hand_reading_of(text));
    const std::vector<WearPoint> points = wear_points_in("--earlier", options->earlier);
    work = [options, readings, points] { return run_judge(*options, readings, points); };
  });
}

}  // namespace scantling
