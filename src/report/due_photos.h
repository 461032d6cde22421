#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "report/measure_photos.h"
#include "report/part_summary.h"

namespace scantling {

/// Stands in a photo's newest measurement while the photo waits to be measured with what was
/// entered about it; nothing counts until then.
inline constexpr char kNotMeasuredYet[] = "not_measured_yet";
bool waits_to_be_measured(const Measurement& measurement);

/// The photo's newest measurement as it stands in until the photo was measured with `options`: no
/// sizes, and the edges that somebody has moved, which stay moved.
MeasurementEntry waiting_to_be_measured(const MeasurementEntry& before,
                                        const MeasureOptions& options);

/// Whether the record keeps both alike. What it knows of the camera is kept beside the options.
bool same_options(const MeasureOptions& a, const MeasureOptions& b);

/// What a photo is to be measured with: the scale of its sheet and the diameter of its disc as the
/// record has them now; for the rest, what its newest measurement was made with.
MeasureOptions wanted_options(const PhotoEntry& photo, const Part& part,
                              const std::optional<Sheet>& sheet,
                              const std::optional<MeasurementEntry>& newest);
MeasureOptions wanted_options(const PhotoFinding& finding, const Part& part);

/// Whether the photo wants measuring: it never was, or with other options. Never for photos that
/// are solved from planes, nor where the file is lost: what was measured then stays.
bool is_due(const PhotoFinding& finding, const Part& part);

/// A photo that sets out to be measured, with where it stood then.
struct DuePhoto {
  PhotoToMeasure what;
  std::int64_t after_id = 0;           ///< its newest measurement; 0: none
  std::vector<MovedEdge> moved_edges;  ///< of that; they stay where they were put
  bool due = false;                    ///< else it is read along with another of its lip
};

/// Those of a part's photos that are measured together with the given one: it alone, or all of its
/// lip. Those due go by `cameras`, the others by what they were measured with.
std::vector<DuePhoto> due_together(const Record& record, const PartSummary& part,
                                   std::int64_t photo_id,
                                   const std::shared_ptr<const CameraShelf>& cameras);
std::vector<PhotoToMeasure> to_measure(const std::vector<DuePhoto>& photos);

/// What was measured, on its way into the record.
struct NewMeasurement {
  MeasurementEntry entry;
  std::int64_t after_id = 0;
};
std::vector<NewMeasurement> new_measurements(const std::vector<MeasuredPhoto>& measured,
                                             const std::vector<DuePhoto>& photos);

/// Adds them as one change: of a photo that is due what was measured with the wanted options, of
/// another of the same lip what says otherwise because it was read together with more photos,
/// unless somebody has moved an edge of it.
/// @return the photos that are no longer as they were when they set out: taken off, measured, an
/// edge moved, another scale entered. What was measured of those is not kept; they may be due
/// again.
/// @throws RecordError.
std::vector<std::int64_t> keep_measurements(Record& record,
                                            const std::vector<NewMeasurement>& measured);

}  // namespace scantling
