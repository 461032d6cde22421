#include "planes/plane_photo.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>

#include "camera/camera_shelf.h"
#include "card/search_effort.h"

namespace scantling {
namespace {

double ms_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
      .count();
}

/// Whether the picture still has the size that the camera wrote into it.
bool resized_or_cropped(const CameraTags& tags, int width_px, int height_px) {
  if (!tags.exif_width_px || !tags.exif_height_px) return false;
  const auto written = std::minmax(*tags.exif_width_px, *tags.exif_height_px);
  const auto real = std::minmax(width_px, height_px);
  return written.first != real.first || written.second != real.second;
}

void check_piece(PlanePiece piece, const CardSearch& search, PlanePhoto& photo) {
  for (const Check& check : search.checks) {
    const auto say = [&](const char* id, Severity severity, std::string message) {
      photo.checks.push_back({id, severity, std::move(message)});
    };
    const std::string words = piece_words(piece);
    if (check.id == "photo_mirrored")
      say("card_from_behind", Severity::warn,
          fmt::format("'{}' shows the {} from behind or mirrored. Turn its printed side to the "
                      "camera, don't photograph it in a mirror, and take this photo again.",
                      photo.name, words));
    else if (check.id == "card_twice")
      say("card_twice", Severity::warn,
          fmt::format("'{}' shows two pieces with the markers of the {}. Leave only one in the "
                      "picture and take this photo again.",
                      photo.name, words));
    else if (check.id == "card_too_few_corners" && search.sighting == std::nullopt)
      say("card_unreadable", Severity::warn,
          fmt::format("'{}' shows too little of the {} to use it: it is folded, hidden or blurred. "
                      "Take this photo again with its whole face in view.",
                      photo.name, words));
    else if (check.id == "card_partly_hidden" && piece != PlanePiece::ground)
      say("card_partly_hidden", Severity::warn,
          fmt::format("Part of the {} is hidden, folded or out of the picture in '{}'. Show its "
                      "whole face for a surer size.",
                      words, photo.name));
  }
}

}  // namespace

PlanePieceSet printed_pieces() {
  return {&ground_sheet(), &track_card(), &track_card_b()};
}

const char* piece_words(PlanePiece piece) {
  return piece == PlanePiece::ground   ? "ground sheet"
         : piece == PlanePiece::card_a ? "card A"
                                       : "card B";
}

const CardSighting* PlanePhoto::piece(const CardDefinition* card) const {
  for (const CardSighting& sighting : pieces)
    if (sighting.card == card) return &sighting;
  return nullptr;
}

bool same_picture(const PlanePhoto& a, const PlanePhoto& b) {
  if (a.pieces.empty() || a.pieces.size() != b.pieces.size()) return false;
  for (std::size_t i = 0; i < a.pieces.size(); ++i) {
    const CardSighting &p = a.pieces[i], &q = b.pieces[i];
    const bool same =
        p.card == q.card &&
        std::equal(p.corners.begin(), p.corners.end(), q.corners.begin(), q.corners.end(),
                   [](const SightedCorner& c, const SightedCorner& d) {
                     return c.id == d.id && c.photo_px.x == d.photo_px.x &&
                            c.photo_px.y == d.photo_px.y;
                   });
    if (!same) return false;
  }
  return true;
}

std::string camera_key_of(const CameraTags& tags, int width_px, int height_px) {
  const auto sides = std::minmax(width_px, height_px);
  return fmt::format("{}|{}|{:.2f}|{:.1f}|{}x{}", tags.make, tags.model,
                     tags.focal_length_mm.value_or(0), tags.focal_length_35mm.value_or(0),
                     sides.second, sides.first);
}

PlanePhoto sight_pieces(const Photo& photo, const std::string& name, const CameraShelf* cameras) {
  const auto start = std::chrono::steady_clock::now();
  PlanePhoto result;
  result.name = name;
  result.width_px = photo.width_px();
  result.height_px = photo.height_px();
  result.exif_orientation = photo.exif_orientation;
  result.tags = photo.tags;
  CameraKnowledge known = camera_knowledge(photo, cameras);
  result.prior = known.prior;
  // Whether a lens is unknown is told once for all photos.
  for (Check& check : known.checks)
    if (check.severity != Severity::info) {
      check.message = fmt::format("'{}': {}", name, check.message);
      result.checks.push_back(std::move(check));
    }
  result.camera_key = camera_key_of(photo.tags, photo.width_px(), photo.height_px());
  result.decode_ms = photo.decode_ms;
  if (resized_or_cropped(photo.tags, photo.width_px(), photo.height_px())) {
    // A crop moves the lens's axis away from the middle.
    result.prior.centre_u_px *= 15;
    result.prior.focal_relative_u = std::max(result.prior.focal_relative_u, 0.15);
    result.checks.push_back(
        {"photo_cropped", Severity::warn,
         fmt::format("'{}' was cropped or made smaller after it was taken, so its lens is less "
                     "sure. Use the phone's original file.",
                     name)});
  }
  const PlanePieceSet set = printed_pieces();
  const auto search = [&](PlanePiece piece, SearchEffort effort) {
    CardSearch found = find_card(photo.luma, *set[static_cast<std::size_t>(piece)], effort);
    check_piece(piece, found, result);
    if (found.sighting) result.pieces.push_back(std::move(*found.sighting));
  };
  search(PlanePiece::ground, SearchEffort::thorough);
  // One of the cards is usually on the other side of the disc: only where both seem missing it pays
  // to look harder.
  const std::size_t before = result.pieces.size(), checks = result.checks.size();
  search(PlanePiece::card_a, SearchEffort::quick);
  search(PlanePiece::card_b, SearchEffort::quick);
  if (result.pieces.size() == before) {
    result.checks.resize(checks);
    search(PlanePiece::card_a, SearchEffort::thorough);
    search(PlanePiece::card_b, SearchEffort::thorough);
  }
  result.search_ms = ms_since(start);
  return result;
}

PlanePhoto sight_pieces(const std::filesystem::path& path, const CameraShelf* cameras) {
  PlanePhoto result;
  const std::string name = path.filename().string();
  PhotoLoad load = load_photo(path);
  if (load.photo) result = sight_pieces(*load.photo, name, cameras);
  result.name = name;
  result.checks.insert(result.checks.begin(), load.checks.begin(), load.checks.end());
  return result;
}

}  // namespace scantling
