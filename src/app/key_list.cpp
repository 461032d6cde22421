#include "app/key_list.h"

namespace scantling {

namespace {

using A = KeyAction;

constexpr std::initializer_list<A> kNone{};
constexpr std::initializer_list<A> kNextEdge{A::next_edge, A::previous_edge};
constexpr std::initializer_list<A> kNudge{A::nudge};
constexpr std::initializer_list<A> kConfirm{A::confirm};
constexpr std::initializer_list<A> kRivals{A::toggle_rivals};
constexpr std::initializer_list<A> kNextToConfirm{A::next_to_confirm};
constexpr std::initializer_list<A> kSorting{A::sorting};
constexpr std::initializer_list<A> kBrightness{A::brighten, A::darken};
constexpr std::initializer_list<A> kTurn{A::turn_right, A::turn_left};
constexpr std::initializer_list<A> kLight{A::light};
constexpr std::initializer_list<A> kRuler{A::ruler};
constexpr std::initializer_list<A> kCompare{A::compare};
constexpr std::initializer_list<A> kGuide{A::guide};
constexpr std::initializer_list<A> kDelete{A::remove_photo};
constexpr std::initializer_list<A> kMap{A::axle_map};
constexpr std::initializer_list<A> kPlanes{A::planes};
constexpr std::initializer_list<A> kHistory{A::history};
constexpr std::initializer_list<A> kWork{A::work};
constexpr std::initializer_list<A> kPhotos{A::next_photo, A::previous_photo};
constexpr std::initializer_list<A> kPanels{A::next_panel, A::previous_panel};
constexpr std::initializer_list<A> kMenu{A::menu_bar};
constexpr std::initializer_list<A> kZoom{A::zoom_in, A::zoom_out};
constexpr std::initializer_list<A> kShow{A::zoom_fit, A::zoom_actual, A::zoom_part};
constexpr std::initializer_list<A> kEscape{A::escape};
constexpr std::initializer_list<A> kUndo{A::undo, A::redo};
constexpr std::initializer_list<A> kCopy{A::copy_result};
constexpr std::initializer_list<A> kFiles{A::new_job, A::open_photos, A::report, A::quit};
constexpr std::initializer_list<A> kSettings{A::settings};
constexpr std::initializer_list<A> kSave{A::save};
constexpr std::initializer_list<A> kHelp{A::help};

constexpr KeyLine kKeys[] = {
    {"Drag a square or the ring", "move one end of an edge, or all of it", kNone},
    {"Ctrl while dragging", "place it freely, without snapping to a real edge", kNone},
    {"Tab, Shift+Tab", "next edge, edge before", kNextEdge},
    {"Arrow keys", "move the selected edge by 1 pixel; Shift 10, Alt 0.1", kNudge},
    {"Enter", "confirm the selected edge, or all where none is selected; then the next photo",
     kConfirm},
    {"Page Down, Page Up", "the next photo of this part, the one before", kPhotos},
    {"N", "the next photo with an edge to confirm", kNextToConfirm},
    {"R", "show the other lines that the selected edge could be", kRivals},
    {"Delete", "remove the photo from the part; undo brings it back", kDelete},
    {"Wheel, + and −", "zoom", kZoom},
    {"0, 1, 2", "whole photo, one to one, the part", kShow},
    {"B, Shift+B", "show the photo brighter, darker; sizes stay as they are", kBrightness},
    {"T, Shift+T", "turn the photo right, left", kTurn},
    {"L", "the light across the selected edge, with the blurred step fitted to it", kLight},
    {"D", "ruler: drag, or arrow keys and Tab; measures in the card's plane, Esc ends", kRuler},
    {"C", "another photo beside this one, or the same part then and now; Tab: the next one",
     kCompare},
    {"G", "how to take the photos, and back; Tab or arrow keys: another view", kGuide},
    {"Drag beside the edges, or Space", "move the photo", kNone},
    {"M", "the whole axle, and back; there arrow keys choose a part, Enter opens it", kMap},
    {"P", "the sizes from planes, and back; there arrow keys turn, Tab shows the photos", kPlanes},
    {"H", "the axle's history, and back; there arrow keys choose, Enter opens a job", kHistory},
    {"S", "sort photos, and back; arrows choose a photo and its place, Enter files all", kSorting},
    {"W", "the work done and its refit list, and back (Esc)", kWork},
    {"F6, Shift+F6", "through the panels; there Tab or arrows go on, Enter or Space presses",
     kPanels},
    {"F10", "the menus", kMenu},
    {"Esc", "back to the photo; let go of a drag; deselect; back from a page", kEscape},
    {"Ctrl+Z; Ctrl+Shift+Z or Ctrl+Y", "undo; redo", kUndo},
    {"Ctrl+C", "copy the part's result as text", kCopy},
    {"Ctrl+N, Ctrl+O, Ctrl+P or Ctrl+E, Ctrl+Q", "new job, add photos, report, quit", kFiles},
    {"Ctrl+,", "settings: units, text size, your name", kSettings},
    {"Ctrl+S", "nothing to do: every change is saved at once", kSave},
    {"F1", "this list", kHelp},
};

}  // namespace

std::span<const KeyLine> key_list() {
  return kKeys;
}

}  // namespace scantling
