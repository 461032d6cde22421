// The actions of the capture guide: which view it shows, its keys.
#include <algorithm>

#include "app/app.h"

namespace scantling {

View App::guide_view() const {
  if (guide_view_) return *guide_view_;
  if (!session_.job()) return View::pad;
  return planes_page_.open() ? session_.planes_view() : session_.kind_to_add().view;
}

void App::show_guide(std::optional<View> view) {
  canvas_.cancel_drag(*this);
  show_map(false);
  compare_page_.hide();
  work_page_.hide();
  camera_page_.hide();
  guide_open_ = true;
  sorting_page_.hide();
  guide_photo_ = photo_on_screen() ? photo_on_screen()->photo.id : 0;
  guide_job_ = session_.job() ? session_.job()->job.id : 0;
  guide_view_ = view ? *view : guide_view();
}

void App::close_guide() {
  guide_open_ = false;
  guide_view_.reset();
}

// Whoever takes a photo up, or another job, wants to see it.
void App::follow_guide() {
  if (!guide_open_) return;
  const PhotoFinding* photo = photo_on_screen();
  const std::int64_t job = session_.job() ? session_.job()->job.id : 0;
  if (job != guide_job_ || (photo ? photo->photo.id : 0) != guide_photo_) close_guide();
}

// For a lip, the face that still wants a photo.
PhotoKind App::kind_to_add(View view) const {
  const std::vector<PhotoKind> kinds = photo_kinds(session_.slot().kind);
  for (const PhotoKind& kind : kinds)
    if (kind.view == view && session_.kind_is_wanted(kind)) return kind;
  for (const PhotoKind& kind : kinds)
    if (kind.view == view) return kind;
  return kinds.front();
}

namespace {

/// The view `by` further among those that the guide's tabs offer: all, or those of one part.
View view_beside(View now, int by, std::optional<PartKind> part) {
  std::vector<View> views;
  for (const CaptureGuide& guide : capture_guides())
    if (!part || part_of_view(guide.view) == *part) views.push_back(guide.view);
  const auto here = std::find(views.begin(), views.end(), now);
  const long count = static_cast<long>(views.size());
  const long at = here == views.end() ? 0 : here - views.begin();
  return views[static_cast<std::size_t>((at + by + count) % count)];
}

/// How far a key goes through the views; 0 where it does not.
int step_of(const KeyCommand& command) {
  if (command.action == KeyAction::next_edge) return 1;
  if (command.action == KeyAction::previous_edge) return -1;
  if (command.action != KeyAction::nudge || command.towards_x == 0) return 0;
  return command.towards_x > 0 ? 1 : -1;
}

}  // namespace

// In the place of a photo that is still missing its tabs are the part's own.
bool App::obey_on_guide_in_place(const KeyCommand& command) {
  const int by = step_of(command);
  if (by != 0) show_guide(view_beside(guide_view(), by, session_.slot().kind));
  return by != 0;
}

bool App::obey_on_guide(const KeyCommand& command) {
  const auto step = [&](int by) { show_guide(view_beside(guide_view(), by, {})); };
  switch (command.action) {
    case KeyAction::guide:
    case KeyAction::escape:
    case KeyAction::confirm:
      close_guide();
      return true;
    case KeyAction::next_edge:
    case KeyAction::previous_edge:
    case KeyAction::nudge:
      if (const int by = step_of(command); by != 0) step(by);
      return true;
    case KeyAction::remove_photo:
    case KeyAction::toggle_rivals:
      return true;
    default:
      return false;
  }
}

}  // namespace scantling
