#include "report/redo.h"

#include "card/card_definition.h"
#include "record/record_error.h"

namespace scantling {

Measurement measure_again(const Record& record, const MeasurementEntry& entry) {
  const auto photo = record.photo(entry.photo_id);
  if (!photo) throw RecordError("The photo is not in the record any more: restore it first.");
  if (!record.photo_intact(*photo))
    throw RecordError("The stored photo " + photo->original_name +
                      " is missing or was altered: add it again, then measure it.");
  if (!entry.card_definition.empty() && entry.measurement.card &&
      entry.card_definition != card_definition_text(entry.measurement.card->name))
    throw RecordError(
        "The photo was taken with an older card than this "
        "program prints: what was "
        "measured stays, but it cannot be done again here.");
  const Analysis analysis = Analysis::run(record.photo_path(*photo), entry.options);
  return analysis.with_edges(entry.moved_edges);
}

}  // namespace scantling
