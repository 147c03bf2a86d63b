#pragma once

#include "Editor/ChartDrawing.h"
#include "Editor/CurveColumns.h"

namespace plumbline
{

/** Writes on a chart what its lines and its hatches are: names at the lines' ends with leaders, reasons, the
    noise, the unit. There must be a newest take. */
void writeNames(const Ink& ink, const ChartTask& task, const std::vector<UnknownRange>& unknown);

}
