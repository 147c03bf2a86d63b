#include "Files/ResponsePicture.h"

#include "Files/Chart.h"
#include "Files/NumberText.h"

#include <cmath>

namespace plumbline
{

namespace
{
ChartCurve levelCurve(const FrequencyResponse& response, const std::string& name, double lineWidth)
{
    ChartCurve curve;
    curve.name = name;
    curve.frequencyHz = response.frequencyHz;
    curve.levelDb = response.levelDb;
    curve.known = response.known;
    curve.width = lineWidth;
    return curve;
}

ChartCurve noiseCurve(const FrequencyResponse& response, const std::string& name)
{
    ChartCurve curve = levelCurve(response, name, 1.0);
    curve.levelDb = response.noiseDb;
    curve.known.assign(response.noiseDb.size(), true);
    curve.frequencyHz.resize(response.noiseDb.size());
    curve.colour = "#4A5750";
    curve.dash = "2 3";
    return curve;
}
}

std::string howMade(const TakeAnalysis& analysis)
{
    const auto& smoothing = analysis.settings.smoothing;
    std::string words =
        smoothing.none() ? "Not smoothed" : "1/" + std::to_string(smoothing.perOctave) + " octave";
    if (analysis.settings.window.kind == WindowChoice::Kind::full)
        words += ", the whole response";
    else
        words += ", window to " + fixedText(analysis.left.windowMs, analysis.left.windowMs < 10.0 ? 1 : 0) +
                 " ms after the first arrival";
    return words + ". Thick: left, thin: right. Faint: not known.";
}

std::string responsePicture(const TakeAnalysis& analysis, const std::string& title)
{
    std::vector<ChartCurve> curves{ levelCurve(analysis.left.response, "left", 2.6) };
    if (analysis.right)
        curves.push_back(levelCurve(analysis.right->response, "right", 1.4));
    ChartFrame frame;
    frame.title = title;
    frame.caption = howMade(analysis);
    frame.unit = "dB re reference";
    fitLevelRange(frame, curves, 60.0);
    if (!analysis.left.response.noiseDb.empty())
        curves.push_back(noiseCurve(analysis.left.response, "noise"));
    return chartSvg(frame, curves);
}

}
