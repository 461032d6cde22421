#pragma once

#include "geometry/points.h"

namespace scantling {

class CardPose;
struct CardDefinition;

/// Where a printed card stands against the ground sheet, or the camera against a card: lengths in
/// the second one's frame, z into its printed face.
struct PieceStance {
  Point3_mm centre_mm;
  Point3_mm into;   ///< unit vector, away from the printed face
  Point3_mm along;  ///< unit vector, the card's x
};

/// The card's stance in the ground sheet's frame, seen in one photo: half a millimetre and a degree
/// sure, enough to tell whether anything was moved between two photos. Both poses must rest on one
/// camera.
PieceStance stance_on_sheet(const CardPose& sheet, const CardPose& card,
                            const CardDefinition& definition);

/// The camera's stance in the card's frame.
PieceStance camera_stance(const CardPose& card);

/// Between two directions, 0 to 180.
double angle_deg(const Point3_mm& a, const Point3_mm& b);

double distance_mm(const Point3_mm& a, const Point3_mm& b);

/// Between a card and the sheet's plane, 0 where it lies level with its face up.
double tilt_on_sheet_deg(const PieceStance& card);

/// The height in mm of the card's centre over the sheet's plane.
double height_over_sheet_mm(const PieceStance& card);

/// Whether two photos of one card show the same undisturbed set-up.
bool same_set_up(const PieceStance& a, const PieceStance& b);

/// Whether two photos were taken from nearly the same place: closer than a fiftieth of the camera's
/// distance, turned by less than 1.5 degrees.
bool same_stand(const PieceStance& a, const PieceStance& b);

}  // namespace scantling
