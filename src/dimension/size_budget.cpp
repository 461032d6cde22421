#include "dimension/size_budget.h"

#include <algorithm>
#include <cmath>

#include "dimension/better_input.h"

namespace scantling {

SizeModel::SizeModel(const CardPose& p, const PartReading& reading, double reach_mm)
    : pose(p), frame(reading.frame), edges(reading.edges) {
  for (const PlacedEdge& edge : edges) {
    std::array<Point_px, 2> ends;
    for (std::size_t end = 0; end < 2; ++end) {
      const double along = edge.middle_mm + (end == 0 ? -reach_mm : reach_mm);
      ends[end] = pose.project(frame.place(along, edge.at(along)));
    }
    ends_px.push_back(ends);
  }
}

double SizeModel::across(std::size_t i, double along) const {
  const Point_mm a = frame.seen(pose, ends_px[i][0], edges[i].depth_mm);
  const Point_mm b = frame.seen(pose, ends_px[i][1], edges[i].depth_mm);
  return a.y + (b.y - a.y) * (along - a.x) / (b.x - a.x);
}

double SizeModel::thickness(std::size_t from, std::size_t to, double along) const {
  const auto line = [&](std::size_t i) {
    const Point_mm a = frame.seen(pose, ends_px[i][0], edges[i].depth_mm);
    const Point_mm b = frame.seen(pose, ends_px[i][1], edges[i].depth_mm);
    return std::pair{a, (b.y - a.y) / (b.x - a.x)};
  };
  const auto [a, slope_a] = line(from);
  const auto [b, slope_b] = line(to);
  return (b.y + slope_b * (along - b.x) - a.y - slope_a * (along - a.x)) /
         std::sqrt(1 + slope_a * slope_a);
}

SizeBudget::SizeBudget(const PlaneScene& scene, const PartReading& reading,
                       const MeasureOptions& options, double reach_mm)
    : scene_(scene),
      reading_(reading),
      options_(options),
      nominal_(scene.pose, reading, reach_mm) {}

double SizeBudget::sensitivity(const Size& size, double step, const Vary& vary) const {
  SizeModel up = nominal_, down = nominal_;
  vary(up, step);
  vary(down, -step);
  return (size(up) - size(down)) / (2 * step);
}

PoseShares SizeBudget::pose_parts(const Size& size) const {
  return pose_shares(scene_.pose, scene_.camera, options_.sheet_scale.standard_uncertainty,
                     [&](const CardPose& pose) {
                       SizeModel varied = nominal_;
                       varied.pose = pose;
                       return size(varied);
                     });
}

BudgetLine print_scale_line(const SheetScale& scale, double value_mm, double aspect_mm,
                            double checked_aspect_mm) {
  // The aspect's part comes through the pose; the part common to x and y cannot be seen in it.
  const auto u = [&](double relative_u, double aspect) {
    return std::hypot(value_mm * relative_u / std::sqrt(2.0), aspect);
  };
  const double now = u(scale.standard_uncertainty, aspect_mm);
  if (scale.id_card)
    return {"size of the ID-1 card and where its sides are", now, kUnlimitedDegreesOfFreedom,
            "Print the notch card."};
  BudgetLine line{std::string(kPrintScaleSource) + (scale.checked ? "" : ", unchecked"), now,
                  kUnlimitedDegreesOfFreedom,
                  scale.checked ? "" : "Measure the sheet's check bars and enter them."};
  if (scale.standard_uncertainty > kCheckedScale_u)
    line.remedy = {kCheckedScale, u(kCheckedScale_u, checked_aspect_mm)};
  return line;
}

BudgetLine pose_line(const PlaneScene& scene, const PoseShares& shares, std::string advice) {
  BudgetLine line{kPoseSource, shares.now.corners_mm,
                  std::max(1.0, 2.0 * scene.pose.corners() - CardPose::kParameters),
                  std::move(advice)};
  if (!scene.profile) line.remedy = {kCameraProfile, shares.lens_known.corners_mm};
  return line;
}

std::string edge_words(const std::string& edge) {
  if (edge == "plate_outer") return "plate's outer edge";
  if (edge == "plate_friction") return "edge between plate and friction material";
  if (edge == "friction_outer") return "friction material's outer edge";
  if (edge == "face_a") return "rim's first face";
  if (edge == "face_b") return "rim's second face";
  if (edge == "wall_foot") return "foot of the lip's wall";
  if (edge == "wall_top") return "top of the lip's wall";
  return edge;
}

std::string mistaken_source(const std::string& edge) {
  return "whether the line found is the " + edge_words(edge);
}

double SizeBudget::standing_u_mm(double value_mm, std::span<const std::size_t> used) const {
  const double depth_between =
      std::abs(reading_.edges[used.back()].depth_mm - reading_.edges[used.front()].depth_mm);
  return 0.0175 * depth_between + std::abs(value_mm) * 1.5e-4;
}

double SizeBudget::flatness_u_mm() const {
  return 0.5 * scene_.pose.noise_px() / scene_.sighting.px_per_mm;
}

Quantity SizeBudget::quantity(const Size& size, std::span<const std::size_t> used,
                              const std::function<double(const PlacedEdge&)>& placing,
                              std::vector<BudgetLine> more) const {
  std::vector<BudgetLine> lines;
  const double value = size(nominal_);
  const auto add_line = [&](BudgetLine line) {
    if (line.standard_uncertainty_mm > 1e-6) lines.push_back(std::move(line));
  };
  const auto add = [&](std::string source, double u, double dof, std::string advice) {
    add_line({std::move(source), u, dof, std::move(advice)});
  };
  for (BudgetLine& line : more) add_line(std::move(line));

  const PoseShares pose = pose_parts(size);
  add_line(print_scale_line(options_.sheet_scale, value, pose.now.aspect_mm,
                            pose.scale_checked.aspect_mm));
  add_line(
      pose_line(scene_, pose, "Show more of the card, sharp, and hold the phone square to it."));
  for (const std::size_t i : used) {
    const PlacedEdge& edge = reading_.edges[i];
    const std::string words = edge_words(edge.name);
    add("placing the " + words, placing(edge), edge.placing_dof,
        edge.origin == EdgeOrigin::moved ? "Zoom in and let the edge snap."
                                         : "A sharper, closer photo.");
    if (edge.origin == EdgeOrigin::found || edge.definition_u_mm > 0)
      add("what counts as the " + words + " (chamfer, rounding, rust)", edge.definition_u_mm, 20,
          "Brush the edge clean; a lamp from the side shows where the flat face ends.");
    BudgetLine mistaken{mistaken_source(edge.name), edge.mistaken_u_mm, 20, kMistakenAdvice};
    mistaken.remedy = {kEdgesLookedAt, 0};
    add_line(std::move(mistaken));
    const double depth =
        sensitivity(size, 0.1, [i](SizeModel& m, double d) { m.edges[i].depth_mm += d; });
    add("depth of the " + words + " behind the card", std::abs(depth) * edge.depth_u_mm, 8,
        "Hold the phone level with the part.");
  }
  const double offset =
      sensitivity(size, 0.1, [](SizeModel& m, double d) { m.frame.depth_mm += d; });
  BudgetLine not_flush{"part not flush with the card's face",
                       std::abs(offset) * options_.part_offset.standard_uncertainty_mm,
                       kUnlimitedDegreesOfFreedom, "Push the card against the part."};
  if (options_.part_offset.standard_uncertainty_mm > kMeasuredOffset_u_mm)
    not_flush.remedy = {kMeasuredOffset, std::abs(offset) * kMeasuredOffset_u_mm};
  add_line(std::move(not_flush));
  add("card not standing square", standing_u_mm(value, used), kUnlimitedDegreesOfFreedom,
      "Use the folded stand, on a level table.");
  add("card flatness", flatness_u_mm(), 12, "Glue the card flat on stiff board.");
  return combine_independent(value, std::move(lines));
}

}  // namespace scantling
