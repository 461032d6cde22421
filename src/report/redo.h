#pragma once

#include "record/record.h"

namespace scantling {

/// Measures a recorded photo again from what the record keeps: the stored
/// photo, the options and the edges as moved. With the same program it gives
/// the recorded result again, timing apart.
/// @throws RecordError where the stored photo is missing or altered, or was
/// measured on a card that this program knows otherwise.
Measurement measure_again(const Record& record, const MeasurementEntry& entry);

}  // namespace scantling
