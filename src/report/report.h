#pragma once

#include "print/document.h"
#include "report/figure_style.h"
#include "report/summary.h"

namespace scantling {

/// The job's report: one page that decides, then a page a part with its photo, edges, budget and
/// checks. It shows what the summary says and works nothing out itself.
/// @throws RecordError, std::runtime_error when a page cannot be drawn.
Document make_report(const Record& record, const JobSummary& summary, PageSize paper,
                     const FigureStyle& style = {});

}  // namespace scantling
