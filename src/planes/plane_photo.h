#pragma once

#include <array>
#include <string>
#include <vector>

#include "base/check.h"
#include "camera/camera_model.h"
#include "card/card_sighting.h"
#include "photo/photo.h"

namespace scantling {

struct CameraShelf;

/// The printed pieces of the plane views. `ground` carries the frame that all is measured in.
enum class PlanePiece { ground = 0, card_a = 1, card_b = 2 };
inline constexpr std::size_t kPlanePieces = 3;

/// Which definition serves as which piece.
using PlanePieceSet = std::array<const CardDefinition*, kPlanePieces>;
PlanePieceSet printed_pieces();  ///< ground sheet, track cards A and B

const char* piece_words(PlanePiece piece);  ///< "ground sheet", "card A", "card B"

/// What one photo shows of the pieces, and the camera it was taken with: all that the solving needs
/// of it. The picture itself is not kept.
struct PlanePhoto {
  std::string name;  ///< as messages show it; unique within a session
  int width_px = 0;  ///< upright
  int height_px = 0;
  int exif_orientation = 1;
  CameraTags tags;
  CameraPrior prior;                 ///< for the upright photo
  std::string camera_key;            ///< photos with the same key share their lens
  std::vector<CardSighting> pieces;  ///< those that were found; at most one of each
  std::vector<Check> checks;         ///< of this photo alone, its name in the sentence
  double decode_ms = 0;
  double search_ms = 0;

  const CardSighting* piece(const CardDefinition* card) const;
};

/// Finds the pieces in a photo. A piece that is not in it is no fault here: the session knows which
/// are wanted. What was found of a piece that is mirrored, doubled or half hidden is said.
/// `cameras`: the profiles at hand; a photo that none fits is taken by its EXIF tags.
PlanePhoto sight_pieces(const Photo& photo, const std::string& name,
                        const CameraShelf* cameras = nullptr);

/// Loads and searches; a file that can't be read gives a photo without pieces and its `stop` check.
PlanePhoto sight_pieces(const std::filesystem::path& path, const CameraShelf* cameras = nullptr);

/// Whether two photos are one: every corner at the very same place. Counted twice it would make the
/// size look surer than it is.
bool same_picture(const PlanePhoto& a, const PlanePhoto& b);

/// Photos with the same make, model, lens and sensor size may share one camera.
std::string camera_key_of(const CameraTags& tags, int width_px, int height_px);

}  // namespace scantling
