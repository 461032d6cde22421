#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "record/record.h"
#include "report/agreement_book.h"

namespace scantling {

/// What one job says of one place on the axle.
struct HistorySize {
  std::optional<Quantity> size;  ///< the smallest reading by hand, else the photos' size
  bool by_hand = false;
  std::string state;        ///< the verdict's word; empty where the job knows nothing of the part
  bool fitted_new = false;  ///< at the end of that job
};

/// The places as an axle's plan has them: outer pad, disc, inner pad on the left, then the right.
inline constexpr std::size_t kAxlePlaces = 6;
/// Which of them a part is.
std::size_t axle_place(const Part& part);
Part part_at(std::size_t axle_place);

/// One job of an axle with the sizes it found.
struct HistoryJob {
  Job job;
  bool open = false;  ///< this is the job that was asked about
  bool closed = false;
  std::array<HistorySize, kAxlePlaces> sizes;
  /// Its odometer reading is lower than that of a job before it.
  bool odometer_backwards = false;
};

/// All jobs of that job's vehicle and axle, newest first, at most the newest 40. @throws
/// RecordError.
std::vector<HistoryJob> axle_history(const Record& record, const Job& job,
                                     const AgreementBook& agreements);

}  // namespace scantling
