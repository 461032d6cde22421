#include "verdict/cautions.h"

#include <array>

namespace scantling {

namespace {

constexpr std::string_view kCommonPractice = "common practice";

constexpr std::array<Caution, 6> kCautions{{
    {"Stand the car on level ground, chock it and set it on stands: never rely on the jack.",
     kCommonPractice},
    {"Old linings may hold asbestos: never blow, dry-brush or breathe the dust; wet it and wipe it "
     "up.",
     "29 CFR 1910.1001 appendix F"},
    {"Do not let a calliper hang on its hose.", kCommonPractice},
    {"Tighten to the maker's figure with a torque wrench; some bracket bolts are for one use only.",
     kCommonPractice},
    {"Pump the pedal until it is firm and check the fluid level before you move off.",
     kCommonPractice},
    {"After new pads or discs, bed them in the way their maker says.", kCommonPractice},
}};

constexpr Caution kWheelOff{
    "Before the wheel comes off: the car level, chocked and on stands, never on the jack alone.",
    kCommonPractice};
constexpr Caution kAtTheDisc{
    "Let the disc cool first. Wipe its dust off wet, never blow it: old linings may hold asbestos.",
    "common practice; 29 CFR 1910.1001 appendix F"};
constexpr Caution kTightening{"The maker's figures alone count; some bolts are for one use only.",
                              kCommonPractice};
constexpr Caution kPuttingInUse{"New pads and discs are bedded in the way their maker says.",
                                kCommonPractice};
constexpr Caution kDeciding{"In doubt, have a licensed technician look at it.", kCommonPractice};

}  // namespace

const Caution& caution_at(WorkStage stage) {
  switch (stage) {
    case WorkStage::wheel_off:
      return kWheelOff;
    case WorkStage::at_the_disc:
      return kAtTheDisc;
    case WorkStage::tightening:
      return kTightening;
    case WorkStage::putting_in_use:
      return kPuttingInUse;
    case WorkStage::deciding:
      break;
  }
  return kDeciding;
}

std::string_view beyond_thickness() {
  return "Thickness is not the whole brake: cracks, heat damage, thickness variation, run-out, "
         "glazing, loose friction material, hydraulic faults and fitting errors do not show here.";
}

std::span<const Caution> work_cautions() {
  return kCautions;
}

}  // namespace scantling
