#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>

#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/number_text.h"
#include "command_line/wear_point_text.h"
#include "verdict/cautions.h"
#include "verdict/forecast.h"

namespace scantling {

namespace {

using nlohmann::ordered_json;

struct ForecastArguments {
  double minimum_mm = 0;
  std::vector<std::string> points;
  double common_u_mm = 0;
  ForecastOptions options;
  bool miles = false;  ///< distances are given and shown in miles; the JSON stays in km
  bool json = false;
};

ordered_json number_or_null(std::optional<double> number) {
  return number && std::isfinite(*number) ? ordered_json(*number) : ordered_json(nullptr);
}

ordered_json json_of(const ForetoldSize& size) {
  return {{"odometer_km", size.odometer_km},
          {"size_mm", size.size_mm},
          {"prediction_95_low_mm", size.interval_95.low},
          {"prediction_95_high_mm", size.interval_95.high}};
}

ordered_json json_of(const Forecast& forecast, double minimum_mm) {
  ordered_json json;
  json["fitted"] = forecast.fitted;
  json["minimum_mm"] = number_or_null(minimum_mm);
  if (forecast.fitted) {
    json["wear_mm_per_1000_km"] = forecast.wear_mm_per_1000_km;
    json["wear_standard_uncertainty_mm_per_1000_km"] = forecast.wear_standard_uncertainty;
    json["degrees_of_freedom"] = number_or_null(forecast.degrees_of_freedom);
    json["now"] = json_of(forecast.now);
    json["distance_left_km"] = number_or_null(forecast.distance_left_km);
    json["distance_left_lower_95_km"] = number_or_null(forecast.distance_left_lower_95_km);
    if (forecast.at_next_check) json["at_next_check"] = json_of(*forecast.at_next_check);
    json["reaches_minimum_before_next_check"] = forecast.reaches_minimum_before_next_check;
  }
  json["checks"] = ordered_json::array();
  for (const Check& check : forecast.checks)
    json["checks"].push_back({{"id", check.id},
                              {"severity", severity_word(check.severity)},
                              {"message", check.message}});
  json["not_covered"] = beyond_thickness();
  return json;
}

/// Distances as the user wants them.
struct DistanceUnit {
  double km = 1;
  const char* word = "km";
};

void print(const ForetoldSize& size, const char* when, const DistanceUnit& unit) {
  fmt::print("  {} ({:.0f} {}): {:.2f} mm, 95 % prediction {:.2f} to {:.2f} mm\n", when,
             size.odometer_km / unit.km, unit.word, size.size_mm, size.interval_95.low,
             size.interval_95.high);
}

void print(const Forecast& forecast, double minimum_mm, const DistanceUnit& unit) {
  if (!forecast.fitted) {
    fmt::print("No forecast.\n");
    return;
  }
  fmt::print("Wear {:.3f} mm per 1000 {} (standard uncertainty {:.3f})\n",
             forecast.wear_mm_per_1000_km * unit.km, unit.word,
             forecast.wear_standard_uncertainty * unit.km);
  print(forecast.now, "now", unit);
  if (forecast.at_next_check) print(*forecast.at_next_check, "next check", unit);
  if (forecast.distance_left_km)
    fmt::print("  about {:.0f} {} left until {:.2f} mm\n", *forecast.distance_left_km / unit.km,
               unit.word, minimum_mm);
  if (forecast.distance_left_lower_95_km)
    fmt::print("  but it may be as little as {:.0f} {}: go by this\n",
               *forecast.distance_left_lower_95_km / unit.km, unit.word);
  if (forecast.reaches_minimum_before_next_check)
    fmt::print("  It may reach the minimum before the next planned check.\n");
  fmt::print("  {}\n", beyond_thickness());
}

int run_forecast(const ForecastArguments& arguments, const std::vector<WearPoint>& points) {
  const Forecast forecast = forecast_wear(points, arguments.minimum_mm, arguments.options);
  if (arguments.json)
    fmt::print("{}\n", json_of(forecast, arguments.minimum_mm).dump(1));
  else
    print(forecast, arguments.minimum_mm,
          arguments.miles ? DistanceUnit{kKilometresInMile, "miles"} : DistanceUnit{});
  for (const Check& check : forecast.checks)
    fmt::print(stderr, "scantling: {}: {}\n", severity_word(check.severity), check.message);
  return any_stop(forecast.checks) ? kInputUnusable : kDone;
}

}  // namespace

void add_forecast_command(CLI::App& app, Work& work) {
  CLI::App* command = app.add_subcommand(
      "forecast",
      "Wear and distance left, from one part's sizes at two or more odometer readings.\n"
      "Example: scantling forecast --minimum 22 0:25.00 40000:24.21:0.03 60000:23.80:0.03");
  const auto arguments = std::make_shared<ForecastArguments>();
  command
      ->add_option("--minimum", arguments->minimum_mm,
                   "The minimum that the part's maker gives, in mm")
      ->type_name("MM")
      ->check(wholly_a_number())
      ->required();
  command
      ->add_option("--now", arguments->options.now_km,
                   "Odometer now, in km; that of the last size where not given")
      ->type_name("KM")
      ->check(wholly_a_number());
  command
      ->add_option("--next-check", arguments->options.next_check_km,
                   "Odometer at the next planned check, in km")
      ->type_name("KM")
      ->check(wholly_a_number());
  command
      ->add_option("points", arguments->points,
                   "Odometer in km, size in mm and its standard uncertainty (one sigma), in the "
                   "order they were measured")
      ->type_name("KM:MM[:U]")
      ->required();
  command
      ->add_option("--common-uncertainty", arguments->common_u_mm,
                   "The part of every U that is one error for all sizes, such as one sheet's print "
                   "scale, in mm: it mostly cancels in the wear")
      ->type_name("U")
      ->check(wholly_a_number() & CLI::NonNegativeNumber);
  command->add_flag("--miles", arguments->miles,
                    "All distances here are in miles; the JSON stays in km");
  command->add_flag("--json", arguments->json, "Print one JSON object");
  command->callback([arguments, &work] {
    std::vector<WearPoint> points =
        wear_points_in("KM:MM[:U]", arguments->points, arguments->common_u_mm);
    if (arguments->miles) {
      for (WearPoint& point : points) point.odometer_km *= kKilometresInMile;
      for (std::optional<double>* km :
           {&arguments->options.now_km, &arguments->options.next_check_km})
        if (*km) **km *= kKilometresInMile;
    }
    work = [arguments, points] { return run_forecast(*arguments, points); };
  });
}

}  // namespace scantling
