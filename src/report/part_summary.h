#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "dimension/analysis.h"
#include "dimension/worn.h"
#include "record/record.h"
#include "report/agreement_key.h"
#include "report/governing_size.h"
#include "verdict/agreement.h"
#include "verdict/forecast.h"
#include "verdict/verdict.h"

namespace scantling {

/// An edge found with less confidence than this is no result until somebody confirms it or places
/// it by hand.
inline constexpr double kLeastConfidence = kConfirmBelow;

/// One photo of a part and what may be said from it.
struct PhotoFinding {
  PhotoEntry photo;
  std::optional<MeasurementEntry> newest;  ///< as recorded; in a summary as confirmed
  std::vector<EdgeConfirmation> confirmations;
  std::optional<AgreementKey> key = {};  ///< where it was measured
  /// How this camera and sheet agree with readings by hand; corrects the size
  /// from five pairs on.
  std::optional<Agreement> agreement = {};
  /// The sheet was remeasured after `newest` was made: nothing counts until it is measured again.
  bool scale_changed = false;
  std::optional<Sheet> sheet = {};  ///< it was taken with: its own, else its job's
  bool lost = false;                ///< the stored file is missing or was altered

  // Filled by summarise_part.
  std::vector<std::string> edges_to_confirm;  ///< doubtful, and nobody has agreed to them
  std::optional<GoverningSize> size;          ///< only where it may be shown as a result
};

/// The sizes of one place on the car through its jobs, since a new part was
/// last fitted there.
struct WearHistory {
  std::vector<WearPoint> points;
  std::vector<std::string> labels;    ///< one a point: the job's date, "fitted new ..."
  std::vector<std::int64_t> job_ids;  ///< one a point
  std::optional<double> next_check_km;
  std::string next_check_date;
  std::vector<std::string> left_out;  ///< sentences on jobs that cannot be placed
};

enum class PartStanding {
  nothing_yet,     ///< neither a photo measured nor a reading
  photo_unusable,  ///< photos, but none gives a size
  confirm_first,   ///< an edge is doubtful and unconfirmed
  no_minimum,      ///< a size, but nothing to set it against
  judged
};

/// What is known of one part, worked out in one place for window, commands and report alike.
struct PartSummary {
  Part part;
  std::vector<PhotoFinding> photos;
  std::vector<HandReadingEntry> readings;

  PartStanding standing = PartStanding::nothing_yet;
  std::optional<std::size_t> governing_photo;  ///< index into `photos`
  std::optional<GoverningSize> size;           ///< of the governing photo
  /// What is left above the minimum: the smallest reading by hand, else the governing size, less
  /// the minimum. Negative below it.
  std::optional<double> left_mm;
  std::optional<Verdict> verdict;  ///< only where `standing` is judged
  std::string state;  ///< "keep", "replace", "gauge it", "confirm the edges first", ...
  std::vector<std::string> because;  ///< sentences, the deciding one first
  std::vector<Check> cautions;       ///< photos that disagree, a stale scale, ...

  // Filled by summarise_part(record, part) where earlier jobs of the same place
  // are in the record.
  WearHistory wear = {};
  std::optional<Forecast> forecast = {};  ///< from two sizes on, with a minimum
  /// Discs: rim and lips put together, with a size only where every edge was looked at that had to.
  std::optional<WornThickness> worn = {};
  /// `worn->worn` with the correction of its camera and sheet, where there is one.
  std::optional<Quantity> worn_by_edges = {};
};

/// The edges that a dimension rests on.
std::vector<std::string> edges_of_dimension(std::string_view dimension);

/// Whether an edge needs no more looking at: found with confidence, placed by hand, or confirmed.
bool edge_settled(const MeasuredEdge& edge, const std::vector<EdgeConfirmation>& confirmations);

/// Edges that the judged size of this photo rests on, found with little confidence and confirmed by
/// nobody. An edge moved by hand has been looked at.
std::vector<std::string> unconfirmed_edges(const Measurement& measurement,
                                           const std::vector<EdgeConfirmation>& confirmations);

/// A photo's sizes, the surer for what somebody has confirmed.
Measurement as_confirmed(Measurement measurement,
                         const std::vector<EdgeConfirmation>& confirmations);

/// Among several photos the most certain one governs; where another differs
/// from it by more than their joint 95 % uncertainty, the thinnest one does,
/// and a caution says so. No photo hides another: "keep" asks that each settled photo alone says it
/// (see `photo_that_objects`), else the part is to be gauged. Readings by hand outrank photos (see
/// `judge`).
/// `due_soon`: the forecast reaches the minimum before the next planned check.
PartSummary summarise_part(const Part& part, std::vector<PhotoFinding> photos,
                           std::vector<HandReadingEntry> readings, bool due_soon = false);

/// Whether a photo read by its edges counts: measured with the sheet as it is known now, and each
/// edge that its size rests on found with confidence, placed by hand or confirmed.
bool settled(const PhotoFinding& finding);

/// A disc's rim photos and all photos of one face's lip, of those that are settled; `settled_rim`
/// is the rim that is surest of itself.
std::vector<const PhotoFinding*> settled_rims(const PartSummary& summary);
const Measurement* settled_rim(const PartSummary& summary);
std::vector<Measurement> settled_lips(const PartSummary& summary, DiscFace face);

/// The size that stands for the part: the smallest reading by hand, else the
/// governing photo's; nothing while that is not settled.
std::optional<Quantity> settled_size(const PartSummary& summary);

}  // namespace scantling
