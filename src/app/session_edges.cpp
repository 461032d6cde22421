// The part of Session that moves and confirms edges and changes a part's figures.
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
  return {*shown->newest, shown->confirmations};
}

void Session::preview_edge(const std::string& edge, const EdgeSegment& segment) {
  const Analysis* ready = analysis();
  if (!ready) return;
  const PartSummary* selected = part();
  if (!selected || !photo() || !photo()->newest) return;
  const std::vector<MovedEdge> moved = with_moved(moved_edges(), edge, segment);
  preview_ = ready->with_edges(moved);
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

void Session::set_minimum(std::optional<double> minimum_mm, const std::string& origin) {
  part_id();
  const Part before = part()->part;
  if (before.minimum_mm == minimum_mm && before.minimum_origin == origin) return;
  Part after = before;
  after.minimum_mm = minimum_mm;
  after.minimum_origin = minimum_mm ? origin : std::string();
  perform(edit_part(minimum_mm ? "set the minimum" : "clear the minimum", focus(), before, after));
}

void Session::set_disc_diameter(std::int64_t part_id, std::optional<double> diameter_mm,
                                const Analyses& anew) {
  const auto disc =
      std::find_if(job_->parts.begin(), job_->parts.end(),
                   [&](const PartSummary& known) { return known.part.id == part_id; });
  if (disc == job_->parts.end()) return;
  const Part before = disc->part;
  if (before.disc_diameter_mm == diameter_mm) return;
  Part after = before;
  after.disc_diameter_mm = diameter_mm;
  const std::string name = diameter_mm ? "set the disc's diameter" : "clear the disc's diameter";
  Edit measured = edit_of(name, anew);
  const EditFocus on{.job_id = job_->job.id, .part_id = part_id};
  Edit entered = edit_part(name, on, before, after);
  perform(edit_together(name, on, {std::move(entered), std::move(measured)}));
}

void Session::add_reading(HandReadingEntry reading) {
  reading.part_id = part_id();
  if (reading.read_at.empty()) reading.read_at = utc_now();
  perform(edit_add_reading(focus(), std::move(reading)));
}

void Session::remove_reading(const HandReadingEntry& reading) {
  perform(edit_remove_reading(focus(), reading));
}

Edit Session::edit_of(const std::string& name, const Analyses& anew) {
  std::vector<MeasurementEntry> before, after;
  for (const MeasuredPhoto& measured : anew) {
    const auto old = record_->newest_measurement(measured.photo_id);
    analyses_.insert_or_assign(measured.photo_id, measured);
    if (!old) {
      record_->add_measurement(entry_of(measured));
      continue;
    }
    before.push_back(*old);
    after.push_back(entry_of(measured, old->moved_edges));
  }
  return edit_photos(name, focus(), std::move(before), std::move(after));
}

void Session::replace_analyses(const std::string& name, const Analyses& anew) {
  perform(edit_of(name, anew));
}

void Session::set_sheet(std::optional<Sheet> sheet, const Analyses& anew) {
  const std::string name = sheet ? "set the print scale" : "take the print scale back";
  Job job = job_->job;
  if (sheet && sheet->id == 0) sheet->id = record_->add_sheet(*sheet);
  job.sheet_id = sheet ? std::optional(sheet->id) : std::nullopt;
  Edit measured = edit_of(name, anew);
  Edit chosen = edit_job(name, job_->job, job);
  perform(edit_together(name, focus(), {std::move(chosen), std::move(measured)}));
}

}  // namespace scantling
