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
  guide_photo_ = photo_on_screen() ? photo_on_screen()->photo.id : 0;
  guide_view_ = view ? *view : guide_view();
}

void App::close_guide() {
  guide_open_ = false;
  guide_view_.reset();
}

// Whoever takes a photo up wants to see it.
void App::follow_guide() {
  if (!guide_open_) return;
  const PhotoFinding* photo = photo_on_screen();
  if (!session_.job() || (photo ? photo->photo.id : 0) != guide_photo_) close_guide();
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

bool App::obey_on_guide(const KeyCommand& command) {
  const auto guides = capture_guides();
  const auto step = [&](int by) {
    const auto here = std::find_if(guides.begin(), guides.end(), [&](const CaptureGuide& guide) {
      return guide.view == guide_view();
    });
    const auto count = static_cast<int>(guides.size());
    const int at = static_cast<int>(here - guides.begin());
    show_guide(guides[static_cast<std::size_t>((at + by + count) % count)].view);
  };
  switch (command.action) {
    case KeyAction::guide:
    case KeyAction::escape:
    case KeyAction::confirm:
      close_guide();
      return true;
    case KeyAction::next_edge:
      step(1);
      return true;
    case KeyAction::previous_edge:
      step(-1);
      return true;
    case KeyAction::nudge:
      if (command.towards_x != 0) step(command.towards_x > 0 ? 1 : -1);
      return true;
    case KeyAction::remove_photo:
    case KeyAction::toggle_rivals:
      return true;
    default:
      return false;
  }
}

}  // namespace scantling
