#include <nlohmann/json.hpp>

#include "app/app.h"
#include "app/panels.h"
#include "sorting/sorting_words.h"

namespace scantling {

using nlohmann::ordered_json;

ordered_json sorting_probe_state(App& app) {
  const SortingPage& page = app.sorting_page();
  const SortingPage::Outcome outcome = page.outcome();
  ordered_json rows = ordered_json::array();
  for (const SortingRow& row : page.rows())
    rows.push_back({{"photo", row.sight.file.filename().string()},
                    {"seen", row.seen},
                    {"view", row.view() ? view_word(*row.view()) : ""},
                    {"place", row.seen ? place_words(row.proposal.place) : ""},
                    {"look", row.look()},
                    {"chosen", row.chosen()},
                    {"double", row.proposal.repeats.has_value()},
                    {"group", row.proposal.time_group},
                    {"checks", row.sight.checks.empty() ? "" : row.sight.checks.front().id}});
  std::size_t to_confirm = 0, judged = 0;
  if (const auto& job = app.session().job())
    for (const PartSummary& part : job->parts) {
      judged += part.standing == PartStanding::judged;
      for (const PhotoFinding& finding : part.photos)
        to_confirm += !finding.edges_to_confirm.empty();
    }
  return {{"to_confirm", to_confirm},
          {"judged", judged},
          {"rows", std::move(rows)},
          {"seen", page.seen()},
          {"selected", page.selected()},
          {"to_file", outcome.files.size()},
          {"left_out", outcome.left_out},
          {"filing", app.filing()},
          {"slowest_frame_ms", app.slowest_frame_ms()},
          {"measured", app.measuring().first},
          {"to_measure", app.measuring().second},
          {"not_measured", app.not_measured()},
          {"watching", app.settings().watched_folder}};
}

}  // namespace scantling
