#include "app/axle_map.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/words.h"
#include "record/words.h"
#include "report/wording.h"

namespace scantling {

namespace {

// What an unmeasured part is drawn as, in thin outline.
constexpr double kUsualPlate_mm = 5.5, kUsualFriction_mm = 8, kUsualDisc_mm = 22;
constexpr double kAir_mm = 1.2;
constexpr double kLargestScale = 13;  ///< style pixels a millimetre

constexpr ImU32 kSteel = IM_COL32(0x77, 0x7B, 0x82, 255);
constexpr ImU32 kFriction = IM_COL32(0x9A, 0x8F, 0x7E, 255);
constexpr ImU32 kInk = IM_COL32(30, 30, 32, 160);

std::size_t photos_of(const PartSummary* part, const PhotoKind& kind) {
  if (!part) return 0;
  return static_cast<std::size_t>(
      std::count_if(part->photos.begin(), part->photos.end(),
                    [&](const PhotoFinding& f) { return kind_of(f.photo) == kind; }));
}

bool sized_by_planes(const PartSummary* part) {
  return part && std::any_of(part->photos.begin(), part->photos.end(), [](const PhotoFinding& f) {
           return f.photo.view == View::faces && f.newest && f.newest->measurement.usable();
         });
}

std::string missing_words(const PartSummary* part, PartSlot slot) {
  if (slot.kind == PartKind::pad)
    return photos_of(part, {View::pad, {}}) > 0 ? "" : "No photo yet: the pad in the card's notch.";
  if (sized_by_planes(part)) return {};
  std::vector<std::string> missing, second;
  for (const PhotoKind& kind : photo_kinds(PartKind::disc)) {
    const std::string what =
        kind.face ? fmt::format("the {} lip", face_word(*kind.face)) : std::string("the rim");
    const std::size_t taken = photos_of(part, kind);
    if (taken == 0)
      missing.push_back(what);
    else if (taken < photos_wanted(kind))
      second.push_back(what);
  }
  std::string words;
  if (!missing.empty()) words = fmt::format("No photo yet: {}.", fmt::join(missing, ", "));
  if (!second.empty())
    words +=
        fmt::format("{}One photo more: {}.", words.empty() ? "" : " ", fmt::join(second, ", "));
  return words;
}

MapPart map_part(const JobSummary& job, PartSlot slot) {
  MapPart result;
  result.slot = slot;
  const PartSummary* part = find_part(job, slot);
  result.missing = missing_words(part, slot);
  if (!part) {
    result.state = "not measured";
    result.look = {theme().muted, Pattern::outline};
    return result;
  }
  result.minimum_mm = part->part.minimum_mm;
  result.state = part->state;
  result.look = look_of(*part);
  for (const HandReadingEntry& r : part->readings) result.readings_mm.push_back(r.value_mm);
  if (part->size) {
    result.size = part->size->quantity;
    result.figure = size_with_95(*result.size);
  }
  if (part->worn) {
    if (part->worn->lip_out) result.lip_out_mm = part->worn->lip_out->quantity.value_mm;
    if (part->worn->lip_in) result.lip_in_mm = part->worn->lip_in->quantity.value_mm;
  }
  if (!result.readings_mm.empty()) {
    const double least = *std::min_element(result.readings_mm.begin(), result.readings_mm.end());
    result.figure +=
        fmt::format("{}{} mm by hand", result.figure.empty() ? "" : "; ", number_words(least));
    result.missing.clear();  // a reading outranks the photo: none is needed
  }
  for (const PhotoFinding& finding : part->photos) {
    if (!finding.newest || !finding.newest->measurement.usable()) continue;
    const Measurement& m = finding.newest->measurement;
    if (const Dimension* plate = m.dimension("plate_thickness"))
      result.plate_mm = plate->quantity.value_mm;
    if (const Dimension* rim = m.dimension("rim_thickness"))
      result.over_lips_mm = rim->quantity.value_mm;
  }
  return result;
}

double farthest_mm(const MapPart& part, double usual_mm) {
  double most = part.minimum_mm.value_or(0);
  if (part.size) most = std::max(most, part.size->value_mm + part.size->expanded_95_mm());
  for (const double reading : part.readings_mm) most = std::max(most, reading);
  if (!part.size && part.readings_mm.empty()) most = std::max(most, usual_mm);
  return most;
}

double extent_mm(const MapPart& part) {
  if (part.slot.kind == PartKind::disc)
    return std::max(farthest_mm(part, kUsualDisc_mm), part.over_lips_mm.value_or(0)) + 2 * kAir_mm;
  return part.plate_mm.value_or(kUsualPlate_mm) + farthest_mm(part, kUsualFriction_mm) + kAir_mm;
}

/// Draws along one axis that may run to the left, so that both pads of a wheel face the disc.
class Pen {
 public:
  Pen(ImDrawList* draw, float origin, double px_per_mm, float direction)
      : draw_(draw), origin_(origin), px_(static_cast<float>(px_per_mm) * direction) {}

