#include "Dsp/AnalogFilters.h"

#include <cmath>
#include <numbers>

namespace plumbline::analogue
{

namespace
{
using Complex = std::complex<double>;

/** exp(levelDb ln(10) / 40): the root of the amplitude ratio. */
double rootGain(double levelDb)
{
    return std::pow(10.0, levelDb / 40.0);
}

/** 1 / Butterworth polynomial of the given order at s, evaluated where |s| <= 1 or not: it does not
    overflow as long as |s|^order does not. */
Complex butterworth(Complex s, int order)
{
    Complex denominator = order % 2 == 1 ? s + 1.0 : Complex(1.0);
    for (int k = 0; k < order / 2; ++k)
    {
        const double damping = 2.0 * std::sin(std::numbers::pi * (2 * k + 1) / (2.0 * order));
        denominator *= s * s + damping * s + 1.0;
    }
    return 1.0 / denominator;
}
}

Complex butterworthLowPass(double frequencyHz, double cornerHz, int order)
{
    return butterworth(Complex(0.0, frequencyHz / cornerHz), order);
}

Complex butterworthHighPass(double frequencyHz, double cornerHz, int order)
{
    if (frequencyHz == 0.0)
        return order == 0 ? 1.0 : 0.0;
    return butterworth(Complex(0.0, -cornerHz / frequencyHz), order); // 1/s in place of s
}

Complex linkwitzRiley4LowPass(double frequencyHz, double crossoverHz)
{
    const Complex half = butterworthLowPass(frequencyHz, crossoverHz, 2);
    return half * half;
}

Complex linkwitzRiley4HighPass(double frequencyHz, double crossoverHz)
{
    const Complex half = butterworthHighPass(frequencyHz, crossoverHz, 2);
    return half * half;
}

Complex firstOrderLowShelf(double frequencyHz, double centreHz, double levelDb)
{
    const double a = rootGain(levelDb);
    const Complex s(0.0, frequencyHz / centreHz);
    return (s + a) / (s + 1.0 / a);
}

Complex firstOrderHighShelf(double frequencyHz, double centreHz, double levelDb)
{
    const double a = rootGain(levelDb);
    const Complex s(0.0, frequencyHz / centreHz);
    return (a * s + 1.0) / (s / a + 1.0);
}

Complex secondOrderLowShelf(double frequencyHz, double centreHz, double levelDb, double q)
{
    const double a = rootGain(levelDb), width = std::sqrt(a) / q;
    const Complex s(0.0, frequencyHz / centreHz);
    return a * (s * s + width * s + a) / (a * s * s + width * s + 1.0);
}

Complex secondOrderHighShelf(double frequencyHz, double centreHz, double levelDb, double q)
{
    const double a = rootGain(levelDb), width = std::sqrt(a) / q;
    const Complex s(0.0, frequencyHz / centreHz);
    return a * (a * s * s + width * s + 1.0) / (s * s + width * s + a);
}

Complex peak(double frequencyHz, double centreHz, double levelDb, double q)
{
    const double a = rootGain(levelDb);
    const Complex s(0.0, frequencyHz / centreHz);
    return (s * s + s * (a / q) + 1.0) / (s * s + s / (a * q) + 1.0);
}

}
