#pragma once

#include <optional>
#include <string>

#include "app/focus_order.h"

namespace scantling {

/// Where the keys go. By rights they are the page's: on the photo Tab, the arrows, Enter and
/// letters are commands. F6, F10 and Tab out of a text field hand Tab, arrows, Enter, Space and Esc
/// to the controls of a panel, one of which is framed then; Esc, a click or the last panel's F6
/// gives them back. In a dialog or an open list they go through its controls at once.
class KeyFocus {
 public:
  /// Notes the control just drawn as one that can be reached; true while the keys stand on it.
  bool place(const std::string& name);
  /// The control just drawn draws no frame of its own: it gets one on top of what it shows.
  void frame_it();
  /// After all is drawn. `to_controls`: the next frame's keys go through the controls.
  void end_frame(bool to_controls);

  void step(int by);  ///< to the next control of the panel, or the one before
  /// To the next panel, or the one before. True where the page has the keys again, which it never
  /// has where it is not `listening`.
  bool step_panel(int by, bool listening);
  /// To the first control of a panel that the next frame draws.
  void go_to_panel(const char* window_name);
  void open_menu();
  void leave_menu();
  /// An arrow went sideways in an open menu: where it comes to another one, that opens too.
  void menu_moved();
  void leave();          ///< back to the page
  void finish_typing();  ///< the field in hand is left with what is typed

  bool in_controls() const { return in_controls_; }
  bool in_panel(const char* window_name) const;
  bool in_menu() const;
  bool in_popup() const;                             ///< a dialog, a menu or an open list
  bool in_dialog() const;                            ///< with nothing open over it
  bool popup_closed() const;                         ///< between the last frame and this one
  bool framed() const;                               ///< a control shows that the keys stand on it
  const std::string& name() const { return name_; }  ///< of the control the keys stand on

 private:
  unsigned panel() const;
  void want(const FocusStop& stop);
  void take_hold();

  FocusOrder order_, gathered_;  ///< of the last frame, of this one
  bool in_controls_ = false;
  unsigned wanted_ = 0, wanted_panel_ = 0;
  bool opens_ = false;  ///< the menu, once the keys stand on it
  unsigned menu_before_ = 0;
  int reopens_ = 0;  ///< frames in which the keys may still come to another menu
  int popups_ = 0;
  bool before_popup_ = false;  ///< whether the keys were at the controls
  bool fresh_popup_ = false;   ///< Tab begins with its first control
  std::string name_, name_now_;
  std::optional<unsigned> bare_;
};

}  // namespace scantling
