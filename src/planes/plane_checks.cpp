#include "planes/plane_checks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace scantling {
namespace {

/// Two directions closer than this leave the depth to one of them.
constexpr double kAlike_deg = 12;

std::string quoted(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i)
    text += fmt::format("{}'{}'", i == 0 ? "" : i + 1 < names.size() ? ", " : " and ", names[i]);
  return text;
}

class Checks {
 public:
  void say(const char* id, Severity severity, std::string message) {
    list_.push_back({id, severity, std::move(message)});
  }
  std::vector<Check> take() { return std::move(list_); }

 private:
  std::vector<Check> list_;
};

void check_counts(const std::vector<PlanePhoto>& photos, const PlanesOptions& options,
                  Checks& checks) {
  std::vector<std::string> no_sheet, no_card, doubled;
  std::array<int, kPlanePieces> count{};
  for (std::size_t i = 0; i < photos.size(); ++i) {
    const PlanePhoto& photo = photos[i];
    if (any_stop(photo.checks)) continue;  // its own check says why
    if (std::any_of(photos.begin(), photos.begin() + static_cast<long>(i),
                    [&](const PlanePhoto& p) { return same_picture(p, photo); })) {
      doubled.push_back(photo.name);
      continue;
    }
    const bool sheet = photo.piece(options.pieces[0]) != nullptr;
    const bool a = photo.piece(options.pieces[1]) != nullptr;
    const bool b = photo.piece(options.pieces[2]) != nullptr;
    if (!sheet)
      no_sheet.push_back(photo.name);
    else if (!a && !b)
      no_card.push_back(photo.name);
    count[0] += sheet;
    count[1] += sheet && a;
    count[2] += sheet && b;
  }
  if (!doubled.empty())
    checks.say("photo_twice", Severity::warn,
               fmt::format("{} {} the same as another photo, so it counts once. Each photo must be "
                           "taken anew, from another direction.",
                           quoted(doubled), doubled.size() == 1 ? "is" : "are"));
  if (!no_sheet.empty())
    checks.say(
        "sheet_missing", Severity::warn,
        fmt::format("No ground sheet can be read in {}, so {} not used. Keep the sheet under "
                    "the part in every picture, sharp and well lit.",
                    quoted(no_sheet), no_sheet.size() == 1 ? "that photo is" : "they are"));
  if (!no_card.empty())
    checks.say(
        "card_missing", Severity::warn,
        fmt::format("No track card can be read in {}: hidden, seen from behind, or too small. "
                    "Show the card's printed face and go closer.",
                    quoted(no_card)));
  const auto say_missing = [&](std::string message) {
    checks.say("too_few_photos", Severity::stop, std::move(message));
  };
  if (options.view == PlanesView::faces) {
    for (const PlanePiece card : {PlanePiece::card_a, PlanePiece::card_b}) {
      const int n = count[static_cast<std::size_t>(card)];
      const char* side = card == PlanePiece::card_a ? "outboard" : "inboard";
      if (n == 0)
        say_missing(
            fmt::format("No photo shows {} together with the ground sheet. Take two or more of the "
                        "{} side, from different directions.",
                        piece_words(card), side));
      else if (n == 1)
        say_missing(
            fmt::format("Only one photo shows {} together with the ground sheet. Take at least one "
                        "more of the {} side, from another direction.",
                        piece_words(card), side));
    }
  } else if (std::max(count[1], count[2]) < 2) {
    say_missing(
        "Too few photos show a track card on the pad together with the ground sheet. Take two or "
        "more from different sides of the pad.");
  } else if (std::min(count[1], count[2]) == 1) {
    say_missing(
        fmt::format("Only one photo shows {}. Show both cards in at least two photos, or "
                    "take one of them away.",
                    piece_words(count[1] == 1 ? PlanePiece::card_a : PlanePiece::card_b)));
  }
}

}  // namespace

std::vector<Check> checks_before(const std::vector<PlanePhoto>& photos,
                                 const PlanesOptions& options) {
  Checks checks;
  check_counts(photos, options, checks);
  std::set<std::string> cameras;
  bool unknown_lens = false;
  for (const PlanePhoto& photo : photos) {
    if (photo.pieces.empty()) continue;
    cameras.insert(photo.camera_key);
    unknown_lens = unknown_lens || photo.prior.focal_relative_u > 0.1;
  }
  if (cameras.size() > 1)
    checks.say("cameras_mixed", Severity::info,
               fmt::format("The photos come from {} cameras or lenses, so each is worked out from "
                           "its own photos. One phone and one lens for all makes the size surer.",
                           cameras.size()));
  if (unknown_lens)
    checks.say(
        "camera_unknown", Severity::info,
        "A photo does not name its focal length, so its camera is less sure. Use the phone's "
        "original files, not forwarded copies.");
  if (!options.sheet_scale.checked)
    checks.say(
        "sheet_scale_unchecked", Severity::warn,
        "The printed sheet's scale is unchecked. Measure its check bars and enter them: this "
        "is often most of the uncertainty.");
  if (!options.card_thickness.measured)
    checks.say("card_thickness_unmeasured", Severity::warn,
               fmt::format("The card's thickness is taken as {:.2f} mm. Measure it with a calliper "
                           "and enter it: {}",
                           options.card_thickness.thickness_mm,
                           options.view == PlanesView::faces ? "it counts twice."
                                                             : "it is taken off the height."));
  return checks.take();
}

