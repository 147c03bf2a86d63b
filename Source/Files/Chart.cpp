#include "Files/Chart.h"

#include "Files/NumberText.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace plumbline
{

namespace
{

constexpr double plotLeft = 64.0, plotRight = 750.0, plotTop = 92.0, plotBottom = 460.0;
constexpr const char* ground = "#F6F1E5";
constexpr const char* ink = "#17241F";
constexpr const char* second = "#4A5750";
constexpr const char* grid = "#E4DDCC";
constexpr const char* rule = "#C4BEAC";
constexpr const char* family = "'Ysabeau Office', 'Source Sans 3', 'Noto Sans', sans-serif";

std::string number(double value)
{
    return fixedText(value, 1);
}

std::string escaped(const std::string& text)
{
    std::string safe;
    for (const char c : text)
        switch (c)
        {
        case '&':
            safe += "&amp;";
            break;
        case '<':
            safe += "&lt;";
            break;
        case '>':
            safe += "&gt;";
            break;
        case '"':
            safe += "&quot;";
            break;
        default:
            safe += static_cast<unsigned char>(c) < 0x20 ? ' ' : c; // XML has no other control characters
        }
    return safe;
}

/** A drawing in the making. */
class Sheet
{
public:
    explicit Sheet(const ChartFrame& of) : frame(of)
    {
        body = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 1000 520\" width=\"1000\" "
               "height=\"520\" role=\"img\">\n"
               "<title>" +
               escaped(frame.title) + "</title>\n<rect width=\"1000\" height=\"520\" fill=\"" + ground +
               "\"/>\n"
               "<clipPath id=\"plot\"><rect x=\"" +
               number(plotLeft) + "\" y=\"" + number(plotTop) + "\" width=\"" + number(plotRight - plotLeft) +
               "\" height=\"" + number(plotBottom - plotTop) + "\"/></clipPath>\n";
    }

    double x(double hz) const
    {
        return plotLeft +
               (plotRight - plotLeft) * std::log(hz / frame.lowHz) / std::log(frame.highHz / frame.lowHz);
    }

    double y(double db) const
    {
        return plotTop + (plotBottom - plotTop) * (frame.topDb - db) / (frame.topDb - frame.bottomDb);
    }

    void line(double x1, double y1, double x2, double y2, const char* colour)
    {
        body += "<path d=\"M" + number(x1) + ' ' + number(y1) + 'L' + number(x2) + ' ' + number(y2) +
                "\" stroke=\"" + colour + "\" fill=\"none\"/>\n";
    }

    void text(double tx, double ty, const std::string& words, int size, const std::string& colour,
              const char* anchor, int weight = 600)
    {
        body += "<text x=\"" + number(tx) + "\" y=\"" + number(ty) + "\" font-family=\"" + family +
                "\" font-size=\"" + std::to_string(size) + "\" font-weight=\"" + std::to_string(weight) +
                "\" fill=\"" + colour + "\" text-anchor=\"" + anchor + "\">" + escaped(words) + "</text>\n";
    }

    void path(const std::string& d, const ChartCurve& curve, double opacity, double strokeWidth, bool inPlot)
    {
        if (d.empty())
            return;
        body += "<path d=\"" + d + "\" fill=\"none\" stroke=\"" + curve.colour + "\" stroke-width=\"" +
                number(strokeWidth) + "\" stroke-linejoin=\"round\" opacity=\"" + fixedText(opacity, 2) +
                '"' + (inPlot ? " clip-path=\"url(#plot)\"" : "") +
                (curve.dash.empty() ? "" : " stroke-dasharray=\"" + curve.dash + '"') + "/>\n";
    }

    std::string finish() { return body + "</svg>\n"; }

    const ChartFrame& frame;

private:
    std::string body;
};

void drawAxes(Sheet& sheet)
{
    const auto& frame = sheet.frame;
    for (double db = std::ceil(frame.bottomDb / 5.0) * 5.0; db <= frame.topDb + 1e-9; db += 5.0)
    {
        const bool strong = std::abs(std::remainder(db, 10.0)) < 1e-6;
        sheet.line(plotLeft, sheet.y(db), plotRight, sheet.y(db), strong ? rule : grid);
        std::string label = db < 0 ? "\u2212" : "";
        label += std::to_string(std::lround(std::abs(db)));
        if (strong)
            sheet.text(plotLeft - 10.0, sheet.y(db) + 4.5, label, 13, second, "end");
    }
    sheet.text(24.0, plotTop - 10.0, frame.unit, 13, second, "start");
    constexpr std::array<std::pair<double, const char*>, 10> octaves{ { { 31.5, "31.5" },
                                                                        { 63, "63" },
                                                                        { 125, "125" },
                                                                        { 250, "250" },
                                                                        { 500, "500" },
                                                                        { 1000, "1k" },
                                                                        { 2000, "2k" },
                                                                        { 4000, "4k" },
                                                                        { 8000, "8k" },
                                                                        { 16000, "16k" } } };
    for (const auto& [hz, label] : octaves)
        if (hz > frame.lowHz && hz < frame.highHz)
        {
            sheet.line(sheet.x(hz), plotTop, sheet.x(hz), plotBottom, grid);
            sheet.text(sheet.x(hz), plotBottom + 20.0, label, 13, second, "middle");
        }
    sheet.text(plotRight, plotBottom + 40.0, "Hz", 13, second, "end");
}

/** The stretches of a curve with the same state of knowledge, as path data. */
std::string stretches(const Sheet& sheet, const ChartCurve& curve, bool known)
{
    std::string d;
    bool drawing = false;
    for (std::size_t i = 0; i < curve.frequencyHz.size(); ++i)
    {
        const double hz = curve.frequencyHz[i];
        if (curve.known[i] != known || hz < sheet.frame.lowHz || hz > sheet.frame.highHz ||
            !std::isfinite(curve.levelDb[i]))
        {
            drawing = false;
            continue;
        }
        d += (drawing ? 'L' : 'M') + number(sheet.x(hz)) + ' ' + number(sheet.y(curve.levelDb[i]));
        drawing = true;
    }
    return d;
}

/** True if any part of a curve is in the plot: what is not seen is not named. */
bool inView(const Sheet& sheet, const ChartCurve& curve)
{
    return std::any_of(curve.levelDb.begin(), curve.levelDb.end(),
                       [&](double db) { return db <= sheet.frame.topDb && db >= sheet.frame.bottomDb; });
}

/** Names at the lines' ends, pushed apart so that none covers another. */
void drawNames(Sheet& sheet, const std::vector<ChartCurve>& curves)
{
    constexpr double apart = 18.0;
    std::vector<std::pair<double, const ChartCurve*>> ends;
    for (const auto& curve : curves)
        for (std::size_t i = curve.levelDb.size(); i-- > 0;)
            if (curve.known[i] && std::isfinite(curve.levelDb[i]) &&
                curve.frequencyHz[i] <= sheet.frame.highHz)
            {
                if (!curve.name.empty() && inView(sheet, curve))
                    ends.emplace_back(std::clamp(sheet.y(curve.levelDb[i]), plotTop, plotBottom), &curve);
                break;
            }
    std::stable_sort(ends.begin(), ends.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    double lowest = plotTop;
    for (auto& [place, curve] : ends)
        lowest = (place = std::max(place, lowest)) + apart;
    double highest = plotBottom;
    for (auto end = ends.rbegin(); end != ends.rend(); ++end)
        highest = (end->first = std::min(end->first, highest)) - apart;
    for (const auto& [place, curve] : ends)
    {
        sheet.path("M" + number(plotRight + 8.0) + ' ' + number(place) + "L" + number(plotRight + 30.0) +
                       ' ' + number(place),
                   *curve, 1.0, curve->width, false);
        sheet.text(plotRight + 36.0, place + 4.5, curve->name, 13, curve->colour, "start");
    }
}

}

std::string chartSvg(const ChartFrame& frame, const std::vector<ChartCurve>& curves)
{
    Sheet sheet(frame);
    sheet.text(24.0, 36.0, frame.title, 20, ink, "start");
    sheet.text(24.0, 60.0, frame.caption, 14, second, "start", 500);
    drawAxes(sheet);
    for (const auto& curve : curves)
    {
        ChartCurve thread = curve; // dashes run over an unbroken thread
        thread.dash.clear();
        sheet.path(stretches(sheet, curve, false), thread, 0.45 * curve.opacity, 1.0, true);
        if (!curve.dash.empty())
            sheet.path(stretches(sheet, curve, true), thread, 0.5 * curve.opacity, 1.0, true);
        sheet.path(stretches(sheet, curve, true), curve, curve.opacity, curve.width, true);
    }
    drawNames(sheet, curves);
    return sheet.finish();
}

void fitLevelRange(ChartFrame& frame, const std::vector<ChartCurve>& curves, double spanDb)
{
    double most = -1e9;
    for (const auto& curve : curves)
        for (std::size_t i = 0; i < curve.levelDb.size(); ++i)
            if (curve.known[i])
                most = std::max(most, curve.levelDb[i]);
    if (most < -1e8)
        return;
    frame.topDb = std::ceil((most + 2.0) / 5.0) * 5.0;
    frame.bottomDb = frame.topDb - spanDb;
}

const std::vector<std::string>& monitorColours()
{
    static const std::vector<std::string> colours{ "#1C73C2", "#A67A00", "#94124F",
                                                   "#2A35B0", "#01696C", "#54240C" };
    return colours;
}

std::string orientationDash(const std::string& orientation)
{
    if (orientation == "upright")
        return "";
    if (orientation == "side, tweeters out")
        return "9 4";
    return orientation == "side, tweeters in" ? "2 4" : "10 4 2 4";
}

}
