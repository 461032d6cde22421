#pragma once

#include <vector>

#include "dimension/lip_view.h"
#include "dimension/part_reading.h"

namespace scantling {

/// One reading of the lines beyond the card as a worn track's end: the foot of the lip's wall, its
/// top, and where the lip ends towards the rim. Indexes into LipView::lines; -1 where not seen.
struct LipHypothesis {
  int foot = -1;
  int top = -1;
  int outer = -1;
  double score = 0;
};

struct LipSearch {
  LipView view;
  std::vector<LipHypothesis> hypotheses;  ///< best first; differ in foot or top
};

struct LipSearchResult {
  std::optional<LipSearch> search;
  std::vector<Check> checks;  ///< why there is none
};

/// Unrolls the disc beyond the card and scores every reading of its lines.
LipSearchResult search_lip(const PlaneScene& scene, const MeasureOptions& options);

/// Places the edges of one of the readings.
PartReading place_lip(const PlaneScene& scene, const LipSearch& search, std::size_t hypothesis);

/// The same where other photos of the lip have their say: `scores` are those of the readings in the
/// light of all photos, as of LipAgreement; readings without one are out of the question.
PartReading place_agreed_lip(const PlaneScene& scene, const LipSearch& search,
                             std::size_t hypothesis, const std::vector<double>& scores);

struct LipChoice {
  double score = 0;
  LipFacts facts;
};

/// Which reading of each photo fits the others' best: one foot, one height, one run.
struct LipAgreement {
  std::vector<std::size_t> chosen;  ///< one for each photo
  /// For each reading of each photo the log-likelihood of the best choice for all photos that holds
  /// it: how far a rival is behind, the other photos considered.
  std::vector<std::vector<double>> scores;
};
LipAgreement choose_lip_readings(const std::vector<std::vector<LipChoice>>& photos);

/// Tells of a photo that is too far, too flat or too steep for a lip.
void check_lip_view(const PlaneScene& scene, const PartReading& reading,
                    std::vector<Check>& checks);

}  // namespace scantling
