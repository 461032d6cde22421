#pragma once

#include <string>
#include <vector>

#include "record/record.h"
#include "verdict/agreement.h"

namespace scantling {

/// What photos must share to be compared with readings by hand together: camera, printed sheet (or
/// the ID-1 card that served instead), kind of part.
struct AgreementKey {
  std::optional<std::int64_t> camera_id;
  std::optional<std::int64_t> sheet_id;
  bool id_card = false;
  PartKind kind = PartKind::pad;
  bool operator==(const AgreementKey&) const = default;
};

AgreementKey agreement_key(const PhotoEntry& photo, const std::optional<Sheet>& sheet,
                           const SheetScale& used, PartKind kind);

/// All pairs of photo and hand reading that share a key.
struct CameraSheetAgreement {
  std::string camera;  ///< "Maker Model", or "camera unknown"
  std::string sheet;   ///< its name, "an ID-1 card", "sheet not named"
  AgreementKey key;
  std::vector<AgreementPair> pairs;
  Agreement agreement;
};

/// How photos agree with readings by hand, from everything in the record.
class AgreementBook {
 public:
  /// Nothing in it.
  AgreementBook() = default;
  /// Every part that has both a settled photo size and a reading by hand is a
  /// pair; the smallest reading counts. @throws RecordError.
  explicit AgreementBook(const Record& record);

  const std::vector<CameraSheetAgreement>& entries() const { return entries_; }
  /// Null where there is no pair.
  const Agreement* find(const AgreementKey& key) const;

 private:
  std::vector<CameraSheetAgreement> entries_;
};

}  // namespace scantling
