#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "accuracy/accuracy_trial.h"

namespace scantling::accuracy {

/// One size from one photo of the corpus (two for a lip) against its truth: as found, and with
/// every edge placed by a careful user.
struct CorpusSize {
  SizeTrial found;
  SizeTrial confirmed;
  SizeTrial on_true_lines;  ///< every edge exactly where it is: the error of all else
  double px_per_mm = 0;     ///< of the first photo, at the card
  bool asks = false;        ///< the program wants an edge looked at before the size counts
  /// Judged as found, without a look, against a minimum 0.01 mm above the true size.
  bool kept_just_below = false;
};

/// How far one edge was found from its true line, and how well it could be placed at all.
struct CorpusPlacing {
  std::string edge;
  double off_px = 0;
  double bound_px = 0;  ///< Cramer-Rao, for the light across this edge
  double blur_px = 0;
  double px_per_mm = 0;
};

/// One part: a pad, a rim, or a lip with its two photos.
struct CorpusTrial {
  std::string name;  ///< of its first scene
  View view = View::pad;
  std::vector<CorpusSize> sizes;
  std::vector<CorpusPlacing> placings;
  std::vector<Check> checks;
  bool stopped = false;
  std::vector<double> photo_ms;  ///< a whole analysis of each photo, decoding included
};

/// What stands in `entries` (tests/corpus/entries.json) for a photo.
MeasureOptions entered_options(const std::filesystem::path& entries, const std::string& name,
                               View view);

/// Measures every photo NAME.jpg of `folder` that has its truth beside it as NAME.json, with what
/// `entries` says of it. @throws std::runtime_error on a folder without such photos.
std::vector<CorpusTrial> run_corpus(const std::filesystem::path& folder,
                                    const std::filesystem::path& entries);

}  // namespace scantling::accuracy
