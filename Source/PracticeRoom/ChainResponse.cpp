#include "PracticeRoom/ChainResponse.h"

#include "Dsp/AnalogFilters.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace plumbline
{

namespace
{
constexpr double tiltCentreHz = 632.0; ///< middle of 20 Hz and 20 kHz
}

std::complex<double> interfaceResponse(const ConverterModel& converter, double rateHz, double frequencyHz)
{
    const double nyquist = rateHz / 2.0;
    const double warped = frequencyHz >= nyquist
                              ? 1e15
                              : rateHz / std::numbers::pi * std::tan(std::numbers::pi * frequencyHz / rateHz);
    std::complex<double> response = 1.0;
    if (converter.highPassHz)
        response *= analogue::butterworthHighPass(warped, *converter.highPassHz, 2);
    if (converter.tiltDb != 0.0)
        response *= analogue::firstOrderHighShelf(warped, tiltCentreHz, converter.tiltDb);
    return response;
}

double microphoneResponseDb(const MicrophoneModel& microphone, double frequencyHz)
{
    const std::vector<ResponsePoint>& table = microphone.response;
    if (table.empty())
        return 0.0;
    const auto above =
        std::upper_bound(table.begin(), table.end(), frequencyHz,
                         [](double f, const ResponsePoint& point) { return f < point.frequencyHz; });
    if (above == table.begin())
        return table.front().levelDb;
    if (above == table.end())
        return table.back().levelDb;
    const ResponsePoint& below = *(above - 1);
    const double share =
        std::log(frequencyHz / below.frequencyHz) / std::log(above->frequencyHz / below.frequencyHz);
    return below.levelDb + share * (above->levelDb - below.levelDb);
}

double belowNyquist(double frequencyHz, double rateHz)
{
    const double nyquist = rateHz / 2.0;
    const double from = std::max(0.87 * nyquist, std::min(20200.0, 0.93 * nyquist)), to = 0.985 * nyquist;
    const double x = std::clamp((to - frequencyHz) / (to - from), 0.0, 1.0);
    const double once = std::sin(std::numbers::pi / 2.0 * x);
    const double twice = std::sin(std::numbers::pi / 2.0 * once * once);
    return twice * twice;
}

}
