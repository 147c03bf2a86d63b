#include "PracticeRoom/BandPulses.h"

#include "Dsp/Windows.h"

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace plumbline
{

namespace
{
constexpr std::size_t steps = 512; ///< table entries from one grid point to the next; linear between them
constexpr double width = static_cast<double>(BandPulses::spreadPoints);

/** Beatty, Nishimura and Pauly, IEEE Trans. Med. Imaging 24 (2005) 799, equation (5). */
double shapeOfWindow()
{
    const double ratio = width / static_cast<double>(BandPulses::oversampling);
    const double reach = static_cast<double>(BandPulses::oversampling) - 0.5;
    return std::numbers::pi * std::sqrt(ratio * ratio * reach * reach - 0.8);
}

using Row = std::array<float, 8>;

std::vector<Row> makeTable()
{
    std::vector<Row> table(steps + 1);
    for (std::size_t i = 0; i <= steps; ++i)
        for (std::size_t j = 0; j < BandPulses::spreadPoints; ++j)
        {
            const double from = static_cast<double>(i) / static_cast<double>(steps) + static_cast<double>(j);
            table[i][j] = static_cast<float>(kaiser(2.0 * from / width - 1.0, shapeOfWindow()));
        }
    return table;
}
}

BandPulses::BandPulses(std::size_t points, std::size_t groups)
    : pointCount(points), groupCount(groups), memory(points * groups * lanes)
{
}

BandPulses::Weights BandPulses::weightsAt(double time) noexcept
{
    static const std::vector<Row> table = makeTable();
    const double begin = time - width / 2.0;
    Weights weights;
    weights.first =
        static_cast<std::size_t>(begin) + 1; // begin > 0; the window's own first point may be its edge
    const double place = (static_cast<double>(weights.first) - begin) * static_cast<double>(steps);
    const auto index = std::min(static_cast<std::size_t>(place), steps - 1);
    const auto between = static_cast<float>(place - static_cast<double>(index));
    const Row& low = table[index];
    const Row& high = table[index + 1];
    for (std::size_t j = 0; j < spreadPoints; ++j)
        weights.values[j] = low[j] + between * (high[j] - low[j]);
    return weights;
}

void BandPulses::copyBand(std::size_t band, double* out) const noexcept
{
    const float* from = memory.data() + (band / lanes) * pointCount * lanes + band % lanes;
    for (std::size_t i = 0; i < pointCount; ++i)
        out[i] = static_cast<double>(from[i * lanes]);
}

double BandPulses::windowSpectrum(double cycles)
{
    const double beta = shapeOfWindow();
    const double turn = std::numbers::pi * width * cycles;
    const double square = beta * beta - turn * turn;
    const double root = std::sqrt(std::abs(square));
    const double shape = square > 0.0 ? std::sinh(root) / root : (root == 0.0 ? 1.0 : std::sin(root) / root);
    return width * shape / besselI0(beta);
}

}
