#pragma once

#include <cstdint>
#include <map>
#include <set>
#include <vector>

#include "app/session.h"

namespace scantling {

/// Which photos are on their way to a measurement in the background, and which were tried in vain:
/// so each photo is begun once for what it is to be measured with, and neither a fault nor a stop
/// begins it over and over.
class MeasuringLog {
 public:
  using Wanted = std::vector<Session::WantedPhoto>;

  /// The photos to begin now. Those measured meanwhile are forgotten.
  Wanted to_begin(const Wanted& wanted);
  /// Due photos that nothing is done about: the measuring was stopped, or failed.
  std::size_t left(const Wanted& wanted) const;

  void begun(std::int64_t photo_id, const MeasureOptions& options);
  void tried(std::int64_t photo_id, const MeasureOptions& options);  ///< elsewhere, in vain
  void ended(std::int64_t photo_id) { on_its_way_.erase(photo_id); }
  /// Ended without a result because the photo was changed meanwhile: it may be begun again, a few
  /// times.
  void overtaken(std::int64_t photo_id);
  bool on_its_way(std::int64_t photo_id) const { return on_its_way_.contains(photo_id); }

  void stop() { on_its_way_.clear(); }  ///< what was begun comes to nothing
  void go_on();                         ///< what was tried may be begun again

 private:
  struct Tried {
    MeasureOptions options;
    int overtaken = 0;
    bool again = false;
  };
  bool tried_already(const Session::WantedPhoto& photo) const;

  std::map<std::int64_t, Tried> tried_;
  std::set<std::int64_t> on_its_way_;
};

}  // namespace scantling
