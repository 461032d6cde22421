#pragma once

#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "app/view_transform.h"
#include "base/check.h"
#include "dimension/measurement.h"
#include "uncertainty/quantity.h"

namespace scantling {

class App;

// The window's parts, one file each: panel_NAME.cpp. Each fills the rectangle it is given.
void draw_menu(App& app);
void draw_start(App& app, const ScreenRect& area);
void draw_camera_page(App& app, const ScreenRect& area);
void draw_planes_page(App& app, const ScreenRect& area);
/// How photos of a view are taken; `in_place` of a photo that is still missing.
void draw_guide(App& app, View view, const ScreenRect& area, bool in_place);
void draw_compare_page(App& app, const ScreenRect& area);  ///< two photos side by side
void draw_work_page(App& app, const ScreenRect& area);     ///< closing a job
void draw_sorting_page(App& app, const ScreenRect& area);
void draw_sorting_photo(App& app, const ScreenRect& area);  ///< the row in hand, beside the list
void draw_history_page(App& app, const ScreenRect& area);
void draw_left_panel(App& app, const ScreenRect& area);
void draw_axle_map(App& app, const ScreenRect& area);
void draw_side_tabs(App& app, const ScreenRect& area);  ///< of a narrow window
void draw_result_panel(App& app, const ScreenRect& area);
void draw_status_bar(App& app, const ScreenRect& area);
void draw_dialogs(App& app);    ///< job details, key sheet, name, faults
void draw_finishing(App& app);  ///< what the end still waits for

/// Takes what was typed into fields that are no longer on the screen: a page was put in their place
/// before they were left.
void take_left_entries(App& app);

// Sections of the left panel.
void draw_job_section(App& app);
void draw_axle_section(App& app);
void draw_photo_section(App& app);
void draw_disc_photos(App& app);   ///< of a disc: rim, and the lip of each face
void draw_disc_section(App& app);  ///< a disc's diameter
void draw_minimum_section(App& app);
void draw_reading_section(App& app);
void draw_offset_section(App& app);  ///< how far the part lies behind the card
void draw_sheet_section(App& app);

// Parts of the page of the sizes from planes.
void draw_planes_scene(App& app, const ScreenRect& area);
void draw_planes_photo(App& app, const ScreenRect& area);  ///< with its corners' residuals
void draw_planes_result(App& app);
void draw_planes_entry(App& app);   ///< of a part: what its planes say, and the way to the page
void draw_planes_beside(App& app);  ///< size from planes and size from edges, side by side

// Sections of the result panel.
void draw_verdict_section(App& app);
void draw_edge_section(App& app);
void draw_improvement_section(App& app);  ///< what would make the size surer, by how much
void draw_why_section(App& app);
void draw_check_section(App& app);

/// The refit list that the typed work makes, beside the form.
void draw_refit_list(App& app);
void draw_settings_dialog(App& app);
void draw_import_dialog(App& app);  ///< a job file that says otherwise than the record

/// Blocks that several panels show.
void draw_figure(App& app, const Quantity& size);  ///< to be read at arm's length
void draw_budget(const Quantity& size);            ///< largest line first
void draw_checks(std::vector<Check> checks);       ///< the gravest first

/// How things stand, for the test probe.
nlohmann::ordered_json probe_state(App& app);
nlohmann::ordered_json planes_probe_state(App& app);
nlohmann::ordered_json sorting_probe_state(App& app);

}  // namespace scantling
