// The axle's history: reading it, going through it by keys, opening an earlier job.
#include <fmt/format.h>

#include <algorithm>

#include "app/app.h"
#include "app/axle_map.h"
#include "app/widgets.h"

namespace scantling {

void App::show_history(bool shown) {
  if (!session_.job()) return;
  canvas_.cancel_drag(*this);
  planes_page_.hide();
  work_page_.hide();
  if (shown)
    history_page_.show();
  else
    history_page_.hide();
}

// Read again when the open job changes; what another window writes reaches it through the job.
void App::follow_history() {
  const Job& job = session_.job()->job;
  std::string key = fmt::format("{} {} {} {}", job.id, job.date, job.odometer_km.value_or(-1),
                                static_cast<int>(job.axle));
  for (const PartSummary& part : session_.job()->parts)
    key +=
        fmt::format(" {} {}", part.readings.size(), part.size ? part.size->quantity.value_mm : 0);
  if (!history_page_.outdated(key)) return;
  attempt([&] {
    history_page_.take(axle_history(session_.record(), job, AgreementBook(session_.record())));
  });
}

void App::open_from_history(std::int64_t job_id) {
  if (job_id == session_.job()->job.id) return show_history(false);
  const PartSlot slot = session_.slot();
  open_job(job_id);
  if (session_.job()) session_.select_part(slot);
}

bool App::obey_on_history(const KeyCommand& command) {
  const auto slots = map_slots();
  switch (command.action) {
    case KeyAction::nudge:
      if (command.towards_y != 0) {
        history_page_.step_row(command.towards_y > 0 ? 1 : -1);
      } else {
        const auto here = std::find(slots.begin(), slots.end(), session_.slot());
        const long at = here == slots.end() ? 0 : here - slots.begin();
        const long count = static_cast<long>(slots.size());
        session_.select_part(slots[static_cast<std::size_t>(
            (at + (command.towards_x > 0 ? 1 : count - 1)) % count)]);
      }
      return true;
    case KeyAction::confirm:
      if (history_page_.row() < history_page_.jobs().size())
        open_from_history(history_page_.jobs()[history_page_.row()].job.id);
      return true;
    case KeyAction::history:
    case KeyAction::escape:
      show_history(false);
      return true;
    case KeyAction::new_job:
    case KeyAction::open_photos:
    case KeyAction::undo:
    case KeyAction::redo:
    case KeyAction::report:
    case KeyAction::copy_result:
    case KeyAction::settings:
    case KeyAction::quit:
    case KeyAction::help:
    case KeyAction::save:
    case KeyAction::work:
    case KeyAction::planes:
      return false;
    default:  // belongs to the photo, which is not shown
      return true;
  }
}

}  // namespace scantling
