#pragma once

#include <string>
#include <vector>

namespace plumbline
{

/** A curve to be drawn. Where it is not known it is drawn faint. */
struct ChartCurve
{
    std::string name; ///< written at the line's end
    std::vector<double> frequencyHz, levelDb;
    std::vector<bool> known;
    std::string colour = "#1C73C2";
    double width = 2.0;
    std::string dash; ///< SVG dash array, empty for an unbroken line
    double opacity = 1.0;
};

/** What stands around the curves. */
struct ChartFrame
{
    std::string title;   ///< the answer, in words
    std::string caption; ///< how it was made, a sentence
    double lowHz = 20.0, highHz = 20000.0;
    double topDb = 10.0, bottomDb = -40.0; ///< grid each 5 dB, labelled each 10
    std::string unit = "dB";
};

/** A chart of level over log frequency as a self-contained SVG, light, for print and screen. */
std::string chartSvg(const ChartFrame& frame, const std::vector<ChartCurve>& curves);

/** The range in dB that holds the known parts of the curves: its top rounded up to 5 dB with some air, and
    `spanDb` high. */
void fitLevelRange(ChartFrame& frame, const std::vector<ChartCurve>& curves, double spanDb);

/** The colours of the monitors in print, in the order of their naming. */
const std::vector<std::string>& monitorColours();

/** The dash of an orientation: upright unbroken, side out, side in, any other. */
std::string orientationDash(const std::string& orientation);

}
