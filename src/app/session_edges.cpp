// The part of Session that moves and confirms edges.
#include <algorithm>

#include "app/edge_drag.h"
#include "app/session.h"
#include "report/wording.h"

namespace scantling {

namespace {

bool is_confirmed(const std::vector<EdgeConfirmation>& confirmations, const std::string& edge) {
  return std::any_of(confirmations.begin(), confirmations.end(),
                     [&](const EdgeConfirmation& c) { return c.edge == edge; });
}

void drop_confirmation(std::vector<EdgeConfirmation>& confirmations, const std::string& edge) {
  std::erase_if(confirmations, [&](const EdgeConfirmation& c) { return c.edge == edge; });
}

}  // namespace

PhotoStanding Session::standing() const {
  const PhotoFinding* shown = photo();
  // From the record: a summary has the sizes as confirmed.
  return {record_->newest_measurement(photo_id_).value_or(*shown->newest), shown->confirmations};
}

void Session::preview_edge(const std::string& edge, const EdgeSegment& segment) {
  const Analysis* ready = analysis();
  if (!ready) return;
  const PartSummary* selected = part();
  if (!selected || !photo() || !photo()->newest) return;
  const std::vector<MovedEdge> moved = with_moved(moved_edges(), edge, segment);
  preview_ = as_confirmed(ready->with_edges(moved), photo()->confirmations);
  std::vector<PhotoFinding> photos = selected->photos;
  for (PhotoFinding& finding : photos) {
    finding.size.reset();
    if (finding.photo.id == photo_id_) finding.newest->measurement = *preview_;
  }
  // The forecast stands until the edge is let go; it moves far less than the size.
  const bool due = selected->forecast && selected->forecast->reaches_minimum_before_next_check;
  preview_summary_ = summarise_part(selected->part, std::move(photos), selected->readings, due);
}

void Session::drop_preview() {
  preview_.reset();
  preview_summary_.reset();
}

void Session::move_edge(const std::string& edge, const EdgeSegment& segment,
                        const std::string& person) {
  const Analysis* ready = analysis();
  if (!ready || !photo() || !photo()->newest) return;
  const PhotoStanding before = standing();
  PhotoStanding after{
      entry_of(analyses_.at(photo_id_), with_moved(before.measurement.moved_edges, edge, segment)),
      before.confirmations};
  drop_confirmation(after.confirmations, edge);
  after.confirmations.push_back({photo_id_, edge, person, utc_now()});
  perform(edit_photo("move " + edge_title(edge), focus(), before, after));
}

void Session::put_edge_back(const std::string& edge) {
  const Analysis* ready = analysis();
  if (!ready || !photo() || !photo()->newest) return;
  const PhotoStanding before = standing();
  std::vector<MovedEdge> moved = before.measurement.moved_edges;
  std::erase_if(moved, [&](const MovedEdge& m) { return m.edge == edge; });
  PhotoStanding after{entry_of(analyses_.at(photo_id_), std::move(moved)), before.confirmations};
  drop_confirmation(after.confirmations, edge);
  perform(edit_photo("put back " + edge_title(edge), focus(), before, after));
}

void Session::confirm(const std::vector<std::string>& edges, const std::string& person,
                      const std::string& name) {
  const PhotoFinding* shown = photo();
  if (!shown) return;
  std::vector<EdgeConfirmation> after = shown->confirmations;
  for (const std::string& edge : edges)
    if (!is_confirmed(after, edge)) after.push_back({photo_id_, edge, person, utc_now()});
  if (after.size() == shown->confirmations.size()) return;
  perform(edit_confirmations(name, focus(), shown->confirmations, after));
}

void Session::confirm_edge(const std::string& edge, const std::string& person) {
  confirm({edge}, person, "confirm " + edge_title(edge));
}

void Session::confirm_all_edges(const std::string& person) {
  const Measurement* shown = measurement();
  if (!shown) return;
  std::vector<std::string> edges;
  for (const MeasuredEdge& edge : shown->edges) edges.push_back(edge.name);
  confirm(edges, person, "confirm all edges");
}

void Session::withdraw_confirmation(const std::string& edge) {
  const PhotoFinding* shown = photo();
  if (!shown || !is_confirmed(shown->confirmations, edge)) return;
  std::vector<EdgeConfirmation> after = shown->confirmations;
  drop_confirmation(after, edge);
  perform(edit_confirmations("withdraw confirmation", focus(), shown->confirmations, after));
}

}  // namespace scantling
