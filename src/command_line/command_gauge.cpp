#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>

#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/number_text.h"
#include "command_line/open_record.h"
#include "verdict/cautions.h"
#include "verdict/hand_entry.h"
#include "verdict/reading_series.h"
#include "verdict/size_text.h"

namespace scantling {

namespace {

using Json = nlohmann::ordered_json;

struct GaugeArguments {
  HandEntry shared;  ///< all but the reading itself
  std::string minimum;
  std::vector<std::string> readings;
  bool json = false;
};

struct Gauged {
  std::vector<ClockReading> readings;
  std::vector<std::string> typed;
  bool clocks_given = false;
  double zero_error_mm = 0;
  InstrumentFigures figures;
  std::string problem;
};

std::string without_clock(const std::string& text) {
  const std::size_t mark = text.find('=');
  return mark == std::string::npos ? text : text.substr(mark + 1);
}

/// A reading in whose unit the figures that all readings share are meant where they are bare: a
/// bare reading (millimetres) where there is one, any where all name one unit. Nothing where the
/// readings' units differ.
std::optional<std::string> unit_giver(const std::vector<std::string>& readings) {
  std::vector<std::string> units;
  for (const std::string& text : readings) units.push_back(unit_named_in(without_clock(text)));
  if (std::find(units.begin(), units.end(), "") != units.end()) return "0 mm";
  const auto one_mm = [](const std::string& unit) {
    return length_from_text("1 " + unit).value_mm.value_or(0);
  };
  const bool alike = std::all_of(units.begin(), units.end(), [&](const std::string& unit) {
    return one_mm(unit) == one_mm(units[0]);
  });
  return alike && !units.empty() ? std::optional("0 " + units[0]) : std::nullopt;
}

/// Gives the bare ones among them the readings' unit. False where they have none in common.
bool settle_units(GaugeArguments& arguments) {
  const std::optional<std::string> giver = unit_giver(arguments.readings);
  for (std::string* side : {&arguments.shared.zero, &arguments.shared.resolution,
                            &arguments.shared.permissible_error, &arguments.minimum}) {
    const std::string probe = with_unit_of("0 mm", *side);
    if (probe == *side) continue;  // names its unit, or is not given
    if (!giver) return false;
    *side = with_unit_of(*giver, *side);
  }
  return true;
}

/// "3=22,41" or "22,41"; without a clock position the readings are spread evenly from 12 onwards.
Gauged gauged(const GaugeArguments& arguments, bool units_settled) {
  Gauged result;
  if (!units_settled) {
    result.problem =
        "The readings are in several units: give zero, step, error limit and minimum with theirs, "
        "such as 0.02 mm.";
    return result;
  }
  const std::vector<double> even = even_clock_positions(arguments.readings.size());
  for (std::size_t i = 0; i < arguments.readings.size(); ++i) {
    std::string text = arguments.readings[i];
    double clock = even[i];
    if (const std::size_t mark = text.find('='); mark != std::string::npos) {
      clock = numbers_in("CLOCK=READING", text.substr(0, mark), '=', 1, 1)[0];
      if (!(clock > 0 && clock <= 12))
        throw CLI::ValidationError(
            "CLOCK=READING", fmt::format("'{}': a clock position lies above 0 and up to 12", text));
      text = without_clock(text);
      result.clocks_given = true;
    }
    HandEntry entry = arguments.shared;
    entry.reading = text;
    const ReadEntry read = read_hand_entry(entry);
    if (!read.reading) {
      result.problem = fmt::format("\"{}\": {}", arguments.readings[i], read.problem);
      return result;
    }
    result.zero_error_mm = read.zero_error_mm;
    result.figures = read.figures;
    result.readings.push_back({clock, *read.reading});
    result.typed.push_back(arguments.readings[i]);
  }
  return result;
}

Json json_of(const Gauged& gauged, const ReadingSeries& series, const GaugeArguments& arguments,
             const std::optional<Verdict>& verdict) {
  Json readings = Json::array();
  for (std::size_t i = 0; i < gauged.readings.size(); ++i)
    readings.push_back(
        {{"as_typed", gauged.typed[i]},
         {"clock", gauged.readings[i].clock},
         {"value_mm", gauged.readings[i].reading.value_mm},
         {"standard_uncertainty_mm", gauged.readings[i].reading.standard_uncertainty_mm}});
  Json checks = Json::array();
  const auto add_checks = [&](const std::vector<Check>& list) {
    for (const Check& check : list)
      checks.push_back({{"id", check.id},
                        {"severity", severity_word(check.severity)},
                        {"message", check.message}});
  };
  add_checks(series.checks);
  if (verdict) add_checks(verdict->checks);
  Json json = {{"instrument",
                {{"name", arguments.shared.instrument},
                 {"resolution_mm", gauged.figures.resolution_mm},
                 {"permissible_error_mm", gauged.figures.permissible_error_mm},
                 {"zero_error_mm", gauged.zero_error_mm}}},
               {"readings", std::move(readings)},
               {"smallest_mm", series.smallest.value_mm},
               {"smallest_at_clock", series.smallest_at_clock},
               {"mean_mm", series.mean_mm},
               {"thickness_variation_mm", series.thickness_variation_mm},
               {"variation_expanded_95_mm", series.variation_expanded_95_mm},
               {"state", nullptr},
               {"probability_below", nullptr},
               {"because", Json::array()},
               {"checks", std::move(checks)},
               {"not_covered", beyond_thickness()}};
  if (verdict) {
    json["state"] = verdict_word(verdict->state);
    json["because"] = verdict->because;
    if (verdict->probability_below) json["probability_below"] = *verdict->probability_below;
  }
  return json;
}

void print(const Gauged& gauged, const ReadingSeries& series,
           const std::optional<Verdict>& verdict) {
  for (std::size_t i = 0; i < gauged.readings.size(); ++i)
    fmt::print("  {:<14} {:>8.3f} mm  (standard uncertainty {:.3f})  typed \"{}\"\n",
               clock_text(gauged.readings[i].clock), gauged.readings[i].reading.value_mm,
               gauged.readings[i].reading.standard_uncertainty_mm, gauged.typed[i]);
  if (gauged.zero_error_mm != 0)
    fmt::print("Corrected for a zero error of {:+.3f} mm.\n", gauged.zero_error_mm);
  fmt::print("Smallest {:.3f} mm at {}: this one counts.\n", series.smallest.value_mm,
             clock_text(series.smallest_at_clock));
  if (gauged.readings.size() > 1)
    fmt::print("Thickness variation {:.3f} mm, give or take {:.3f} mm.\n",
               series.thickness_variation_mm, series.variation_expanded_95_mm);
  if (!verdict) {
    fmt::print("No minimum given: a size, but no verdict.\n");
  } else {
    fmt::print("{}\n", verdict_word(verdict->state));
    for (const std::string& sentence : verdict->because) fmt::print("  {}\n", sentence);
  }
  fmt::print("{}\n", beyond_thickness());
}

int run_gauge(const GaugeArguments& arguments, const Gauged& gauged) {
  if (!gauged.problem.empty())
    return report_unusable("reading_unusable", gauged.problem, arguments.json);
  std::optional<double> minimum_mm;
  if (!arguments.minimum.empty()) {
    const LengthText minimum = length_from_text(arguments.minimum);
    if (!minimum.value_mm || !(*minimum.value_mm > 0))
      return report_unusable(
          "minimum_unusable",
          "The minimum cannot be used: " +
              (minimum.problem.empty() ? "it must be above 0 mm." : minimum.problem),
          arguments.json);
    minimum_mm = minimum.value_mm;
  }
  const ReadingSeries series = summarise_round(gauged.readings).value();
  std::vector<HandReading> readings;
  for (const ClockReading& reading : gauged.readings) readings.push_back(reading.reading);
  const std::optional<Verdict> verdict = judge(std::nullopt, readings, minimum_mm);
  if (arguments.json)
    fmt::print("{}\n", json_of(gauged, series, arguments, verdict)
                           .dump(1, ' ', false, Json::error_handler_t::replace));
  else
    print(gauged, series, verdict);
  for (const Check& check : series.checks)
    fmt::print(stderr, "scantling: {}: {}\n", severity_word(check.severity), check.message);
  if (verdict)
    for (const Check& check : verdict->checks)
      fmt::print(stderr, "scantling: {}: {}\n", severity_word(check.severity), check.message);
  return kDone;
}

}  // namespace

void add_gauge_command(CLI::App& app, Work& work) {
  CLI::App* command = app.add_subcommand(
      "gauge",
      "Judges readings taken by hand round a disc, or on a pad: the smallest counts. Figures "
      "without a unit are in the readings' own, or in mm.\n"
      "Example: scantling gauge --instrument micrometer --zero 0.02 --minimum 22 12=22,41 "
      "3='22.38 mm' 6='.881 in' 9=22.40");
  const auto arguments = std::make_shared<GaugeArguments>();
  std::string names;
  for (const Instrument& instrument : instruments())
    names += (names.empty() ? "" : "; ") + std::string(instrument.name);
  command->add_option("--instrument", arguments->shared.instrument, "One of: " + names)
      ->type_name("NAME")
      ->required();
  command
      ->add_option("--zero", arguments->shared.zero,
                   "What it shows when closed; taken off every reading")
      ->type_name("SIZE");
  command
      ->add_option("--resolution", arguments->shared.resolution,
                   "Its smallest step, where it is not the usual one")
      ->type_name("SIZE");
  command
      ->add_option("--permissible-error", arguments->shared.permissible_error,
                   "Its error limit, from its certificate, where it is not the standard's")
      ->type_name("SIZE");
  command->add_option("--minimum", arguments->minimum, "The minimum that the part's maker gives")
      ->type_name("SIZE");
  command
      ->add_option("readings", arguments->readings,
                   "Readings as you would write them, each with its clock position where wanted")
      ->type_name("[CLOCK=]SIZE")
      ->required();
  command->add_flag("--json", arguments->json, "Print one JSON object");
  command->callback([arguments, &work] {
    const bool units_settled = settle_units(*arguments);
    const Gauged read = gauged(*arguments, units_settled);
    work = [arguments, read] { return run_gauge(*arguments, read); };
  });
}

}  // namespace scantling
