#pragma once

#include <string>
#include <vector>

#include "print/document.h"
#include "report/figure_style.h"
#include "report/summary.h"

namespace scantling {

/// One step of putting the brakes together again.
struct RefitStep {
  std::string text;
  std::vector<std::string> cautions;
};

/// The steps in order, from what was fitted and how its maker wants it
/// tightened; a job that was not closed yet gives the general order, with
/// blanks to fill in. Tightening figures are the user's own entries: the
/// program has none.
std::vector<RefitStep> refit_steps(const JobSummary& summary);
std::vector<RefitStep> refit_steps(const Job& job, const WorkDone& work);

/// The same as a page to take to the car, with boxes to tick.
Document make_refit_list(const JobSummary& summary, PageSize paper, const FigureStyle& style = {});

}  // namespace scantling
