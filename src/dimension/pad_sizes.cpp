#include "dimension/pad_sizes.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <functional>

namespace scantling {
namespace {

/// Everything a size depends on, as one set of numbers that can be varied one at a time.
struct SizeModel {
  CardPose pose;
  PartFrame frame;
  std::array<PlacedEdge, 3> edges;
  std::array<std::array<Point_px, 2>, 3> ends_px;  // the seen lines, fixed on the photo

  SizeModel(const CardPose& p, const PadReading& reading) : pose(p), frame(reading.frame) {
    edges = reading.edges;
    for (std::size_t i = 0; i < 3; ++i)
      for (std::size_t end = 0; end < 2; ++end) {
        const double along = end == 0 ? edges[i].middle_mm - 20 : edges[i].middle_mm + 20;
        const Point3_mm place = frame.place(along, edges[i].at(along));
        ends_px[i][end] = pose.project(place);
      }
  }

  /// Where edge i stands at `along`, on the plane in which it lies.
  double across(std::size_t i, double along) const {
    const double depth = frame.depth_mm + edges[i].depth_mm;
    const Point_mm a = frame.coordinates(pose.on_plane(ends_px[i][0], depth));
    const Point_mm b = frame.coordinates(pose.on_plane(ends_px[i][1], depth));
    return a.y + (b.y - a.y) * (along - a.x) / (b.x - a.x);
  }

  /// Distance between two edges' faces at a station, along the part's normal.
  double thickness(std::size_t from, std::size_t to, double along) const {
    const double slope = (across(from, along + 1) - across(from, along - 1)) / 2;
    return (across(to, along) - across(from, along)) / std::sqrt(1 + slope * slope);
  }
};

using Size = std::function<double(const SizeModel&)>;

struct BudgetBuilder {
  const PlaneScene& scene;
  const PadReading& reading;
  const MeasureOptions& options;
  SizeModel nominal;

  BudgetBuilder(const PlaneScene& s, const PadReading& r, const MeasureOptions& o)
      : scene(s), reading(r), options(o), nominal(s.pose, r) {}

  double sensitivity(const Size& size, double step,
                     const std::function<void(SizeModel&, double)>& vary) const {
    SizeModel up = nominal, down = nominal;
    vary(up, step);
    vary(down, -step);
    return (size(up) - size(down)) / (2 * step);
  }

  struct PoseParts {
    double corners_mm = 0;  ///< corners, focal length, lens, with the print's aspect held
    double aspect_mm = 0;   ///< what the unknown aspect of the print adds
  };

  /// The pose's covariance through the size's gradient, the print's aspect told apart.
  PoseParts pose_parts(const Size& size) const {
    CardPose::Vector gradient;
    for (int k = 0; k < CardPose::kParameters; ++k) {
      const double u = std::sqrt(std::max(0.0, scene.pose.covariance()(k, k)));
      const double step = std::max(u * 0.5, 1e-9);
      gradient[k] = sensitivity(size, step, [k](SizeModel& m, double d) {
        CardPose::Vector p = m.pose.parameters();
        p[k] += d;
        m.pose = CardPose(p);
      });
    }
    const CardPose::Vector pull = scene.pose.covariance() * gradient;
    const double total = std::max(0.0, gradient.dot(pull));
    const double variance = scene.pose.covariance()(CardPose::kAspect, CardPose::kAspect);
    const double aspect =
        variance > 0 ? std::min(total, std::pow(pull[CardPose::kAspect], 2) / variance) : 0;
    return {std::sqrt(total - aspect), std::sqrt(aspect)};
  }

