#pragma once

#include <string>
#include <vector>

#include "record/record.h"
#include "report/agreement_key.h"
#include "verdict/agreement.h"

namespace scantling {

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
  /// Every part that has both a settled photo size and a reading by hand is a pair; the smallest
  /// reading counts. A disc whose worn thickness is known from edges and from planes makes a pair
  /// of each, where the photos behind it share camera and sheet. @throws RecordError.
  explicit AgreementBook(const Record& record);

  const std::vector<CameraSheetAgreement>& entries() const { return entries_; }
  /// Null where there is no pair.
  const Agreement* find(const AgreementKey& key) const;

 private:
  CameraSheetAgreement& entry_of(const Record& record, const AgreementKey& key);

  std::vector<CameraSheetAgreement> entries_;
};

}  // namespace scantling
