#pragma once

#include <array>
#include <string>
#include <vector>

namespace plumbline
{

/** How tall a decibel is drawn, after IEC 60263 (from memory of the standard): kept when the window changes
    its size. */
enum class ChartShape
{
    standard, ///< 50 dB are as tall as a decade is wide
    fine      ///< 25 dB
};

/** Where the plot stands, in px of whoever draws. */
struct PlotArea
{
    double left = 0.0, top = 0.0, width = 1.0, height = 1.0;

    double right() const noexcept { return left + width; }

    double bottom() const noexcept { return top + height; }
};

/** Frequency, on a logarithmic scale, to x, and level to y; y goes downward. */
class ChartScale
{
public:
    static constexpr double lowHz = 20.0, highHz = 20000.0;

    ChartScale(const PlotArea& plotArea, double levelAtTop, ChartShape chartShape = ChartShape::standard)
        : plot(plotArea), topDb(levelAtTop), chosen(chartShape)
    {
    }

    const PlotArea& area() const noexcept { return plot; }

    ChartShape shape() const noexcept { return chosen; }

    double top() const noexcept { return topDb; }

    double bottom() const noexcept { return level(plot.bottom()); }

    double x(double hz) const noexcept;
    double frequency(double x) const noexcept;

    double y(double db) const noexcept { return plot.top + (topDb - db) * pxPerDb(); }

    double level(double y) const noexcept { return topDb - (y - plot.top) / pxPerDb(); }

    double pxPerDb() const noexcept;

private:
    PlotArea plot;
    double topDb;
    ChartShape chosen;
};

/** The level at the top of a plot: whole 5 dB, with at least 3 dB of air over the highest level. */
double topOverLevel(double highestDb) noexcept;

/** A line of the grid across. */
struct LevelLine
{
    double db = 0.0;
    bool strong = false; ///< carries its figure
};

/** The lines inside the plot, from below: each 10 dB strong and each 5 faint; in a fine shape 5 and 2.5. */
std::vector<LevelLine> levelLines(const ChartScale& scale);

/** Octave mid-band frequencies that carry a figure, Hz. */
inline constexpr std::array octaves{ 31.5, 63.0, 125.0, 250.0, 500.0, 1e3, 2e3, 4e3, 8e3, 16e3 };

/** Preferred third-octave frequencies, Hz (ISO 266, from memory of the standard). */
inline constexpr std::array thirdOctaves{ 20.0,  25.0,   31.5,   40.0,   50.0,   63.0,   80.0,  100.0,
                                          125.0, 160.0,  200.0,  250.0,  315.0,  400.0,  500.0, 630.0,
                                          800.0, 1e3,    1250.0, 1600.0, 2000.0, 2500.0, 3150., 4000.,
                                          5000., 6300.0, 8000.0, 10000., 12500., 16000., 20000. };

/** "31.5", "1k". @param hz one of `octaves` */
std::string octaveFigure(double hz);

/** The next frequency of the series of exact 1/N octaves about 1 kHz (base ten, IEC 61260), inside the plot.
    @param up towards the right */
double steppedFrequency(double hz, int perOctave, bool up) noexcept;

}
