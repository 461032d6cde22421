#include <algorithm>
#include <nlohmann/json.hpp>

#include "app/app.h"
#include "app/panels.h"
#include "app/words.h"

namespace scantling {

using nlohmann::ordered_json;

namespace {

ordered_json smallest_reading(const std::vector<HandReadingEntry>& readings) {
  const auto least =
      std::min_element(readings.begin(), readings.end(),
                       [](const auto& a, const auto& b) { return a.value_mm < b.value_mm; });
  return least == readings.end() ? ordered_json() : ordered_json(least->value_mm);
}

ordered_json edge_state(const MeasuredEdge& edge, const PhotoFinding& photo) {
  const EdgeSegment segment = segment_of(edge);
  return {{"origin", edge.origin == EdgeOrigin::moved ? "moved" : "found"},
          {"confidence", edge.confidence},
          {"confirmed_by", confirmed_by(photo.confirmations, edge.name)},
          {"rivals", edge.rivals.size()},
          {"a", {segment.a.x, segment.a.y}},
          {"b", {segment.b.x, segment.b.y}}};
}

ordered_json optional_number(const std::optional<double>& value) {
  return value ? ordered_json(*value) : ordered_json(nullptr);
}

ordered_json size_of(const std::optional<Dimension>& size) {
  return size ? ordered_json(size->quantity.value_mm) : ordered_json(nullptr);
}

ordered_json worn_state(const PartSummary& part) {
  if (!part.worn) return nullptr;
  const WornThickness& worn = *part.worn;
  return {{"over_the_lips_mm", size_of(worn.rim)},
          {"lip_out_mm", size_of(worn.lip_out)},
          {"lip_in_mm", size_of(worn.lip_in)},
          {"worn_mm", size_of(worn.worn)}};
}

}  // namespace

ordered_json probe_state(App& app) {
  Session& session = app.session();
  const EditHistory& history = session.history();
  ordered_json state;
  state["screen"] = app.screen();
  state["busy"] = app.busy_for_the_user();
  state["keys_at"] = app.focus().in_controls() ? "controls" : "page";
  state["focus"] = app.focus().name();
  state["popup"] = app.focus().in_popup();
  state["dialog"] = app.focus().in_dialog() && !app.chooser().open();
  state["asking"] = app.asking();
  state["choosing"] = app.chooser().open();
  state["chooser_row"] = app.chooser().row_under_keys();
  state["picked"] = app.chooser().picked().size();
  state["rivals_shown"] = app.rivals_shown();
  state["map"] = app.map_shown();
  const PhotoLook look = app.canvas().look();
  state["look"] = {{"brightness", look.brightness}, {"quarter_turns", look.quarter_turns}};
  state["ruler"] = app.canvas().ruler().on();
  const auto& light = app.canvas().light().light();
  if (light && light->profile.fitted)
    state["light_fit"] = {{"place_px", light->profile.place_px},
                          {"place_u_px", light->profile.place_u_px},
                          {"blur_px", light->profile.blur_px}};
  const ComparePage& compare = app.compare_page();
  state["compare"] = {{"choices", compare.choices().size()},
                      {"number", compare.number()},
                      {"opened", compare.other() != nullptr},
                      {"px_per_mm", compare.view.scale()},
                      {"centre_mm", {compare.view.centre().x, compare.view.centre().y}}};
  state["guide"] = app.guide_open();
  state["guide_view"] = view_word(app.guide_view());
  state["dragging"] = app.canvas().dragging();
  state["snapped"] = app.canvas().snapped();
  state["light"] = app.settings().light_theme;
  state["text_percent"] = app.settings().text_percent;
  state["history_row"] = app.history_page().row();
  state["history_jobs"] = app.history_page().jobs().size();
  state["fault"] = app.fault();
  state["notice"] = app.notice();
  state["sorting"] = sorting_probe_state(app);
  state["undo"] = history.undo_name() ? *history.undo_name() : "";
  state["redo"] = history.redo_name() ? *history.redo_name() : "";
  state["work_refusal"] = app.work_page().refusal;
  state["import_conflicts"] = app.forms().import.conflicts.size();
  state["jobs_listed"] = app.forms().jobs.lines.size();
  const CalibrationProgress& camera = app.camera_page().progress();
  state["camera"] = {{"photos", camera.photos.size()},
                     {"used", camera.used},
                     {"picture_share", camera.coverage.picture_share},
                     {"missing", camera.missing},
                     {"accepted", camera.accepted},
                     {"at_hand", app.cameras().profiles.size()},
                     {"saved_as", app.camera_page().saved_as().filename().string()}};
  if (!session.job()) return state;
  const JobSummary& job = *session.job();
  state["job"] = {{"id", job.job.id},
                  {"vehicle", job.vehicle.name},
                  {"date", job.job.date},
                  {"axle", job.job.axle == Axle::front ? "front" : "rear"},
                  {"odometer_km", optional_number(job.job.odometer_km)},
                  {"closed", job.work.has_value()}};
  const PartSummary& part = *session.summary();
  state["part"] = {{"kind", session.slot().kind == PartKind::disc ? "disc" : "pad"},
                   {"side", session.slot().side == Side::left ? "left" : "right"},
                   {"place", session.slot().place == PadPlace::inner ? "inner" : "outer"},
                   {"minimum_mm", optional_number(part.part.minimum_mm)},
                   {"minimum_origin", part.part.minimum_origin},
                   {"photos", part.photos.size()},
                   {"readings", part.readings.size()},
                   {"smallest_reading_mm", smallest_reading(part.readings)},
                   {"standing", part.state},
                   {"worn", worn_state(part)}};
  state["planes"] = planes_probe_state(app);
  if (!session.photo()) return state;
  const GoverningSize* size = session.photo_size();
  state["photo"] = {
      {"name", session.photo()->photo.original_name},
      {"shown", app.texture().ready() && app.texture().photo_id() == session.photo()->photo.id},
      {"analysed", session.analysis() != nullptr},
      {"size_mm", size ? ordered_json(size->quantity.value_mm) : ordered_json(nullptr)},
      {"expanded_95_mm",
       size ? ordered_json(size->quantity.expanded_95_mm()) : ordered_json(nullptr)}};
  state["selected_edge"] = session.edge();
  ordered_json edges = ordered_json::object();
  if (const Measurement* measurement = session.measurement()) {
    for (const Check& check : measurement->checks) state["photo"]["checks"].push_back(check.id);
    for (const MeasuredEdge& edge : measurement->edges)
      edges[edge.name] = edge_state(edge, *session.photo());
    if (const Dimension* friction = measurement->dimension("friction_thickness"))
      state["photo"]["friction_mm"] = friction->quantity.value_mm;
  }
  state["edges"] = std::move(edges);
  return state;
}

}  // namespace scantling
