#include "report/summary_json.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "record/words.h"
#include "report/wording.h"

namespace scantling {

namespace {

using Json = nlohmann::ordered_json;

template <class T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json size_json(const GoverningSize& size) {
  const Quantity& q = size.quantity;
  return {{"dimension", size.dimension},
          {"value_mm", q.value_mm},
          {"standard_uncertainty_mm", q.standard_uncertainty_mm},
          {"expanded_95_mm", q.expanded_95_mm()},
          {"degrees_of_freedom",
           std::isfinite(q.degrees_of_freedom) ? Json(q.degrees_of_freedom) : Json(nullptr)},
          {"at_mm", or_null(size.at_mm)}};
}

Json readings_json(const std::vector<HandReadingEntry>& readings) {
  Json list = Json::array();
  for (const HandReadingEntry& r : readings)
    list.push_back({{"value_mm", r.value_mm},
                    {"standard_uncertainty_mm", r.standard_uncertainty_mm},
                    {"as_typed", r.as_typed},
                    {"instrument", r.instrument},
                    {"read_at", r.read_at}});
  return list;
}

Json photos_json(const std::vector<PhotoFinding>& photos) {
  Json list = Json::array();
  for (const PhotoFinding& f : photos)
    list.push_back({{"id", f.photo.id},
                    {"view", view_word(f.photo.view)},
                    {"original_name", f.photo.original_name},
                    {"sha256", f.photo.sha256},
                    {"measured", f.newest.has_value()},
                    {"edges_to_confirm", f.edges_to_confirm},
                    {"size", f.size ? size_json(*f.size) : Json(nullptr)}});
  return list;
}

Json forecast_json(const PartSummary& summary) {
  if (!summary.forecast || !summary.forecast->fitted) return nullptr;
  const Forecast& f = *summary.forecast;
  Json points = Json::array();
  for (std::size_t i = 0; i < summary.wear.points.size(); ++i) {
    const WearPoint& p = summary.wear.points[i];
    points.push_back({{"label", summary.wear.labels[i]},
                      {"odometer_km", p.odometer_km},
                      {"size_mm", p.size_mm},
                      {"standard_uncertainty_mm", or_null(p.standard_uncertainty_mm)},
                      {"shared_with_same_sheet_mm", p.shared_with.empty() ? 0.0 : p.shared_mm}});
  }
  return {{"points", std::move(points)},
          {"wear_mm_per_1000_km", f.wear_mm_per_1000_km},
          {"wear_standard_uncertainty_mm_per_1000_km", f.wear_standard_uncertainty},
          {"distance_left_km", or_null(f.distance_left_km)},
          {"distance_left_lower_95_km", or_null(f.distance_left_lower_95_km)},
          {"next_check_km", or_null(summary.wear.next_check_km)},
          {"reaches_minimum_before_next_check", f.reaches_minimum_before_next_check}};
}

Json probability_json(const PartSummary& summary) {
  if (!summary.verdict || !summary.verdict->probability_below) return nullptr;
  return *summary.verdict->probability_below;
}

Json checks_json(const std::vector<Check>& checks) {
  Json list = Json::array();
  for (const Check& c : checks)
    list.push_back({{"id", c.id}, {"severity", severity_word(c.severity)}, {"message", c.message}});
  return list;
}

}  // namespace

Json part_to_json(const PartSummary& summary, Axle axle) {
  const Part& part = summary.part;
  return {{"id", part.id},
          {"title", part_title(part, axle)},
          {"kind", kind_word(part.kind)},
          {"side", side_word(part.side)},
          {"place", part.kind == PartKind::pad ? Json(place_word(part.place)) : Json(nullptr)},
          {"minimum_mm", or_null(part.minimum_mm)},
          {"minimum_origin", part.minimum_origin},
          {"state", summary.state},
          {"probability_below", probability_json(summary)},
          {"size", summary.size ? size_json(*summary.size) : Json(nullptr)},
          {"left_mm", or_null(summary.left_mm)},
          {"because", summary.because},
          {"hand_readings", readings_json(summary.readings)},
          {"photos", photos_json(summary.photos)},
          {"forecast", forecast_json(summary)},
          {"checks", checks_json(summary.cautions)}};
}

Json summary_to_json(const JobSummary& summary) {
  Json parts = Json::array();
  const auto word = [](const std::optional<VerdictState>& state) {
    return state ? Json(verdict_word(*state)) : Json(nullptr);
  };
  for (std::size_t i = 0; i < summary.parts.size(); ++i) {
    parts.push_back(part_to_json(summary.parts[i], summary.job.axle));
    parts.back()["state_in_set"] = word(summary.axle.part_states.at(i));
  }
  const Vehicle& v = summary.vehicle;
  return {{"id", summary.job.id},
          {"date", summary.job.date},
          {"axle", axle_word(summary.job.axle)},
          {"odometer_km", or_null(summary.job.odometer_km)},
          {"next_check_km", or_null(summary.job.next_check_km)},
          {"next_check_date",
           summary.job.next_check_date.empty() ? Json(nullptr) : Json(summary.job.next_check_date)},
          {"note", summary.job.note},
          {"next_check_km", or_null(summary.job.next_check_km)},
          {"next_check_date", summary.job.next_check_date},
          {"closed", summary.work.has_value()},
          {"vehicle",
           {{"id", v.id},
            {"name", v.name},
            {"registration", v.registration},
            {"make_model", v.make_model},
            {"owner", v.owner}}},
          {"parts", std::move(parts)},
          {"axle_state", word(summary.axle.state)},
          {"axle_notes", summary.axle.notes}};
}

}  // namespace scantling
