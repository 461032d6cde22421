#pragma once

#include <cstdint>
#include <optional>

#include "record/record.h"

namespace scantling {

/// What photos must share to be compared with readings by hand together: camera, printed sheet (or
/// the ID-1 card that served instead), kind of part, and whether edges or planes gave the size.
struct AgreementKey {
  std::optional<std::int64_t> camera_id;
  std::optional<std::int64_t> sheet_id;
  bool id_card = false;
  PartKind kind = PartKind::pad;
  bool planes = false;
  bool operator==(const AgreementKey&) const = default;
};

AgreementKey agreement_key(const PhotoEntry& photo, const std::optional<Sheet>& sheet,
                           const SheetScale& used, PartKind kind);

}  // namespace scantling
