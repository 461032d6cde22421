#pragma once

#include <atomic>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/check.h"
#include "dimension/analysis.h"
#include "sorting/piece_stance.h"

namespace scantling {

/// A size with its standard uncertainty, as far as it tells parts apart.
struct RoughSize {
  double value_mm = 0;
  double standard_uncertainty_mm = 0;
};

/// Whether two sizes may be of one part: closer than three times their joint uncertainty.
bool may_be_same_size(const RoughSize& a, const RoughSize& b);

/// What one photo shows, as far as its file, the cards in it and the edges tell; nothing of other
/// photos.
struct PhotoSight {
  std::filesystem::path file;
  std::string sha256;                   ///< of the content; empty where it cannot be read
  std::string taken_at;                 ///< Exif's text; empty where absent
  std::optional<std::int64_t> taken_s;  ///< see taken_time_s()
  std::string camera;                   ///< make and model; empty where absent

  std::optional<View> view;  ///< nothing: not recognised, or the bare sheet
  bool bare_sheet = false;   ///< the ground sheet and no card
  double sureness = 0;       ///< 0..1, that `view` is what the photo shows
  std::string why;           ///< by what it was recognised, or why not, in a few words
  /// The view that it might be instead; nothing where there is no doubt.
  std::optional<View> rival;
  /// What the measuring says of it; a `stop` is the reason why it gives no size.
  std::vector<Check> checks;
  bool usable() const { return view && !any_stop(checks); }

  std::optional<PieceStance> stand;   ///< of the camera to the card nearest to the part
  std::optional<PieceStance> card_a;  ///< track cards on the ground sheet
  std::optional<PieceStance> card_b;
  std::optional<RoughSize> thickness;  ///< pad or rim; pile: the pad's
  std::optional<double> foot_mm;       ///< lip: from the card's middle to the wall's foot
  double surest_edges = 0;  ///< 0..1, of the edges it is measured by: which double to keep
};

struct SightOptions {
  SheetScale sheet_scale;
  double card_thickness_mm = 0.25;  ///< of the cut-out cards
  std::shared_ptr<const CameraShelf> cameras = nullptr;
};

/// Looks at one photo. Never throws for bad input; safe to call from several threads.
PhotoSight sight_photo(const std::filesystem::path& photo, const SightOptions& options = {});

/// Looks at many photos on `threads` threads; the result is in the photos' order and the same
/// however many threads there are. Where `stop` turns true, those not begun stay empty.
std::vector<PhotoSight> sight_photos(const std::vector<std::filesystem::path>& photos,
                                     const SightOptions& options, unsigned threads,
                                     const std::atomic<bool>* stop = nullptr);

}  // namespace scantling
