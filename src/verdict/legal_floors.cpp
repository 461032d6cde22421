#include "verdict/legal_floors.h"

#include <array>

namespace scantling {

namespace {

constexpr std::array<LegalFloor, 4> kFloors{{
    {"United Kingdom", "cars and passenger vehicles: pad", 1.5, "below 1.5 mm", false,
     "MOT inspection manual, cars and passenger vehicles", "1.1.13 (a)(ii)"},
    {"United States", "trucks, tractors and buses, hydraulic disc brake: pad", 1.6,
     "1.6 mm (1/16 in) or less", true, "49 CFR 393.47", "(d)(1) and (d)(2)"},
    {"United States", "trucks, tractors and buses, air disc brake: pad", 3.2,
     "less than 3.2 mm (1/8 in)", false, "49 CFR 393.47", "(d)(1) and (d)(2)"},
    {"United States", "vehicles over 10 000 lb where a State adopts it: bonded pad over its plate",
     1.5875, "1/16 in", false, "49 CFR 570.59", "(c)"},
}};

constexpr std::array<LegalNote, 4> kNotes{{
    {"United Kingdom",
     "A disc below its maker's limit is not by itself a reason to reject: a pass does not mean "
     "that "
     "the disc is above its minimum.",
     "MOT inspection manual, 1.1.14 note"},
    {"United States",
     "A rotor with a limit embossed on it must be within that limit; without one, within its "
     "maker's specification (vehicles over 10 000 lb, where a State adopts it).",
     "49 CFR 570.59(b)"},
    // Value from memory: that the Directive's rows on linings and discs name no thickness.
    {"European Union",
     "The Directive on periodic tests names no thickness in millimetres; national law may.",
     "Directive 2014/45/EU, Annex I, 1.1.13 and 1.1.14"},
    // Value from memory.
    {"UN Regulations",
     "Disc wear may be judged only by direct measurement or by wear indicators, and the maker "
     "states the greatest wear allowed.",
     "UN Regulation No. 13-H, 5.2.11.2.2"},
}};

}  // namespace

std::span<const LegalFloor> legal_floors() {
  return kFloors;
}

bool fails(const LegalFloor& floor, double size_mm) {
  // Written so that no number at all fails too.
  return floor.floor_itself_fails ? !(size_mm > floor.floor_mm) : !(size_mm >= floor.floor_mm);
}

std::span<const LegalNote> legal_notes() {
  return kNotes;
}

std::string_view legal_floors_heading() {
  return "Published floors, for information. None of them is your part's minimum: the figure of "
         "the "
         "part's or vehicle's maker comes first, and a part above a floor may still be worn out.";
}

}  // namespace scantling
