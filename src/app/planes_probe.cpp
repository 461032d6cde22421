#include <nlohmann/json.hpp>

#include "app/app.h"
#include "app/panels.h"
#include "app/planes_list.h"
#include "report/planes_beside.h"

namespace scantling {

using nlohmann::ordered_json;

ordered_json planes_probe_state(App& app) {
  PlanesPage& page = app.planes_page();
  const SceneView& scene = page.scene();
  ordered_json state = {{"open", page.open()},
                        {"shown_photo", page.photo_id()},
                        {"picture_shown", page.photo_id() != 0 && app.texture().ready() &&
                                              app.texture().photo_id() == page.photo_id()},
                        {"turned_deg", scene.turned_deg()},
                        {"elevation_deg", scene.elevation_deg()},
                        {"zoom", scene.zoom()}};
  const PartSummary* part = app.session().part();
  if (!part) return state;
  const PlanesTask task = app.planes_task(*part);
  state["photos"] = task.photos.size();
  state["kept"] = !task.photos.empty() && app.session().planes_kept(*part, task.options);
  state["card_thickness_mm"] = task.options.part_offset.offset_mm;
  const PlanesBeside both = planes_beside(*part);
  state["recorded_mm"] =
      both.planes ? ordered_json(both.planes->quantity.value_mm) : ordered_json(nullptr);
  state["normalised_error"] =
      both.normalised_error ? ordered_json(*both.normalised_error) : ordered_json(nullptr);
  const PlanesCase* known = page.find(part->part.id);
  if (!known) return state;
  const PlanesOutcome& outcome = known->outcome;
  state["taken_in"] = outcome.photo_ids.size();
  state["whole"] = outcome.complete(task);
  ordered_json groups = ordered_json::object();
  for (const PlanesRow& row : planes_rows(task, outcome)) groups[row.name] = group_title(row.group);
  state["groups"] = std::move(groups);
  const bool usable = outcome.result.usable();
  state["size_mm"] = usable ? ordered_json(outcome.result.dimensions.front().quantity.value_mm)
                            : ordered_json(nullptr);
  state["expanded_95_mm"] =
      usable ? ordered_json(outcome.result.dimensions.front().quantity.expanded_95_mm())
             : ordered_json(nullptr);
  state["checks"] = ordered_json::array();
  for (const Check& check : outcome.result.checks) state["checks"].push_back(check.id);
  return state;
}

}  // namespace scantling
