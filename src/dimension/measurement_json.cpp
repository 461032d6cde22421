#include "dimension/measurement_json.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "dimension/better_size.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;

// ---- writing

double finite(double value, const std::string& field) {
  if (std::isfinite(value)) return value;
  throw std::invalid_argument("The measured " + field + " is not a finite number.");
}

Json degrees_of_freedom_json(double value, const std::string& owner) {
  if (value == kUnlimitedDegreesOfFreedom) return nullptr;
  return finite(value, "degrees of freedom of " + owner);
}

Json points_json(const std::vector<Point_px>& points, const std::string& owner) {
  Json list = Json::array();
  for (const Point_px& p : points)
    list.push_back(
        Json::array({finite(p.x, "place of " + owner), finite(p.y, "place of " + owner)}));
  return list;
}

Json budget_json(const std::vector<BudgetLine>& budget) {
  Json list = Json::array();
  for (const BudgetLine& line : budget) {
    list.push_back(
        {{"source", line.source},
         {"standard_uncertainty_mm",
          finite(line.standard_uncertainty_mm, "uncertainty from " + line.source)},
         {"degrees_of_freedom", degrees_of_freedom_json(line.degrees_of_freedom, line.source)},
         {"advice", line.advice}});
    if (line.remedy)
      list.back()["remedy"] = {
          {"input", line.remedy->input},
          {"standard_uncertainty_mm",
           finite(line.remedy->standard_uncertainty_mm, "remedy of " + line.source)}};
  }
  return list;
}

Json dimension_json(const Dimension& d) {
  Json stations = Json::array();
  for (const Station& s : d.stations)
    stations.push_back({{"position_mm", finite(s.position_mm, d.name + " station")},
                        {"value_mm", finite(s.value_mm, d.name + " station")}});
  const Quantity& q = d.quantity;
  return {{"name", d.name},
          {"value_mm", finite(q.value_mm, d.name)},
          {"standard_uncertainty_mm",
           finite(q.standard_uncertainty_mm, "standard uncertainty of " + d.name)},
          {"expanded_95_mm", finite(q.expanded_95_mm(), "expanded uncertainty of " + d.name)},
          {"degrees_of_freedom", degrees_of_freedom_json(q.degrees_of_freedom, d.name)},
          {"confidence", finite(d.confidence, "confidence of " + d.name)},
          {"stations", std::move(stations)},
          {"budget", budget_json(q.budget)}};
}

Json rivals_json(const MeasuredEdge& edge) {
  Json list = Json::array();
  for (const EdgeRival& rival : edge.rivals)
    list.push_back({{"points_px", points_json(rival.points_px, edge.name + " rival")},
                    {"shift_mm", finite(rival.shift_mm, edge.name + " rival's shift")},
                    {"strength", finite(rival.strength, edge.name + " rival's strength")},
                    {"reading", rival.reading}});
  return list;
}

Json edge_json(const MeasuredEdge& edge) {
  return {{"name", edge.name},
          {"points_px", points_json(edge.points_px, edge.name)},
          {"confidence", finite(edge.confidence, "confidence of " + edge.name)},
          {"origin", edge.origin == EdgeOrigin::moved ? "moved" : "found"},
          {"blur_px", finite(edge.blur_px, "blur of " + edge.name)},
          {"residual_px", finite(edge.residual_px, "residual of " + edge.name)},
          {"rivals", rivals_json(edge)}};
}

Json card_json(const CardSummary& card) {
  return {{"name", card.name},
          {"corners", card.corners},
          {"residual_px", finite(card.residual_px, "residual of the card")},
          {"px_per_mm", finite(card.px_per_mm, "scale of the card")},
          {"tilt_deg", finite(card.tilt_deg, "tilt of the card")},
          {"distance_mm", finite(card.distance_mm, "distance of the card")},
          {"camera", card.camera}};
}

Json lip_json(const LipFacts& lip) {
  return {{"height_without_run_mm", finite(lip.height_without_run_mm, "height without run")},
          {"run_share", finite(lip.run_share, "share of the run")},
          {"elevation_deg", finite(lip.elevation_deg, "elevation")},
          {"distance_mm", finite(lip.distance_mm, "distance")},
          {"foot_from_card_mm", finite(lip.foot_from_card_mm, "place of the foot")},
          {"own_uncertainty_mm", finite(lip.own_u_mm, "own uncertainty")},
          {"own_degrees_of_freedom", finite(lip.own_dof, "own degrees of freedom")},
          {"shared_uncertainty_mm", finite(lip.shared_u_mm, "shared uncertainty")},
          {"scale_uncertainty_mm", finite(lip.scale_u_mm, "scale uncertainty")},
          {"checked_scale_uncertainty_mm",
           lip.checked_scale_u_mm ? Json(finite(*lip.checked_scale_u_mm, "scale uncertainty"))
                                  : Json(nullptr)}};
}

