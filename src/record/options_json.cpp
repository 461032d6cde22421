#include "record/options_json.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "record/record_error.h"
#include "record/rows.h"

namespace scantling {

namespace {

using Json = nlohmann::ordered_json;

double finite(double value) {
  if (!std::isfinite(value))
    throw RecordError("A setting of this measurement is not a number: nothing was saved.");
  return value;
}

Json point_json(Point_px p) {
  return Json::array({finite(p.x), finite(p.y)});
}

Point_px point_from(const Json& json) {
  return {json.at(0), json.at(1)};
}

template <class Function>
auto understood(const std::string& text, Function&& read) {
  try {
    return read(Json::parse(text));
  } catch (const Json::exception& error) {
    throw RecordError(std::string("A stored measurement cannot be read (") + error.what() +
                      "): measure this photo again.");
  }
}

}  // namespace

std::string options_to_text(const MeasureOptions& options,
                            const std::vector<std::string>& read_with) {
  const SheetScale& scale = options.sheet_scale;
  Json json = {
      {"view", view_word(options.view)},
      {"sheet_scale",
       {{"x", finite(scale.x)},
        {"y", finite(scale.y)},
        {"standard_uncertainty", finite(scale.standard_uncertainty)},
        {"checked", scale.checked},
        {"id_card", scale.id_card}}},
      {"part_offset",
       {{"offset_mm", finite(options.part_offset.offset_mm)},
        {"standard_uncertainty_mm", finite(options.part_offset.standard_uncertainty_mm)}}},
      {"disc_diameter_mm",
       options.disc_diameter_mm ? Json(finite(*options.disc_diameter_mm)) : Json(nullptr)}};
  if (!read_with.empty()) json["read_with"] = read_with;
  return json.dump();
}

std::string moved_edges_to_text(const std::vector<MovedEdge>& moved) {
  Json list = Json::array();
  for (const MovedEdge& edge : moved)
    list.push_back({{"edge", clean_text(edge.edge)},
                    {"a_px", point_json(edge.segment.a)},
                    {"b_px", point_json(edge.segment.b)}});
  return list.dump();
}

MeasureOptions options_from_text(const std::string& text) {
  return understood(text, [](const Json& json) {
    MeasureOptions options;
    const auto view = view_from_word(json.at("view").get<std::string>());
    if (!view)
      throw RecordError(
          "A stored measurement is of an unknown view: install the newest Scantling.");
    options.view = *view;
    const Json& scale = json.at("sheet_scale");
    options.sheet_scale = {scale.at("x"), scale.at("y"), scale.at("standard_uncertainty"),
                           scale.at("checked"), scale.value("id_card", false)};
    const Json& offset = json.at("part_offset");
    options.part_offset = {offset.at("offset_mm"), offset.at("standard_uncertainty_mm")};
    // Absent in records of before the disc's views.
    if (const auto disc = json.find("disc_diameter_mm"); disc != json.end() && !disc->is_null())
      options.disc_diameter_mm = disc->get<double>();
    return options;
  });
}

std::vector<std::string> read_with_from_text(const std::string& options_text) {
  return understood(options_text, [](const Json& json) {
    return json.value("read_with", std::vector<std::string>{});
  });
}

std::vector<MovedEdge> moved_edges_from_text(const std::string& text) {
  return understood(text, [](const Json& json) {
    std::vector<MovedEdge> moved;
    for (const Json& edge : json)
      moved.push_back(
          {edge.at("edge"), {point_from(edge.at("a_px")), point_from(edge.at("b_px"))}});
    return moved;
  });
}

}  // namespace scantling
