#pragma once

#include "camera/camera_shelf.h"
#include "record/record.h"

namespace scantling {

/// The profiles that a record keeps with its cameras. One that cannot be read is left out and told
/// of by a `warn` check.
CameraShelfLoad recorded_cameras(const Record& record);

/// Keeps a profile with its camera in the record; the newest kept one counts.
void keep_in_record(Record& record, const CameraProfile& profile);

}  // namespace scantling