// ---- reading

/// A value with the way to it, so that a fault can be named: "dimensions[0].value_mm".
class Field {
 public:
  Field(const Json& json, std::string way) : json_(&json), way_(std::move(way)) {}

  [[noreturn]] void refuse(const char* fault) const {
    throw std::runtime_error("The measurement's JSON can't be used: " +
                             (way_.empty() ? std::string("it") : "\"" + way_ + "\"") + " " + fault +
                             ".");
  }

  /// The member, absent also when null.
  std::optional<Field> find(const char* name) const {
    if (!json_->is_object()) refuse("should be an object");
    const auto found = json_->find(name);
    if (found == json_->end() || found->is_null()) return std::nullopt;
    return Field(*found, way_.empty() ? name : way_ + "." + name);
  }

  Field get(const char* name) const {
    if (auto found = find(name)) return *std::move(found);
    Field(*json_, way_.empty() ? name : way_ + "." + name).refuse("is missing");
  }

  std::vector<Field> items() const {
    if (!json_->is_array()) refuse("should be a list");
    std::vector<Field> list;
    list.reserve(json_->size());
    for (const Json& item : *json_)
      list.emplace_back(item, way_ + "[" + std::to_string(list.size()) + "]");
    return list;
  }
  std::vector<Field> items(const char* name) const {
    const auto found = find(name);
    return found ? found->items() : std::vector<Field>();
  }

  std::string text() const {
    if (!json_->is_string()) refuse("should be text");
    return json_->get<std::string>();
  }
  std::string text(const char* name) const {
    const auto found = find(name);
    return found ? found->text() : std::string();
  }

  double number() const {
    if (!json_->is_number()) refuse("should be a number");
    const double value = json_->get<double>();
    if (!std::isfinite(value)) refuse("should be a finite number");
    return value;
  }
  double number(const char* name, double otherwise) const {
    const auto found = find(name);
    return found ? found->number() : otherwise;
  }

 private:
  const Json* json_;
  std::string way_;
};

std::vector<Point_px> points_from(const Field& field) {
  std::vector<Point_px> points;
  for (const Field& item : field.items()) {
    const std::vector<Field> xy = item.items();
    if (xy.size() != 2) item.refuse("should be a pair [x, y]");
    points.push_back({xy[0].number(), xy[1].number()});
  }
  return points;
}

Dimension dimension_from(const Field& field) {
  Dimension d;
  d.name = field.get("name").text();
  Quantity& q = d.quantity;
  q.value_mm = field.get("value_mm").number();
  q.standard_uncertainty_mm = field.get("standard_uncertainty_mm").number();
  q.degrees_of_freedom = field.number("degrees_of_freedom", kUnlimitedDegreesOfFreedom);
  d.confidence = field.number("confidence", 0);
  for (const Field& s : field.items("stations"))
    d.stations.push_back({s.get("position_mm").number(), s.get("value_mm").number()});
  for (const Field& line : field.items("budget")) {
    q.budget.push_back({line.get("source").text(), line.get("standard_uncertainty_mm").number(),
                        line.number("degrees_of_freedom", kUnlimitedDegreesOfFreedom),
                        line.text("advice")});
    if (const auto remedy = line.find("remedy"))
      q.budget.back().remedy = {remedy->get("input").text(),
                                remedy->get("standard_uncertainty_mm").number()};
  }
  return d;
}

EdgeOrigin origin_from(const Field& edge) {
  const auto field = edge.find("origin");
  if (!field) return EdgeOrigin::found;
  const std::string word = field->text();
  if (word != "found" && word != "moved") field->refuse("should be \"found\" or \"moved\"");
  return word == "moved" ? EdgeOrigin::moved : EdgeOrigin::found;
}

MeasuredEdge edge_from(const Field& field) {
  MeasuredEdge edge;
  edge.name = field.get("name").text();
  edge.points_px = points_from(field.get("points_px"));
  edge.confidence = field.number("confidence", 0);
  edge.origin = origin_from(field);
  edge.blur_px = field.number("blur_px", 0);
  edge.residual_px = field.number("residual_px", 0);
  for (const Field& rival : field.items("rivals"))
    edge.rivals.push_back({points_from(rival.get("points_px")), rival.number("shift_mm", 0),
                           rival.number("strength", 0), rival.text("reading")});
  return edge;
}