  Quantity quantity(const Size& size, std::initializer_list<std::size_t> used,
                    const std::function<double(const PlacedEdge&)>& placing) const {
    std::vector<BudgetLine> lines;
    const double value = size(nominal);
    const auto add = [&](std::string source, double u, double dof, std::string advice) {
      if (u > 1e-6) lines.push_back({std::move(source), u, dof, std::move(advice)});
    };

    // The aspect's part comes through the pose; the part common to x and y cannot be seen in it.
    const PoseParts pose = pose_parts(size);
    const double scale_u = std::hypot(
        value * options.sheet_scale.standard_uncertainty / std::sqrt(2.0), pose.aspect_mm);
    add(options.sheet_scale.checked ? "print scale of the sheet"
                                    : "print scale of the sheet, unchecked",
        scale_u, kUnlimitedDegreesOfFreedom,
        options.sheet_scale.checked ? "" : "Measure the sheet's check bars and enter them.");
    add("card corners, camera and lens", pose.corners_mm,
        std::max(1.0, 2.0 * scene.pose.corners() - CardPose::kParameters),
        "Show more of the card, sharp, and hold the phone square to it.");
    for (const std::size_t i : used) {
      const PlacedEdge& edge = reading.edges[i];
      const std::string words = edge.name == "plate_outer" ? "plate's outer edge"
                                : edge.name == "plate_friction"
                                    ? "edge between plate and friction material"
                                    : "friction material's outer edge";
      add("placing the " + words, placing(edge), edge.placing_dof,
          edge.origin == EdgeOrigin::moved ? "Zoom in and let the edge snap."
                                           : "A sharper, closer photo.");
      if (edge.origin == EdgeOrigin::found || edge.definition_u_mm > 0)
        add("what counts as the " + words + " (chamfer, rounding, rust)", edge.definition_u_mm, 20,
            "Brush the edge clean; a lamp from the side shows where the flat face ends.");
      const double depth =
          sensitivity(size, 0.1, [i](SizeModel& m, double d) { m.edges[i].depth_mm += d; });
      add("depth of the " + words + " behind the card", std::abs(depth) * edge.depth_u_mm, 8,
          "Hold the phone level with the pad.");
    }
    const double offset =
        sensitivity(size, 0.1, [](SizeModel& m, double d) { m.frame.depth_mm += d; });
    add("part not flush with the card's face",
        std::abs(offset) * options.part_offset.standard_uncertainty_mm, kUnlimitedDegreesOfFreedom,
        "Push the card against the part.");
    // A card standing out of square by about one degree tilts the part's normal in the picture.
    const double depth_between =
        std::abs(reading.edges[*(used.end() - 1)].depth_mm - reading.edges[*used.begin()].depth_mm);
    add("card not standing square", 0.0175 * depth_between + std::abs(value) * 1.5e-4,
        kUnlimitedDegreesOfFreedom, "Use the folded stand, on a level table.");
    // Unevenness that the corners show, seen at the camera's angle to the card.
    const double unevenness_mm = scene.pose.noise_px() / scene.sighting.px_per_mm;
    add("card flatness", 0.5 * unevenness_mm, 12, "Glue the card flat on stiff board.");
    return combine_independent(value, std::move(lines));
  }
};

std::vector<double> station_places(const PadReading& reading) {
  double first = -1e9, last = 1e9;
  for (const PlacedEdge& edge : reading.edges) {
    first = std::max(first, edge.along_first_mm);
    last = std::min(last, edge.along_last_mm);
  }
  std::vector<double> places;
  if (last - first < 12) {
    const double middle = (first + last) / 2, half = std::max(1.0, (last - first) * 0.4);
    return {middle - half, middle, middle + half};
  }
  first = std::max(first + 1, -20.0);
  last = std::min(last - 1, 20.0);
  for (int i = 0; i <= 4; ++i) places.push_back(first + (last - first) * i / 4.0);
  return places;
}

}  // namespace

std::vector<Dimension> pad_sizes(const PlaneScene& scene, const PadReading& reading,
                                 const MeasureOptions& options) {
  const BudgetBuilder builder(scene, reading, options);
  const std::vector<double> places = station_places(reading);
  const double middle = places[places.size() / 2];

  std::vector<Dimension> dimensions;
  const auto add = [&](const char* name, std::size_t from, std::size_t to) {
    Dimension d;
    d.name = name;
    d.quantity = builder.quantity(
        [=](const SizeModel& m) { return m.thickness(from, to, middle); }, {from, to},
        [middle](const PlacedEdge& e) {
          return std::hypot(e.placing_u_mm, e.slope_u * (middle - e.middle_mm));
        });
    d.confidence = std::min(reading.edges[from].confidence, reading.edges[to].confidence);
    for (const double place : places)
      d.stations.push_back({place, builder.nominal.thickness(from, to, place)});
    dimensions.push_back(std::move(d));
  };
  add("overall_thickness", PadReading::plate_outer, PadReading::friction_outer);
  add("plate_thickness", PadReading::plate_outer, PadReading::plate_friction);
  add("friction_thickness", PadReading::plate_friction, PadReading::friction_outer);

  Dimension taper;
  taper.name = "friction_taper";
  const double first = places.front(), last = places.back();
  taper.quantity = builder.quantity(
      [=](const SizeModel& m) {
        return m.thickness(PadReading::plate_friction, PadReading::friction_outer, last) -
               m.thickness(PadReading::plate_friction, PadReading::friction_outer, first);
      },
      {PadReading::plate_friction, PadReading::friction_outer},
      [=](const PlacedEdge& e) { return e.slope_u * (last - first); });
  // What counts as the edge is alike at both ends: most of it cancels in the difference.
  std::vector<BudgetLine> lines = taper.quantity.budget;
  for (BudgetLine& line : lines)
    if (line.source.starts_with("what counts")) line.standard_uncertainty_mm *= 0.5;
  taper.quantity = combine_independent(taper.quantity.value_mm, std::move(lines));
  taper.confidence = dimensions.back().confidence;
  taper.stations = {{first, dimensions.back().stations.front().value_mm},
                    {last, dimensions.back().stations.back().value_mm}};
  dimensions.push_back(std::move(taper));
  return dimensions;
}

namespace {

std::vector<Point_px> on_photo(const PlaneScene& scene, const PartFrame& frame,
                               const PlacedEdge& edge) {
  std::vector<Point_px> points;
  constexpr int kPieces = 8;  // the lens bends a straight edge a little
  for (int i = 0; i <= kPieces; ++i) {
    const double along =
        edge.along_first_mm + (edge.along_last_mm - edge.along_first_mm) * i / kPieces;
    points.push_back(scene.pose.project(frame.place(along, edge.at(along))));
  }
  return points;
}

}  // namespace

std::vector<MeasuredEdge> pad_edges_on_photo(const PlaneScene& scene, const PadReading& reading) {
  std::vector<MeasuredEdge> edges;
  for (std::size_t i = 0; i < reading.edges.size(); ++i) {
    const PlacedEdge& placed = reading.edges[i];
    MeasuredEdge edge;
    edge.name = placed.name;
    edge.points_px = on_photo(scene, reading.frame, placed);
    edge.confidence = placed.confidence;
    edge.origin = placed.origin;
    edge.blur_px = placed.blur_px;
    edge.residual_px = placed.residual_px;
    for (const PlacedRival& rival : reading.rivals[i]) {
      EdgeRival out;
      out.points_px = on_photo(scene, reading.frame, rival.line);
      const double middle = placed.middle_mm;
      out.shift_mm = rival.line.at(middle) - placed.at(middle);
      out.strength = rival.strength;
      out.reading = rival.reading;
      edge.rivals.push_back(std::move(out));
    }
    edges.push_back(std::move(edge));
  }
  return edges;
}

}  // namespace scantling
