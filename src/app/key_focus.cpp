#include "app/key_focus.h"

#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "app/theme.h"

namespace scantling {

namespace {

constexpr const char* kMenuBar = "##MainMenuBar";
constexpr const char* kTabs = "##side_tabs";  ///< F6 goes straight to what they show

ImGuiContext& context() {
  return *ImGui::GetCurrentContext();
}

unsigned id_of(const char* window_name) {
  return ImHashStr(window_name);
}

bool reachable(const ImGuiWindow& window, const ImGuiLastItemData& item) {
  constexpr ImGuiItemFlags kOut = ImGuiItemFlags_Disabled | ImGuiItemFlags_NoNav;
  // While a menu is open its own window's title stands for it.
  return item.ID != 0 && item.ID != window.MoveId && !(item.InFlags & kOut) &&
         !(window.Flags & ImGuiWindowFlags_NoNavInputs);
}

}  // namespace

bool KeyFocus::place(const std::string& name) {
  const ImGuiContext& g = context();
  const ImGuiWindow& window = *g.CurrentWindow;
  if (!reachable(window, g.LastItemData)) return false;
  const FocusStop stop{g.LastItemData.ID, window.RootWindow->ID};
  gathered_.add(stop);
  if (wanted_ != 0 ? stop.id == wanted_ : stop.panel == wanted_panel_) take_hold();
  const bool here = g.NavId == stop.id;
  if (here) name_now_ = name;
  return here && framed();
}

void KeyFocus::frame_it() {
  ImGuiContext& g = context();
  if (g.NavId == g.LastItemData.ID && framed()) bare_ = g.LastItemData.ID;
}

// A text field is entered by it; whatever lies out of sight is scrolled to.
void KeyFocus::take_hold() {
  ImGuiContext& g = context();
  ImGuiWindow* window = g.CurrentWindow;
  wanted_ = wanted_panel_ = 0;
  if (g.NavWindow != window) ImGui::FocusWindow(window);
  if (window->DC.NavLayerCurrent == ImGuiNavLayer_Main) {
    g.NavLayer = ImGuiNavLayer_Main;
    return ImGui::SetKeyboardFocusHere(-1);
  }
  ImGui::SetNavID(g.LastItemData.ID, ImGuiNavLayer_Menu, 0,
                  ImGui::WindowRectAbsToRel(window, g.LastItemData.NavRect));
  g.NavDisableHighlight = false;
  g.NavDisableMouseHover = true;
  if (std::exchange(opens_, false)) ImGui::ActivateItem(g.LastItemData.ID);
}

void KeyFocus::end_frame(bool to_controls) {
  ImGuiContext& g = context();
  wanted_ = wanted_panel_ = 0;  // what was not drawn is gone
  if (bare_ && g.NavWindow) {
    const ImRect item = ImGui::WindowRectRelToAbs(g.NavWindow, g.NavWindow->NavRectRel[0]);
    const float away = scaled(1);
    ImDrawList* draw = g.NavWindow->DrawList;
    draw->PushClipRect(g.NavWindow->InnerClipRect.Min, g.NavWindow->InnerClipRect.Max);
    draw->AddRect({item.Min.x - away, item.Min.y - away}, {item.Max.x + away, item.Max.y + away},
                  theme().accent, scaled(3), 0, scaled(2.5f));
    draw->PopClipRect();
  }
  bare_.reset();
  order_ = std::move(gathered_);
  gathered_.clear();
  name_ = framed() ? std::exchange(name_now_, {}) : std::string();
  name_now_.clear();

  const bool clicked = std::any_of(std::begin(g.IO.MouseClicked), std::end(g.IO.MouseClicked),
                                   [](bool pressed) { return pressed; });
  if (clicked && !in_popup()) in_controls_ = false;
  const int popups = g.OpenPopupStack.Size;
  if (reopens_ > 0 && --reopens_ >= 0 && popups == 0 && framed() && in_menu() &&
      g.NavId != menu_before_) {
    ImGui::ActivateItem(g.NavId);
    reopens_ = 0;
  }
  if (popups_ == 0 && popups > 0) before_popup_ = in_controls_;
  if (popups_ > 0 && popups == 0) in_controls_ = before_popup_;
  fresh_popup_ = !clicked && popups > 0 && (fresh_popup_ || popups > popups_);
  popups_ = popups;
  const bool on = to_controls || in_controls_;
  if (on)
    g.IO.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
  else
    g.IO.ConfigFlags &= ~ImGuiConfigFlags_NavEnableKeyboard;
  if (!on) g.NavDisableHighlight = true;
  if (in_controls_ && !clicked && g.ActiveId == 0) g.NavDisableHighlight = false;
}

bool KeyFocus::in_popup() const {
  return context().OpenPopupStack.Size > 0;
}

bool KeyFocus::in_dialog() const {
  const ImGuiContext& g = context();
  const ImGuiWindow* top = in_popup() ? g.OpenPopupStack.back().Window : nullptr;
  return top && (top->Flags & ImGuiWindowFlags_Modal);
}

bool KeyFocus::popup_closed() const {
  return context().OpenPopupStack.Size < popups_;
}

bool KeyFocus::framed() const {
  const ImGuiContext& g = context();
  return g.NavId != 0 && !g.NavDisableHighlight && g.IO.NavActive;
}

unsigned KeyFocus::panel() const {
  const ImGuiContext& g = context();
  const ImGuiWindow* window = in_popup() ? g.OpenPopupStack.back().Window : g.NavWindow;
  return window ? window->RootWindow->ID : 0;
}

bool KeyFocus::in_panel(const char* window_name) const {
  return in_controls_ && panel() == id_of(window_name);
}

bool KeyFocus::in_menu() const {
  const ImGuiContext& g = context();
  const ImGuiWindow* window = in_popup() ? g.OpenPopupStack.front().SourceWindow : g.NavWindow;
  return in_controls_ && window && window->RootWindow->ID == id_of(kMenuBar);
}

// What is typed in a field counts: it must see in this frame that it was left.
void KeyFocus::want(const FocusStop& stop) {
  ImGui::ClearActiveID();
  in_controls_ = true;
  wanted_ = stop.id;
  wanted_panel_ = stop.panel;
}

void KeyFocus::step(int by) {
  const std::vector<unsigned> panels = order_.panels();
  unsigned here = panel();
  if (!in_popup() && std::find(panels.begin(), panels.end(), here) == panels.end())
    for (const unsigned panel : panels)
      if (panel != id_of(kMenuBar)) {
        here = panel;
        break;
      }
  const bool first = std::exchange(fresh_popup_, false) && context().ActiveId == 0;
  if (const auto stop = order_.beside(here, first ? 0 : context().NavId, by)) want(*stop);
}

bool KeyFocus::step_panel(int by, bool listening) {
  // The menu bar is drawn first and comes last.
  std::vector<unsigned> panels = order_.panels();
  std::erase(panels, id_of(kTabs));
  if (std::erase(panels, id_of(kMenuBar)) > 0) panels.push_back(id_of(kMenuBar));
  if (panels.empty()) return true;
  const long count = static_cast<long>(panels.size());
  const auto now = std::find(panels.begin(), panels.end(), panel());
  const bool away = !in_controls_ || now == panels.end();
  long next = away ? (by > 0 ? 0 : count - 1) : now - panels.begin() + by;
  if (next < 0 || next >= count) {
    if (listening) {
      leave();
      return true;
    }
    next = (next + count) % count;
  }
  const unsigned panel = panels[static_cast<std::size_t>(next)];
  // Back to where one was in it.
  const ImGuiWindow* window = ImGui::FindWindowByID(panel);
  const unsigned last = window ? window->NavLastIds[0] : 0;
  const auto first = order_.beside(panel, 0, 1);
  want(order_.has(panel, last) ? FocusStop{last, panel} : *first);
  return false;
}

void KeyFocus::go_to_panel(const char* window_name) {
  want({0, id_of(window_name)});
}

void KeyFocus::open_menu() {
  if (in_popup()) ImGui::ClosePopupToLevel(0, false);
  opens_ = true;
  want({0, id_of(kMenuBar)});
}

// ImGui 1.86 closes the menu and goes on to the next one's name, over some frames.
void KeyFocus::menu_moved() {
  constexpr int kFrames = 6;
  const ImGuiContext& g = context();
  if (!in_menu() || !in_popup()) return;
  menu_before_ = g.OpenPopupStack.front().PopupId;
  reopens_ = kFrames;
}

void KeyFocus::leave_menu() {
  if (in_popup()) ImGui::ClosePopupToLevel(0, true);
  leave();
}

void KeyFocus::finish_typing() {
  ImGui::ClearActiveID();
}

void KeyFocus::leave() {
  ImGui::ClearActiveID();
  in_controls_ = before_popup_ = opens_ = false;
  wanted_ = wanted_panel_ = 0;
  context().NavDisableHighlight = true;
}

}  // namespace scantling
