#include "app/capture_guide.h"

#include <algorithm>

namespace scantling {

namespace {

constexpr std::array kPadSteps = {
    "Lay the pad on its backing plate on something level, wiped clean.",
    "Stand the notch card against its edge. The pad shows through the notch, its edge flush with "
    "the printed face.",
    "Hold the phone level with the pad and square to the card, 25 to 40 cm away, so that the card "
    "fills the picture's width. Tap the card to focus.",
};
constexpr std::array kPadRuins = {
    "a gap between card and pad",
    "looking down from above",
    "blur: rest the phone on something",
    "flash glare on the card, or a leg of it cut off",
};

constexpr std::array kPileSteps = {
    "Lay the pad on the printed ground sheet, friction side up.",
    "Lay track card A flat on the friction material; on a long pad A at one end and B at the "
    "other.",
    "Take two or more photos from different sides, each with the sheet and the card in it.",
};
constexpr std::array kPileRuins = {
    "pad, card or sheet moved between the photos",
    "all photos from one side",
    "a sheet that curls, or crumbs under pad or card",
    "the sheet cut off by the picture's edge",
};

constexpr std::array kRimSteps = {
    "Brush the rim clean where you measure. The disc may lie, stand, or stay on the car.",
    "Stand the notch card against the rim. The rim shows through the notch and touches the "
    "printed face in its middle.",
    "Hold the phone level with the rim and square to the card, 25 to 40 cm away. Measure the "
    "disc's "
    "diameter with a tape and enter it.",
};
constexpr std::array kRimRuins = {
    "a gap between card and rim",
    "looking down on one face",
    "loose rust on the rim's edges",
    "blur, or flash glare on the card",
};

constexpr std::array kLipSteps = {
    "Lay the track card flat on the worn track, a finger's width from the lip.",
    "Look across it from the hub's side, 14 to 22 cm away, so that the lip shows beyond the card.",
    "Take two photos from two heights: about 20 and 35 degrees over the disc. Leave the card where "
    "it is. Then the same on the disc's other face.",
};
constexpr std::array kLipRuins = {
    "the card moved between the two photos",
    "too far away, or looking steeply down",
    "dirt or rust at the foot of the lip",
    "a card that does not lie flat",
};

constexpr std::array kFacesSteps = {
    "Stand the disc upright on the printed ground sheet, wedged so that it cannot roll.",
    "Fix track card A flat on the outboard worn track and card B on the inboard one, both near the "
    "ground, clear of the lip.",
    "Take two or more photos of each side from different directions, with the sheet in all of "
    "them, "
    "and end with one more of the side you began with.",
};
constexpr std::array kFacesRuins = {
    "disc, card or sheet moved between the photos",
    "both photos of a side from the same place",
    "a card that lies on the lip or on rust",
    "the sheet cut off by the picture's edge",
};

const std::array kGuides = {
    CaptureGuide{View::pad,
                 "Pad",
                 "A pad through the notch card",
                 "One photo will do; a second one checks it.",
                 kPadSteps,
                 kPadRuins,
                 {"From the side", "What the photo shows"},
                 true},
    CaptureGuide{View::pile,
                 "Pad, by planes",
                 "A pad under a card on the ground sheet",
                 "Two photos or more, from different sides.",
                 kPileSteps,
                 kPileRuins,
                 {"From the side", "From above"},
                 false},
    CaptureGuide{View::rim,
                 "Rim",
                 "A disc's rim through the notch card",
                 "One photo will do; a second one checks it.",
                 kRimSteps,
                 kRimRuins,
                 {"From the side", "From above"},
                 true},
    CaptureGuide{View::lip,
                 "Lip",
                 "A disc's lip beyond the track card",
                 "Two photos of each face, from two heights.",
                 kLipSteps,
                 kLipRuins,
                 {"The disc cut through", "What the photo shows"},
                 false},
    CaptureGuide{View::faces,
                 "Disc, by planes",
                 "A disc between two cards on the ground sheet",
                 "Five photos or more: two of each side and one to end with.",
                 kFacesSteps,
                 kFacesRuins,
                 {"The disc seen edge-on", "From above"},
                 false},
};

}  // namespace

std::span<const CaptureGuide> capture_guides() {
  return kGuides;
}

const CaptureGuide& capture_guide(View view) {
  return *std::find_if(kGuides.begin(), kGuides.end(),
                       [&](const CaptureGuide& guide) { return guide.view == view; });
}

}  // namespace scantling