std::vector<Check> checks_after(const PlanesResult& result, const PlanesSolution& solved,
                                const PlanesOptions& options, const SheetUnevenness& uneven,
                                double angle_chi_square) {
  Checks checks;
  std::string next = result.next_photo ? " " + result.next_photo->words : std::string();
  for (const SolvedPiece& piece : result.pieces) {
    if (piece.piece == PlanePiece::ground) continue;
    if (piece.photos >= 2 && piece.largest_angle_deg < kAlike_deg) {
      checks.say("same_direction", Severity::warn,
                 fmt::format("All photos of {} were taken from nearly the same direction, within "
                             "{:.0f} degrees, which leaves its depth unsure.{}",
                             piece_words(piece.piece), piece.largest_angle_deg, next));
      next.clear();  // once is enough
    }
    if (const double bent = std::abs(piece.bend_mm); bent > 0.6)
      checks.say("card_folded", Severity::stop,
                 fmt::format("{} is bent or folded by {:.1f} mm. Glue it flat on stiff card, press "
                             "it on the part, and take the photos again.",
                             piece.piece == PlanePiece::card_a ? "Card A" : "Card B", bent));
    else if (bent > 0.2)
      checks.say("card_bent", Severity::warn,
                 fmt::format("{} seems bent by {:.1f} mm. Press it flat on the part for a surer "
                             "size.",
                             piece.piece == PlanePiece::card_a ? "Card A" : "Card B", bent));
    const double crumpled = piece.residual_px / piece.px_per_mm;
    const bool many_left_out = piece.left_out > 0.15 * (piece.corners + piece.left_out);
    if (crumpled > 0.10 || many_left_out)
      checks.say("card_crumpled", crumpled > 0.25 ? Severity::stop : Severity::warn,
                 fmt::format(
                     "{} is not one flat piece: {}. Smooth or print it again, glue it on stiff "
                     "card and take the photos again.",
                     piece.piece == PlanePiece::card_a ? "Card A" : "Card B",
                     many_left_out ? "a part of it stands off, or is covered"
                                   : fmt::format("its corners lie {:.2f} mm from where they should",
                                                 crumpled)));
  }
  if (result.sheet.curved) {
    const double range = result.sheet.range_mm;
    const bool much = range > 3;
    checks.say(
        "sheet_curled",
        much          ? Severity::stop
        : range > 0.3 ? Severity::warn
                      : Severity::info,
        fmt::format("The ground sheet is not flat: it rises and dips by {:.1f} mm. {}", range,
                    much ? "Tape it flat on a board and take the photos again."
                         : "That was measured and taken into account; a sheet taped flat is "
                           "surer."));
  }
  const SolvedPiece* sheet = result.piece(PlanePiece::ground);
  // Where a part of it stands off, that part's corners are the ones left out.
  if (sheet && sheet->left_out > 0.15 * (sheet->corners + sheet->left_out))
    checks.say("sheet_uneven", Severity::warn,
               fmt::format("{} of {} corners of the ground sheet do not lie where a flat sheet has "
                           "them. Tape it flat on a board for a surer size.",
                           sheet->left_out, sheet->corners + sheet->left_out));
  else if (uneven.rms_mm > 0.12)
    checks.say("sheet_uneven", uneven.rms_mm > 0.5 ? Severity::stop : Severity::warn,
               fmt::format("The ground sheet is cockled: its corners lie {:.2f} mm high and low. "
                           "Tape it flat on a board for a surer size.",
                           uneven.rms_mm));
  if (options.view == PlanesView::faces && result.angle_deg) {
    // Corner noise must make it very unlikely, and it must matter.
    if (*result.angle_deg > 3)
      checks.say(
          "faces_not_parallel", Severity::stop,
          fmt::format("The two cards stand at {:.1f} degrees to each other: one does not lie "
                      "on its face. Press both flat on clean metal and take the photos "
                      "again.",
                      *result.angle_deg));
    else if (angle_chi_square > 13.8 && *result.angle_deg > 0.25)
      checks.say("faces_not_parallel", Severity::warn,
                 fmt::format("The two cards are {:.2f} degrees out of parallel, more than the "
                             "photos' own uncertainty of {:.2f}: one does not lie flat. Wipe both "
                             "faces, press the cards on and take the photos again.",
                             *result.angle_deg, result.angle_u_deg));
  }
  if (result.fit && result.fit->noise_px > 0.5)
    checks.say("corners_unsure", Severity::warn,
               fmt::format("The cards' corners scatter by {:.1f} px: the photos are blurred or "
                           "noisy. More light and a steady hand make the size surer.",
                           result.fit->noise_px));
  if (solved.strained())
    checks.say(
        "fit_strained", Severity::warn,
        "The photos fit together less well than their own sharpness allows, so the "
        "uncertainty was widened. Something may have moved a little, or a piece is not flat.");
  return checks.take();
}

bool first_side_seen_again(const PlanesSolution& solved, const std::vector<std::size_t>& order) {
  int changes = 0;
  std::optional<PlanePiece> last;
  for (const std::size_t photo : order)
    for (const PlaneBundleSighting& s : solved.bundle.sightings) {
      if (s.photo != photo || s.piece == PlanePiece::ground) continue;
      if (last && *last != s.piece) ++changes;
      last = s.piece;
    }
  return changes >= 2;
}

}  // namespace scantling