  float x(double mm) const { return origin_ + px_ * static_cast<float>(mm); }
  ImVec2 low(double a, double b, float y) const { return {std::min(x(a), x(b)), y}; }
  ImVec2 high(double a, double b, float y) const { return {std::max(x(a), x(b)), y}; }
  void fill(double a, double b, float top, float bottom, ImU32 colour) const {
    draw_->AddRectFilled(low(a, b, top), high(a, b, bottom), colour);
  }
  void outline(double a, double b, float top, float bottom, ImU32 colour) const {
    draw_->AddRect(low(a, b, top), high(a, b, bottom), colour, 0, 0, scaled(1.2f));
  }
  void hatch(double a, double b, float top, float bottom) const {
    const ImVec2 from = low(a, b, top), to = high(a, b, bottom);
    draw_->PushClipRect(from, to, true);
    for (float at = from.x - (to.y - from.y); at < to.x; at += scaled(7))
      draw_->AddLine({at, to.y}, {at + (to.y - from.y), from.y}, kInk, scaled(1));
    draw_->PopClipRect();
  }
  void dots(double a, double b, float top, float bottom) const {
    const ImVec2 from = low(a, b, top), to = high(a, b, bottom);
    bool odd = false;
    for (float y = top + scaled(6); y < bottom - scaled(2); y += scaled(8), odd = !odd)
      for (float at = from.x + scaled(odd ? 8.0f : 4.0f); at < to.x - scaled(2); at += scaled(9))
        draw_->AddCircleFilled({at, y}, scaled(1.1f), kInk, 6);
  }

