#include "window/file_drop.h"

#include <X11/Xatom.h>
#include <X11/Xlib.h>

#include <chrono>
#include <cstdio>
#include <memory>
#include <stdexcept>
#include <thread>

namespace scantling {

namespace {

constexpr long kVersion = 5;
constexpr double kPatience_s = 30;

// The files as a text/uri-list (RFC 2483), whatever is in their names percent-encoded.
std::string uri_list(const std::vector<std::filesystem::path>& files) {
  std::string list;
  for (const auto& file : files) {
    list += "file://";
    for (const char raw : file.string()) {
      const auto c = static_cast<unsigned char>(raw);
      const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                         (c >= '0' && c <= '9') || c == '/' || c == '.' || c == '-' || c == '_';
      if (plain) {
        list += raw;
      } else {
        char code[8];
        std::snprintf(code, sizeof code, "%%%02X", c);
        list += code;
      }
    }
    list += "\r\n";
  }
  return list;
}

class DropSource {
 public:
  DropSource(const std::string& display, std::string list)
      : display_(XOpenDisplay(display.c_str()), XCloseDisplay), list_(std::move(list)) {
    if (!display_) throw std::runtime_error("no display " + display);
    target_ = taker(DefaultRootWindow(dpy()));
    if (!target_) throw std::runtime_error("no window takes drops");
    own_ = XCreateSimpleWindow(dpy(), DefaultRootWindow(dpy()), 0, 0, 1, 1, 0, 0, 0);
    XSetSelectionOwner(dpy(), atom("XdndSelection"), own_, CurrentTime);
  }

  void drop() {
    Window root = 0, child = 0;
    int x = 0, y = 0;
    XWindowAttributes size{};
    XGetWindowAttributes(dpy(), target_, &size);
    root = DefaultRootWindow(dpy());
    XTranslateCoordinates(dpy(), target_, root, size.width / 2, size.height / 2, &x, &y, &child);
    send("XdndEnter", kVersion << 24, static_cast<long>(atom("text/uri-list")), 0, 0);
    send("XdndPosition", 0, (static_cast<long>(x) << 16) | y, CurrentTime,
         static_cast<long>(atom("XdndActionCopy")));
    if (!(wait_for("XdndStatus").data.l[1] & 1)) throw std::runtime_error("the drop is refused");
    send("XdndDrop", 0, CurrentTime, 0, 0);
    wait_for("XdndFinished");
  }

 private:
  Display* dpy() const { return display_.get(); }
  Atom atom(const char* name) const { return XInternAtom(dpy(), name, False); }

  Window taker(Window window) const {
    Atom type = 0;
    int format = 0;
    unsigned long count = 0, more = 0;
    unsigned char* data = nullptr;
    const bool aware = XGetWindowProperty(dpy(), window, atom("XdndAware"), 0, 1, False, XA_ATOM,
                                          &type, &format, &count, &more, &data) == Success &&
                       count > 0;
    if (data) XFree(data);
    if (aware) return window;
    Window root = 0, parent = 0, *children = nullptr, found = 0;
    unsigned number = 0;
    if (!XQueryTree(dpy(), window, &root, &parent, &children, &number)) return 0;
    for (unsigned i = 0; i < number && !found; ++i) found = taker(children[i]);
    if (children) XFree(children);
    return found;
  }

  void send(const char* message, long l1, long l2, long l3, long l4) const {
    XEvent event{};
    event.xclient.type = ClientMessage;
    event.xclient.window = target_;
    event.xclient.message_type = atom(message);
    event.xclient.format = 32;
    event.xclient.data.l[0] = static_cast<long>(own_);
    event.xclient.data.l[1] = l1;
    event.xclient.data.l[2] = l2;
    event.xclient.data.l[3] = l3;
    event.xclient.data.l[4] = l4;
    XSendEvent(dpy(), target_, False, NoEventMask, &event);
    XFlush(dpy());
  }

  // Hands the list over when the window asks for it.
  void answer(const XSelectionRequestEvent& request) const {
    XChangeProperty(dpy(), request.requestor, request.property, request.target, 8, PropModeReplace,
                    reinterpret_cast<const unsigned char*>(list_.data()),
                    static_cast<int>(list_.size()));
    XEvent told{};
    told.xselection.type = SelectionNotify;
    told.xselection.requestor = request.requestor;
    told.xselection.selection = request.selection;
    told.xselection.target = request.target;
    told.xselection.property = request.property;
    told.xselection.time = request.time;
    XSendEvent(dpy(), request.requestor, False, NoEventMask, &told);
    XFlush(dpy());
  }

  XClientMessageEvent wait_for(const char* message) const {
    const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>(kPatience_s);
    while (std::chrono::steady_clock::now() < end) {
      while (XPending(dpy()) > 0) {
        XEvent event;
        XNextEvent(dpy(), &event);
        if (event.type == SelectionRequest) answer(event.xselectionrequest);
        if (event.type == ClientMessage && event.xclient.message_type == atom(message))
          return event.xclient;
      }
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    throw std::runtime_error(std::string("no answer: ") + message);
  }

  std::unique_ptr<Display, int (*)(Display*)> display_;
  std::string list_;
  Window own_ = 0;
  Window target_ = 0;
};

}  // namespace

void drop_files(const std::string& display, const std::vector<std::filesystem::path>& files) {
  DropSource(display, uri_list(files)).drop();
}

}  // namespace scantling
