#pragma once

#include <string>
#include <vector>

#include "record/record.h"
#include "verdict/agreement.h"

namespace scantling {

/// All pairs of photo and hand reading by one camera with one sheet, for one
/// kind of part.
struct CameraSheetAgreement {
  std::string camera;  ///< "Maker Model", or "camera unknown"
  std::string sheet;
  std::optional<std::int64_t> camera_id;
  std::optional<std::int64_t> sheet_id;
  PartKind kind = PartKind::pad;
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
  /// For a photo's camera and sheet; null where there is no pair.
  const Agreement* find(std::optional<std::int64_t> camera_id, std::optional<std::int64_t> sheet_id,
                        PartKind kind) const;

 private:
  std::vector<CameraSheetAgreement> entries_;
};

}  // namespace scantling
