#pragma once

#include <optional>
#include <vector>

namespace scantling {

/// A control that the keys can reach.
struct FocusStop {
  unsigned id = 0;     ///< the control's
  unsigned panel = 0;  ///< of the panel it lies in
};

/// The controls of one frame in the order drawn, which is the order in which Tab goes through them.
class FocusOrder {
 public:
  void clear() { stops_.clear(); }
  void add(const FocusStop& stop);
  bool has(unsigned panel, unsigned id) const;
  /// The control `step` (1 or -1) further in the panel, round its ends; where `id` is not among
  /// them the first, or going back the last. Nothing in a panel without controls.
  std::optional<FocusStop> beside(unsigned panel, unsigned id, int step) const;
  /// The panels in the order drawn.
  std::vector<unsigned> panels() const;

 private:
  std::vector<FocusStop> stops_;
};

}  // namespace scantling