CardSummary card_from(const Field& field) {
  CardSummary card;
  card.name = field.get("name").text();
  const double corners = field.number("corners", 0);
  if (!(corners >= 0 && corners < 1e6)) field.get("corners").refuse("should be a small count");
  card.corners = static_cast<int>(corners);
  card.residual_px = field.number("residual_px", 0);
  card.px_per_mm = field.number("px_per_mm", 0);
  card.tilt_deg = field.number("tilt_deg", 0);
  card.distance_mm = field.number("distance_mm", 0);
  card.camera = field.text("camera");
  return card;
}

LipFacts lip_from(const Field& field) {
  LipFacts lip;
  lip.height_without_run_mm = field.get("height_without_run_mm").number();
  lip.run_share = field.get("run_share").number();
  lip.elevation_deg = field.number("elevation_deg", 0);
  lip.distance_mm = field.number("distance_mm", 0);
  lip.foot_from_card_mm = field.number("foot_from_card_mm", 0);
  lip.own_u_mm = field.get("own_uncertainty_mm").number();
  lip.own_dof = field.number("own_degrees_of_freedom", 1);
  lip.shared_u_mm = field.number("shared_uncertainty_mm", 0);
  lip.scale_u_mm = field.number("scale_uncertainty_mm", 0);
  if (const auto checked = field.find("checked_scale_uncertainty_mm"))
    lip.checked_scale_u_mm = checked->number();
  return lip;
}

Check check_from(const Field& field) {
  const Field severity = field.get("severity");
  const std::string word = severity.text();
  for (Severity s : {Severity::info, Severity::warn, Severity::stop})
    if (word == severity_word(s)) return {field.get("id").text(), s, field.text("message")};
  severity.refuse("should be \"info\", \"warn\" or \"stop\"");
}

}  // namespace

Json measurement_to_json(const Measurement& m) {
  Json dimensions = Json::array();
  for (const Dimension& d : m.dimensions) dimensions.push_back(dimension_json(d));
  Json edges = Json::array();
  for (const MeasuredEdge& e : m.edges) edges.push_back(edge_json(e));
  Json checks = Json::array();
  for (const Check& c : m.checks)
    checks.push_back(
        {{"id", c.id}, {"severity", severity_word(c.severity)}, {"message", c.message}});
  Json json = {{"view", view_word(m.view)},
               {"dimensions", std::move(dimensions)},
               {"edges", std::move(edges)},
               {"card", m.card ? card_json(*m.card) : Json(nullptr)}};
  if (m.lip) json["lip"] = lip_json(*m.lip);
  json.update({{"checks", std::move(checks)},
               {"timing_ms",
                {{"decode", finite(m.timing_ms.decode, "decoding time")},
                 {"card", finite(m.timing_ms.card, "card's time")},
                 {"edges", finite(m.timing_ms.edges, "edges' time")},
                 {"total", finite(m.timing_ms.total, "whole time")}}}});
  return json;
}

Json measurement_for_printing(const Measurement& m) {
  Json json = measurement_to_json(m);
  for (std::size_t i = 0; i < m.dimensions.size(); ++i) {
    const std::string& name = m.dimensions[i].name;
    Json improvements = Json::array();
    for (const BetterSize& better : better_sizes(m, name))
      improvements.push_back(
          {{"input", better.input},
           {"words", better.words},
           {"expanded_95_mm", finite(better.then_95_mm(), "improvement of " + name)}});
    json["dimensions"][i]["improvements"] = std::move(improvements);
  }
  return json;
}

Measurement measurement_from_json(const Json& json) {
  const Field root(json, "");
  Measurement m;
  const Field view = root.get("view");
  const auto known = view_from_word(view.text());
  if (!known) view.refuse("should be \"pad\", \"rim\" or \"lip\"");
  m.view = *known;
  for (const Field& d : root.items("dimensions")) m.dimensions.push_back(dimension_from(d));
  for (const Field& e : root.items("edges")) m.edges.push_back(edge_from(e));
  if (const auto card = root.find("card")) m.card = card_from(*card);
  if (const auto lip = root.find("lip")) m.lip = lip_from(*lip);
  for (const Field& c : root.items("checks")) m.checks.push_back(check_from(c));
  if (const auto timing = root.find("timing_ms"))
    m.timing_ms = {timing->number("decode", 0), timing->number("card", 0),
                   timing->number("edges", 0), timing->number("total", 0)};
  return m;
}

}  // namespace scantling
