#pragma once

#include <filesystem>
#include <string>

#include "print/document.h"
#include "record/record.h"
#include "support/temporary_folder.h"

namespace scantling {

/// A drawn picture that stands in for a photo: a plate, friction material, a table.
inline std::string sample_photo_png() {
  Document document({"photo", "", "", "2026-01-01T00:00:00Z"});
  Page& page = document.add_page({200, 150});
  page.fill_box({0, 0, 200, 150}, grey(0.8));
  page.fill_box({50, 70, 100, 10}, grey(0.3));
  page.fill_box({40, 80, 120, 11}, Colour{0.45, 0.3, 0.2});
  return document.png(0, 100);
}

inline Dimension sample_dimension(const std::string& name, double value_mm, double u_mm) {
  Dimension d;
  d.name = name;
  d.quantity = combine_independent(
      value_mm, {{"friction face: chamfer and texture", 0.8 * u_mm, 14, "confirm the edge"},
                 {"print scale", 0.6 * u_mm, kUnlimitedDegreesOfFreedom, "check the bars"}});
  d.confidence = 0.95;
  return d;
}

inline MeasuredEdge sample_edge(const std::string& name, double y_px, double confidence) {
  MeasuredEdge edge;
  edge.name = name;
  edge.points_px = {{170, y_px}, {610, y_px + 2}};
  edge.confidence = confidence;
  edge.residual_px = 0.31;
  return edge;
}

/// A pad with its photo, measured.
inline std::int64_t add_sample_pad(Record& record, std::int64_t job, Side side, PadPlace place,
                                   double friction_mm, double confidence,
                                   const TemporaryFolder& folder) {
  Part part;
  part.job_id = job;
  part.side = side;
  part.place = place;
  part.minimum_mm = 2.0;
  part.minimum_origin = "workshop manual";
  part.id = record.add_part(part);
  const auto photo =
      record.add_photo(part.id, View::pad, folder.file("photo.png", sample_photo_png()));
  MeasurementEntry entry;
  entry.photo_id = photo.id;
  Measurement& m = entry.measurement;
  m.dimensions = {sample_dimension("friction_thickness", friction_mm, 0.03),
                  sample_dimension("plate_thickness", 5.4, 0.02)};
  m.edges = {sample_edge("plate_outer", 356, 0.97), sample_edge("plate_friction", 315, confidence),
             sample_edge("friction_outer", 276, 0.93)};
  m.card = CardSummary{"notch", "the photo's EXIF focal length", 78, 0.11, 13.6, 6.2, 310};
  m.checks = {{"camera_unknown", Severity::info, "No camera profile for this phone."}};
  record.add_measurement(entry);
  return part.id;
}

/// An axle with four pads: keep, gauge it, edges to confirm, and one replaced for a hand reading.
inline std::int64_t add_sample_axle(Record& record, const TemporaryFolder& folder) {
  Vehicle vehicle;
  vehicle.name = "Marrow estate";
  vehicle.registration = "QX 21 HLW";
  vehicle.make_model = "Marrow 1.8";
  vehicle.owner = "Ása Þórsdóttir";
  Job job;
  job.vehicle_id = record.add_vehicle(vehicle);
  job.date = "2026-11-21";
  job.odometer_km = 81250;
  job.id = record.add_job(job);
  add_sample_pad(record, job.id, Side::left, PadPlace::outer, 5.02, 0.95, folder);
  add_sample_pad(record, job.id, Side::left, PadPlace::inner, 2.04, 0.95, folder);
  add_sample_pad(record, job.id, Side::right, PadPlace::outer, 6.41, 0.5, folder);
  HandReadingEntry reading;
  reading.part_id =
      add_sample_pad(record, job.id, Side::right, PadPlace::inner, 1.73, 0.95, folder);
  reading.as_typed = "1,68";
  reading.value_mm = 1.68;
  reading.standard_uncertainty_mm = 0.03;
  reading.instrument = "vernier calliper";
  record.add_hand_reading(reading);
  return job.id;
}

}  // namespace scantling
