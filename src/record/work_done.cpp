#include "record/work_done.h"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "record/record_error.h"
#include "record/rows.h"
#include "record/words.h"

namespace scantling {

namespace {

using Json = nlohmann::ordered_json;

Json finite_or_null(const std::optional<double>& value) {
  if (!value) return nullptr;
  if (!std::isfinite(*value))
    throw RecordError(
        "A figure of the work done is not a number: nothing was "
        "saved. Correct it.");
  return *value;
}

std::optional<double> number_from(const Json& json, const char* field) {
  const auto found = json.find(field);
  if (found == json.end() || found->is_null()) return std::nullopt;
  return found->get<double>();
}

Json part_json(const FittedPart& part) {
  return {{"kind", kind_word(part.kind)},
          {"side", side_word(part.side)},
          {"place", part.kind == PartKind::pad ? Json(place_word(part.place)) : Json(nullptr)},
          {"maker", clean_text(part.maker)},
          {"number", clean_text(part.number)},
          {"new_size_mm", finite_or_null(part.new_size_mm)},
          {"standard_uncertainty_mm", finite_or_null(part.standard_uncertainty_mm)},
          {"minimum_mm", finite_or_null(part.minimum_mm)}};
}

FittedPart part_from(const Json& json) {
  FittedPart part;
  part.kind = kind_from(json.at("kind"));
  part.side = side_from(json.at("side"));
  if (part.kind == PartKind::pad) part.place = place_from(json.at("place"));
  part.maker = json.value("maker", "");
  part.number = json.value("number", "");
  part.new_size_mm = number_from(json, "new_size_mm");
  part.standard_uncertainty_mm = number_from(json, "standard_uncertainty_mm").value_or(0.1);
  part.minimum_mm = number_from(json, "minimum_mm");
  return part;
}

Json fastener_json(const Fastener& fastener) {
  // Kept as typed: the stages are read from it again, so that the two cannot
  // differ.
  return {{"name", clean_text(fastener.name)},
          {"count", fastener.count},
          {"renewed", fastener.renewed},
          {"tightening", clean_text(fastener.tightening.as_typed)}};
}

Fastener fastener_from(const Json& json) {
  Fastener fastener;
  fastener.name = json.at("name");
  fastener.count = json.value("count", 1);
  fastener.renewed = json.at("renewed");
  const std::string typed = json.value("tightening", "");
  if (!typed.empty()) {
    const TighteningText read = tightening_from_text(typed);
    if (!read.problem.empty()) throw RecordError(fastener.name + ": " + read.problem);
    fastener.tightening = read.tightening;
  }
  return fastener;
}

void require(bool holds, const std::string& sentence) {
  if (!holds) throw RecordError(sentence);
}

bool within(const std::optional<double>& value, double low, double high) {
  return !value || (*value >= low && *value <= high);
}

}  // namespace

std::string work_to_text(const WorkDone& work) {
  Json parts = Json::array();
  for (const FittedPart& part : work.parts) parts.push_back(part_json(part));
  Json fasteners = Json::array();
  for (const Fastener& fastener : work.fasteners) fasteners.push_back(fastener_json(fastener));
  return Json{{"date", work.date},
              {"odometer_km", finite_or_null(work.odometer_km)},
              {"done_by", clean_text(work.done_by)},
              {"parts", std::move(parts)},
              {"fasteners", std::move(fasteners)},
              {"fluid_looked_at", work.fluid_looked_at},
              {"fluid", clean_text(work.fluid)},
              {"slides_looked_at", work.slides_looked_at},
              {"slides", clean_text(work.slides)},
              {"bedding_in_km", finite_or_null(work.bedding_in_km)},
              {"next_check_km", finite_or_null(work.next_check_km)},
              {"next_check_date", work.next_check_date},
              {"note", clean_text(work.note)}}
      .dump();
}

WorkDone work_from_text(const std::string& text) {
  try {
    const Json json = Json::parse(text);
    WorkDone work;
    work.date = json.at("date");
    work.odometer_km = number_from(json, "odometer_km");
    work.done_by = json.value("done_by", "");
    for (const Json& part : json.value("parts", Json::array()))
      work.parts.push_back(part_from(part));
    for (const Json& fastener : json.value("fasteners", Json::array()))
      work.fasteners.push_back(fastener_from(fastener));
    work.fluid_looked_at = json.value("fluid_looked_at", false);
    work.fluid = json.value("fluid", "");
    work.slides_looked_at = json.value("slides_looked_at", false);
    work.slides = json.value("slides", "");
    work.bedding_in_km = number_from(json, "bedding_in_km");
    work.next_check_km = number_from(json, "next_check_km");
    work.next_check_date = json.value("next_check_date", "");
    work.note = json.value("note", "");
    return work;
  } catch (const Json::exception& error) {
    throw RecordError(std::string("The work done cannot be read (") + error.what() +
                      "): correct that field.");
  }
}

void require_sense(const WorkDone& work) {
  require(is_calendar_date(work.date),
          fmt::format("\"{}\" is not a date: write when the work was done as in 2026-11-25.",
                      clean_text(work.date)));
  require(work.next_check_date.empty() || is_calendar_date(work.next_check_date),
          "The next check needs a date as in 2027-05-25, or none.");
  require(work.next_check_date.empty() || work.next_check_date > work.date,
          "The next check lies before the work itself: correct one of the dates.");
  require(within(work.odometer_km, 0, 1e7) && within(work.next_check_km, 0, 1e7),
          "The odometer reading must be a number of kilometres from 0 up: "
          "correct it.");
  require(!work.next_check_km || !work.odometer_km || *work.next_check_km > *work.odometer_km,
          "The next check lies behind the odometer: give the reading at which "
          "it is due.");
  require(within(work.bedding_in_km, 0, 5000), "The bedding-in distance must be 0 to 5000 km.");
  for (const FittedPart& part : work.parts) {
    require(within(part.new_size_mm, 0.1, 100) && within(part.minimum_mm, 0.1, 100),
            "A new part's size and minimum must be thicknesses in mm: correct "
            "them.");
    require(within(part.standard_uncertainty_mm, 0, 5),
            "A new part's uncertainty must be 0 to 5 mm: correct it.");
    require(!part.new_size_mm || !part.minimum_mm || *part.new_size_mm > *part.minimum_mm,
            "A new part is not thinner than its minimum: correct one of the two.");
  }
  for (const Fastener& fastener : work.fasteners)
    require(!fastener.name.empty() && fastener.count >= 1 && fastener.count <= 100,
            "Every fastener needs a name and a number from 1 up.");
}

}  // namespace scantling
