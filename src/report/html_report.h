#pragma once

#include <string>

#include "report/figure_style.h"
#include "report/summary.h"

namespace scantling {

/// The job's report as one HTML file that needs nothing else: styles, photos
/// and drawings are inside it, there is no script, and it prints. It shows what
/// the summary says and works nothing out.
std::string html_report(const Record& record, const JobSummary& summary,
                        const FigureStyle& style = {});

/// For text between tags and in quoted attributes.
std::string html_text(std::string_view plain);

}  // namespace scantling
