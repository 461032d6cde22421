#include "app/ruler.h"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "app/edge_overlay.h"
#include "app/theme.h"
#include "report/wording.h"

namespace scantling {

namespace {

constexpr ImU32 kCasing = IM_COL32(0, 0, 0, 190);
constexpr ImU32 kChalk = IM_COL32(255, 255, 255, 245);

void draw_end(ImDrawList* draw, ImVec2 at, ImVec2 along, bool chosen) {
  const float arm = scaled(9);
  const ImVec2 across(-along.y, along.x);
  for (const auto& [colour, width] : {std::pair{kCasing, 4.0f}, std::pair{kChalk, 1.6f}})
    draw->AddLine({at.x - arm * across.x, at.y - arm * across.y},
                  {at.x + arm * across.x, at.y + arm * across.y}, colour, scaled(width));
  if (!chosen) return;
  draw->AddCircle(at, scaled(7), kCasing, 0, scaled(4));
  draw->AddCircle(at, scaled(7), kChalk, 0, scaled(1.6f));
}

}  // namespace

void Ruler::lay(const ViewTransform& view, const ScreenRect& area) {
  on_ = true;
  first_chosen_ = false;
  held_.reset();
  const ScreenPoint middle = area.middle();
  places_ = {view.to_photo({middle.x - area.width / 5, middle.y}),
             view.to_photo({middle.x + area.width / 5, middle.y})};
}

void Ruler::move_chosen(double dx_px, double dy_px) {
  Point_px& end = first_chosen_ ? places_.a : places_.b;
  end.x += dx_px;
  end.y += dy_px;
}

void Ruler::press(const ViewTransform& view, ScreenPoint pointer, double reach) {
  const Point_px at = view.to_photo(pointer);
  const auto away = [&](Point_px end) {
    const ScreenPoint seen = view.to_screen(end);
    return std::hypot(seen.x - pointer.x, seen.y - pointer.y);
  };
  const double a = away(places_.a), b = away(places_.b);
  if (std::min(a, b) <= reach)
    first_chosen_ = a < b;
  else
    places_ = {at, at}, first_chosen_ = false;
  const Point_px end = chosen_place();
  held_ = Point_px{end.x - at.x, end.y - at.y};
}

void Ruler::drag_to(Point_px place) {
  if (!held_) return;
  (first_chosen_ ? places_.a : places_.b) = {place.x + held_->x, place.y + held_->y};
}

void Ruler::draw(ImDrawList* draw, const ViewTransform& view, const std::string& words) const {
  const ImVec2 a = vec(view.to_screen(places_.a)), b = vec(view.to_screen(places_.b));
  const float length = std::hypot(b.x - a.x, b.y - a.y);
  const ImVec2 along =
      length > 0 ? ImVec2((b.x - a.x) / length, (b.y - a.y) / length) : ImVec2(1, 0);
  draw->AddLine(a, b, kCasing, scaled(4));
  draw->AddLine(a, b, kChalk, scaled(1.6f));
  draw_end(draw, a, along, first_chosen_);
  draw_end(draw, b, along, !first_chosen_);
  if (words.empty()) return;
  // Beside the line, on the side that is higher on the screen, clear of its ends.
  const ImVec2 size = label_size(words);
  ImVec2 up(along.y, -along.x);
  if (up.y > 0) up = {-up.x, -up.y};
  const float clear = scaled(10) + (std::abs(up.x) * size.x + std::abs(up.y) * size.y) / 2;
  draw_label(
      draw,
      {(a.x + b.x) / 2 + up.x * clear - size.x / 2, (a.y + b.y) / 2 + up.y * clear - size.y / 2},
      words);
}

std::string ruler_words(const Analysis& analysis, const EdgeSegment& places) {
  if (const auto found = analysis.length_in_card_plane(places.a, places.b))
    return size_with_95(found->length);
  return "not on the card's plane";
}

std::string ruler_note(const Analysis& analysis, const EdgeSegment& places) {
  if (!analysis.card_pose())
    return "No card was read on this photo, so there is no scale to measure by. Take a photo with "
           "the whole card in it.";
  const auto found = analysis.length_in_card_plane(places.a, places.b);
  if (!found)
    return "An end lies where the card's plane is not seen, so there is no length. Move it nearer "
           "to the card.";
  return fmt::format(
      "In the card's plane. What lies behind it reads short, {:.1f} % for each centimetre; what "
      "lies before it, long.",
      1000 * found->short_per_mm_behind);
}

}  // namespace scantling