 private:
  ImDrawList* draw_;
  float origin_;
  float px_;
};

// Where the face lies with 95 % confidence: the state's own colour and pattern.
void draw_band(ImDrawList* draw, const Pen& pen, double from_mm, const Quantity& size, float top,
               float bottom, StateLook look) {
  const double half = size.expanded_95_mm();
  const double a = from_mm + size.value_mm - half, b = from_mm + size.value_mm + half;
  ImVec2 from = pen.low(a, b, top), to = pen.high(a, b, bottom);
  if (to.x - from.x < scaled(4)) {
    const float middle = (from.x + to.x) / 2;
    from.x = middle - scaled(2);
    to.x = middle + scaled(2);
  }
  if (look.pattern == Pattern::outline) look = {theme().accent, Pattern::solid};
  fill_pattern(draw, from, to, look);
}

// Edged, so that its flag shows on a light background too.
void draw_minimum(ImDrawList* draw, float x, float top, float bottom) {
  constexpr ImU32 kWhite = IM_COL32(255, 255, 255, 255);
  const ImU32 edging = theme().canvas;
  const float s = scaled(5);
  const ImVec2 left(x - s, top - s), right(x + s, top - s), tip(x, top + s * 0.4f);
  draw->AddTriangle(left, right, tip, edging, scaled(2.5f));
  draw->AddLine({x, top}, {x, bottom}, edging, scaled(5));
  draw->AddLine({x, top}, {x, bottom}, kWhite, scaled(2.5f));
  draw->AddTriangleFilled(left, right, tip, kWhite);
}

void draw_reading(ImDrawList* draw, float x, float y) {
  const float s = scaled(5.5f);
  draw->AddQuadFilled({x - s, y}, {x, y - s}, {x + s, y}, {x, y + s}, IM_COL32(0, 0, 0, 255));
  const float i = s * 0.66f;
  draw->AddQuadFilled({x - i, y}, {x, y - i}, {x + i, y}, {x, y + i},
                      IM_COL32(0xF0, 0xE4, 0x42, 255));
}

void draw_pad(ImDrawList* draw, const Pen& pen, float top, float bottom, const MapPart& part) {
  const double plate = part.plate_mm.value_or(kUsualPlate_mm);
  const bool known = part.size || !part.readings_mm.empty();
  const double left = part.size ? part.size->value_mm
                      : known ? *std::min_element(part.readings_mm.begin(), part.readings_mm.end())
                              : kUsualFriction_mm;
  if (known) {
    pen.fill(0, plate, top, bottom, kSteel);
    pen.hatch(0, plate, top, bottom);
    pen.fill(plate, plate + left, top, bottom, kFriction);
    pen.dots(plate, plate + left, top, bottom);
  } else {
    pen.outline(0, plate, top, bottom, theme().muted);
    pen.outline(plate, plate + left, top, bottom, theme().muted);
  }
  if (part.size)
    draw_band(draw, pen, plate, *part.size, top - scaled(3), bottom + scaled(3), part.look);
  if (part.minimum_mm)
    draw_minimum(draw, pen.x(plate + *part.minimum_mm), top - scaled(3), bottom + scaled(3));
  for (const double reading : part.readings_mm)
    draw_reading(draw, pen.x(plate + reading), bottom + scaled(4));
}

// The rim with its lips is the top quarter; below it the worn track, which is what counts.
void draw_disc(ImDrawList* draw, const Pen& pen, float top, float bottom, const MapPart& part) {
  const float rim_bottom = top + (bottom - top) * 0.26f;
  const bool known = part.size || !part.readings_mm.empty();
  const double worn = part.size ? part.size->value_mm
                      : known ? *std::min_element(part.readings_mm.begin(), part.readings_mm.end())
                              : part.over_lips_mm.value_or(kUsualDisc_mm);
  if (part.over_lips_mm) {
    const double out = known ? part.lip_out_mm : 0;
    pen.fill(-out, *part.over_lips_mm - out, top, rim_bottom, kSteel);
    pen.hatch(-out, *part.over_lips_mm - out, top, rim_bottom);
  }
  if (known) {
    pen.fill(0, worn, part.over_lips_mm ? rim_bottom : top, bottom, kSteel);
  } else {
    pen.outline(0, worn, top, bottom, theme().muted);
  }
  if (part.size) draw_band(draw, pen, 0, *part.size, rim_bottom, bottom + scaled(3), part.look);
  if (part.minimum_mm) draw_minimum(draw, pen.x(*part.minimum_mm), rim_bottom, bottom + scaled(3));
  for (const double reading : part.readings_mm)
    draw_reading(draw, pen.x(reading), bottom + scaled(4));
}

}  // namespace

std::array<PartSlot, 6> map_slots() {
  std::array<PartSlot, 6> slots;
  for (std::size_t row = 0; row < 2; ++row) {
    const Side side = row == 0 ? Side::left : Side::right;
    slots[3 * row] = {side, PadPlace::outer};
    slots[3 * row + 1] = PartSlot::disc(side);
    slots[3 * row + 2] = {side, PadPlace::inner};
  }
  return slots;
}

std::array<MapPart, 6> map_parts(const JobSummary& job) {
  std::array<MapPart, 6> parts;
  const auto slots = map_slots();
  for (std::size_t i = 0; i < parts.size(); ++i) parts[i] = map_part(job, slots[i]);
  return parts;
}

MapScale map_scale(const std::array<MapPart, 6>& parts, double width_px, double gap_px) {
  MapScale scale;
  std::array<double, 3> column_mm{};
  for (std::size_t i = 0; i < parts.size(); ++i)
    column_mm[i % 3] = std::max(column_mm[i % 3], extent_mm(parts[i]));
  const double total_mm = column_mm[0] + column_mm[1] + column_mm[2];
  scale.px_per_mm = std::min((width_px - 2 * gap_px) / total_mm,
                             static_cast<double>(scaled(static_cast<float>(kLargestScale))));
  // Room that the sections leave goes to the words below them, in equal shares.
  const double spare = (width_px - 2 * gap_px - total_mm * scale.px_per_mm) / 3;
  for (std::size_t c = 0; c < 3; ++c)
    scale.column_px[c] = column_mm[c] * scale.px_per_mm + std::max(0.0, spare);
  return scale;
}

void draw_map_section(ImDrawList* draw, ImVec2 at, float height, const MapScale& scale,
                      const MapPart& part) {
  const float top = at.y + scaled(10), bottom = at.y + height - scaled(10);
  if (part.slot.kind == PartKind::disc) {
    const double shift = (part.lip_out_mm + kAir_mm) * scale.px_per_mm;
    draw_disc(draw, Pen(draw, at.x + static_cast<float>(shift), scale.px_per_mm, 1), top, bottom,
              part);
    return;
  }
  const bool inner = part.slot.place == PadPlace::inner;
  const float origin = inner ? at.x + static_cast<float>(scale.column_px[2]) : at.x;
  draw_pad(draw, Pen(draw, origin, scale.px_per_mm, inner ? -1.0f : 1.0f), top, bottom, part);
}

}  // namespace scantling
