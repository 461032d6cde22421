#include "app/light_inset.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/size_drawing.h"
#include "app/theme.h"
#include "report/wording.h"

namespace scantling {

namespace {

constexpr float kWidth = 330, kHeight = 236;
constexpr float kLeft = 46, kTop = 34, kPlotHeight = 118, kRight = 14;
constexpr ImU32 kCasing = IM_COL32(0, 0, 0, 170);

bool same(const EdgeSegment& a, const EdgeSegment& b) {
  return a.a.x == b.a.x && a.a.y == b.a.y && a.b.x == b.b.x && a.b.y == b.b.y;
}

void small_text(ImDrawList* draw, ImVec2 at, ImU32 colour, const std::string& text,
                float wrap = 0) {
  draw->AddText(fonts().small, fonts().small->FontSize, at, colour, text.c_str(), nullptr, wrap);
}

float small_width(const std::string& text) {
  return fonts().small->CalcTextSizeA(fonts().small->FontSize, 1e6f, 0, text.c_str()).x;
}

// From a distance in px and a light to the plot's pixels.
struct Plot {
  ImVec2 from, to;
  double first_px = -1, last_px = 1;
  double darkest = 0, lightest = 1;

  float x(double px) const {
    return from.x + static_cast<float>((px - first_px) / (last_px - first_px)) * (to.x - from.x);
  }
  float y(double light) const {
    return to.y - static_cast<float>((light - darkest) / (lightest - darkest)) * (to.y - from.y);
  }
  ImVec2 at(double px, double light) const { return {x(px), y(light)}; }
};

Plot plot_of(const EdgeProfile& profile, ImVec2 at) {
  Plot plot;
  plot.from = {at.x + scaled(kLeft), at.y + scaled(kTop)};
  plot.to = {at.x + scaled(kWidth - kRight), plot.from.y + scaled(kPlotHeight)};
  plot.first_px = profile.offset_px.front();
  plot.last_px = profile.offset_px.back();
  double low = 1, high = 0;
  for (std::size_t i = 0; i < profile.light.size(); ++i) {
    if (!std::isfinite(profile.light[i])) continue;
    const double spread = std::isfinite(profile.scatter[i]) ? profile.scatter[i] : 0;
    low = std::min(low, profile.light[i] - spread);
    high = std::max(high, profile.light[i] + spread);
  }
  const double margin = std::max(0.004, 0.08 * (high - low));
  plot.darkest = std::max(0.0, low - margin);
  plot.lightest = high + margin;
  return plot;
}

void draw_scales(ImDrawList* draw, const Plot& plot) {
  const ImU32 ink = theme().muted;
  draw->AddRect(plot.from, plot.to, theme().line, 0, 0, scaled(1));
  const float half = fonts().small->FontSize / 2;
  for (double px = std::ceil(plot.first_px / 5) * 5; px <= plot.last_px; px += 5) {
    const float x = plot.x(px);
    draw->AddLine({x, plot.to.y}, {x, plot.to.y + scaled(4)}, ink, scaled(1));
    const std::string words = px > 0   ? fmt::format("+{:.0f}", px)
                              : px < 0 ? fmt::format("−{:.0f}", -px)
                                       : "0";
    small_text(draw, {x - small_width(words) / 2, plot.to.y + scaled(4)}, ink, words);
  }
  const double step = scale_step(plot.lightest - plot.darkest, 4);
  const int digits = step < 0.0099 ? 1 : 0;
  for (double light = std::ceil(plot.darkest / step) * step; light <= plot.lightest;
       light += step) {
    const float y = plot.y(light);
    draw->AddLine({plot.from.x, y}, {plot.to.x, y}, with_alpha(theme().line, 0.6f), scaled(1));
    const std::string words = fmt::format("{:.{}f} %", 100 * light, digits);
    small_text(draw, {plot.from.x - scaled(5) - small_width(words), y - half}, ink, words);
  }
}

// How far the lanes scatter about their mean, and the mean itself.
void draw_samples(ImDrawList* draw, const Plot& plot, const EdgeProfile& profile) {
  const ImU32 band = with_alpha(theme().muted, 0.22f);
  for (std::size_t i = 1; i < profile.light.size(); ++i) {
    const double a = profile.light[i - 1], b = profile.light[i];
    const double u = profile.scatter[i - 1], v = profile.scatter[i];
    if (!std::isfinite(a + b + u + v)) continue;
    const double x = profile.offset_px[i - 1], y = profile.offset_px[i];
    draw->AddQuadFilled(plot.at(x, a + u), plot.at(y, b + v), plot.at(y, b - v), plot.at(x, a - u),
                        band);
  }
  for (std::size_t i = 0; i < profile.light.size(); ++i)
    if (std::isfinite(profile.light[i]))
      draw->AddCircleFilled(plot.at(profile.offset_px[i], profile.light[i]), scaled(2.4f),
                            theme().text, 10);
}

void draw_fit(ImDrawList* draw, const Plot& plot, const EdgeProfile& profile, EdgeLook look) {
  std::vector<ImVec2> curve;
  constexpr int kSteps = 120;
  for (int i = 0; i <= kSteps; ++i) {
    const double x = profile.first_px + (profile.last_px - profile.first_px) * i / kSteps;
    curve.push_back(plot.at(x, profile.model(x)));
  }
  draw->AddPolyline(curve.data(), static_cast<int>(curve.size()), kCasing, 0, scaled(3.4f));
  draw->AddPolyline(curve.data(), static_cast<int>(curve.size()), look.colour, 0, scaled(2));
  // Where the fitted step lies: as wide as it is unsure, but never too thin to be seen.
  const float middle = plot.x(profile.place_px);
  const float half = std::max(scaled(0.8f), plot.x(profile.place_px + profile.place_u_px) - middle);
  draw->AddRectFilled({middle - half, plot.from.y}, {middle + half, plot.to.y},
                      with_alpha(theme().accent, 0.8f));
  const float s = scaled(5);
  draw->AddTriangleFilled({middle, plot.from.y + s}, {middle - s, plot.from.y - s * 0.4f},
                          {middle + s, plot.from.y - s * 0.4f}, theme().accent);
}

// Where the edge's line stands on the photo.
void draw_line_place(ImDrawList* draw, const Plot& plot, EdgeLook look) {
  const float x = plot.x(0);
  for (float y = plot.from.y; y < plot.to.y; y += scaled(8)) {
    const float end = std::min(plot.to.y, y + scaled(4));
    draw->AddLine({x, y}, {x, end}, kCasing, scaled(3));
    draw->AddLine({x, y}, {x, end}, look.colour, scaled(1.6f));
  }
}

}  // namespace

std::string light_words(const EdgeLight& light) {
  const EdgeProfile& profile = light.profile;
  if (!profile.fitted)
    return "No step fits here: across this line the light changes too little, or too unevenly.";
  return fmt::format(
      "The step lies {:.2f} px ({:.3f} mm) {} the line, standard uncertainty {:.2f} px; its blur "
      "is {:.1f} px.",
      std::abs(profile.place_px), std::abs(profile.place_px) * light.mm_per_px,
      profile.place_px < 0 ? "before" : "beyond", std::max(0.005, profile.place_u_px),
      profile.blur_px);
}

void LightInset::follow(App& app) {
  Session& session = app.session();
  const Measurement* measurement = session.measurement();
  const MeasuredEdge* edge = measurement ? measurement->edge(session.edge()) : nullptr;
  if (!on_ || !edge || edge->points_px.size() < 2 || !session.analysis() || !session.photo()) {
    light_.reset();
    edge_.clear();
    return;
  }
  const EdgeSegment segment = segment_of(*edge);
  const std::int64_t photo = session.photo()->photo.id;
  if (photo == photo_id_ && edge->name == edge_ && same(segment, segment_)) return;
  photo_id_ = photo;
  edge_ = edge->name;
  segment_ = segment;
  line_ = edge->points_px;
  light_ = session.analysis()->light_across(segment);
}

void LightInset::draw_strip(ImDrawList* draw, const ViewTransform& view) const {
  if (!light_) return;
  const ScreenPoint first = view.to_screen(light_->first), last = view.to_screen(light_->last);
  const double dx = (last.x - first.x) / 2, dy = (last.y - first.y) / 2;
  std::vector<ImVec2> outline, back;
  for (const Point_px& p : line_) {
    const ScreenPoint at = view.to_screen(p);
    outline.push_back(vec({at.x - dx, at.y - dy}));
    back.push_back(vec({at.x + dx, at.y + dy}));
  }
  for (std::size_t i = 1; i < line_.size(); ++i)
    draw->AddQuadFilled(outline[i - 1], outline[i], back[i], back[i - 1],
                        IM_COL32(255, 255, 255, 26));
  outline.insert(outline.end(), back.rbegin(), back.rend());
  const int corners = static_cast<int>(outline.size());
  draw->AddPolyline(outline.data(), corners, kCasing, ImDrawFlags_Closed, scaled(2.4f));
  draw->AddPolyline(outline.data(), corners, IM_COL32(255, 255, 255, 150), ImDrawFlags_Closed,
                    scaled(1));
  // The way in which distances count, beside the middle handle.
  const ScreenPoint a = view.to_screen(segment_.a), b = view.to_screen(segment_.b);
  const double length = std::hypot(dx, dy), run = std::hypot(b.x - a.x, b.y - a.y);
  if (length < 4 || run < 1) return;
  const double beside = std::min<double>(scaled(26), run / 4);
  const double ox = (b.x - a.x) / run * beside, oy = (b.y - a.y) / run * beside;
  const ImVec2 from = vec({first.x + ox, first.y + oy}), to = vec({last.x + ox, last.y + oy});
  const ImVec2 way(static_cast<float>(dx / length), static_cast<float>(dy / length));
  const float s = std::min(scaled(7), static_cast<float>(length));
  const ImVec2 neck(to.x - s * way.x, to.y - s * way.y);
  for (const auto& [colour, width] :
       {std::pair{kCasing, 4.0f}, std::pair{IM_COL32(255, 255, 255, 235), 1.6f}}) {
    draw->AddLine(from, to, colour, scaled(width));
    draw->AddLine(to, {neck.x - s * 0.6f * way.y, neck.y + s * 0.6f * way.x}, colour,
                  scaled(width));
    draw->AddLine(to, {neck.x + s * 0.6f * way.y, neck.y - s * 0.6f * way.x}, colour,
                  scaled(width));
  }
}

void LightInset::draw(App& app, const ScreenRect& area, float above) {
  if (!on_ || edge_.empty()) return;
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const float margin = scaled(12);
  const float width = std::min(scaled(kWidth), static_cast<float>(area.width) - 2 * margin);
  const ScreenRect inset{area.x + area.width - width - margin,
                         area.y + area.height - above - scaled(kHeight), width, scaled(kHeight)};
  place_ = inset;
  const ImVec2 at = vec({inset.x, inset.y});
  const ImVec2 end = vec({inset.x + inset.width, inset.y + inset.height});
  draw->AddRectFilled(at, end, theme().panel, scaled(4));
  draw->AddRect(at, end, theme().line, scaled(4), 0, scaled(1));
  app.probe().place("light_inset", inset);
  draw->AddText(fonts().strong, fonts().strong->FontSize, {at.x + scaled(12), at.y + scaled(8)},
                theme().text, ("Light across the " + edge_title(edge_)).c_str());
  const float wrap = width - scaled(24);
  const float words_y = at.y + scaled(kTop + kPlotHeight + 36);
  if (!light_) {
    const char* why = "The edge is too short to average along it, or lies outside the photo.";
    small_text(draw, {at.x + scaled(12), at.y + scaled(kTop)}, theme().muted, why, wrap);
    app.probe().tell("light", why);
    return;
  }
  const EdgeProfile& profile = light_->profile;
  const Plot plot = plot_of(profile, at);
  const EdgeLook look = look_of_edge(edge_);
  draw_scales(draw, plot);
  draw->PushClipRect(plot.from, plot.to, true);
  draw_line_place(draw, plot, look);
  draw_samples(draw, plot, profile);
  draw->PopClipRect();
  if (profile.fitted) draw_fit(draw, plot, profile, look);
  const std::string axis = "px across the edge, as the arrow points";
  small_text(draw, {(plot.from.x + plot.to.x - small_width(axis)) / 2, plot.to.y + scaled(19)},
             theme().muted, axis);
  const std::string words = light_words(*light_);
  small_text(draw, {at.x + scaled(12), words_y}, theme().text, words, wrap);
  app.probe().tell("light", words);
}

}  // namespace scantling
