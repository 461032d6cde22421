#pragma once

#include <span>
#include <string_view>

#include "report/page_flow.h"
#include "report/summary.h"

namespace scantling {

// The report's pieces, each in its own file.

/// Vehicle, date, the parts' sections and verdicts, what they say together.
void write_front(PageFlow& flow, const JobSummary& summary);
/// What a thickness cannot tell, and what to mind while working.
void write_cautions(PageFlow& flow);
/// One part: photo with its edges, sizes, who confirmed what, budget, checks.
void write_part(PageFlow& flow, const Record& record, const JobSummary& summary,
                const PartSummary& part);
/// The photo around its edges, these drawn over it and named; the whole photo small beneath, its
/// facts beside it. `compact`: lower, so that two photos share a page.
void write_photo(PageFlow& flow, const Record& record, const PhotoFinding& finding, bool compact);
/// Photos that are solved together, small and side by side.
void write_photo_row(PageFlow& flow, const Record& record,
                     std::span<const PhotoFinding* const> row);
/// How a disc's worn thickness comes about, and where its uncertainty does. Nothing for a pad.
void write_worn(PageFlow& flow, const PartSummary& part);
/// What would improve the part's size, and by how much. Nothing where nothing is known.
void write_improvements(PageFlow& flow, const PartSummary& part);
/// What is known of the photo, its card and how it was measured, in a column; returns where it
/// ends.
double write_photo_facts(PageFlow& flow, PagePoint at, double width_mm,
                         const PhotoFinding& finding);
/// All sizes of a measured photo with their 95 % intervals, and the stations they were taken at; a
/// size that rests on an edge still to be confirmed is left out.
void write_sizes(PageFlow& flow, const PhotoFinding& finding);
/// Where a size's uncertainty comes from, largest first.
void write_budget(PageFlow& flow, const Dimension& dimension, std::string_view name);

}  // namespace scantling
