#pragma once

#include "record/record.h"

namespace scantling {

/// An invented car and job with one pad, for the tests of this folder.
struct SampleJob {
  std::int64_t vehicle, sheet, job, pad;
};

inline SampleJob add_sample_job(Record& record) {
  SampleJob ids{};
  Vehicle vehicle;
  vehicle.name = "Bödvar's estate";
  vehicle.registration = "XQ 417 T";
  vehicle.make_model = "Hallow 1.6";
  vehicle.owner = "Ása Þórsdóttir";
  ids.vehicle = record.add_vehicle(vehicle);

  Sheet sheet;
  sheet.name = "A4, kitchen printer";
  sheet.scale = {0.9975, 1.0015, 0.0004, true};
  sheet.how_checked = "check bars with a steel rule";
  sheet.checked_at = "2026-11-20T18:00:00Z";
  ids.sheet = record.add_sheet(sheet);

  Job job;
  job.vehicle_id = ids.vehicle;
  job.date = "2026-11-21";
  job.odometer_km = 81250.5;
  job.axle = Axle::rear;
  job.note = "squeal when cold";
  job.sheet_id = ids.sheet;
  ids.job = record.add_job(job);

  Part pad;
  pad.job_id = ids.job;
  pad.kind = PartKind::pad;
  pad.side = Side::right;
  pad.place = PadPlace::outer;
  pad.minimum_mm = 2.0;
  pad.minimum_origin = "workshop manual";
  ids.pad = record.add_part(pad);
  return ids;
}

inline Measurement sample_measurement() {
  Measurement m;
  m.view = View::pad;
  Dimension d;
  d.name = "friction_thickness";
  d.quantity = combine_independent(5.02, {{"print scale", 0.02, kUnlimitedDegreesOfFreedom, ""},
                                          {"edge", 0.015, 12, "take a sharper photo"}});
  d.confidence = 0.97;
  d.stations = {{-20, 5.06}, {0, 5.02}, {20, 4.98}};
  m.dimensions.push_back(d);
  MeasuredEdge edge;
  edge.name = "friction_outer";
  edge.points_px = {{100.25, 200.5}, {900.75, 205.125}};
  edge.confidence = 0.97;
  edge.rivals.push_back({{{100, 210}, {900, 215}}, 0.8, 0.6, "where the chamfer begins"});
  m.edges.push_back(edge);
  m.card = CardSummary{"notch", "the photo's EXIF focal length", 61, 0.14, 9.8, 6.2, 310};
  m.checks.push_back({"camera_unknown", Severity::info, "No camera profile."});
  return m;
}

inline MeasurementEntry sample_entry(std::int64_t photo_id) {
  MeasurementEntry entry;
  entry.photo_id = photo_id;
  entry.measurement = sample_measurement();
  entry.options.sheet_scale = {0.9975, 1.0015, 0.0004, true};
  entry.options.part_offset = {1.25, 0.2};
  entry.moved_edges = {{"friction_outer", {{100.25, 200.5}, {900.75, 205.125}}}};
  return entry;
}

}  // namespace scantling
