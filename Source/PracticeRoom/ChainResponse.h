#pragma once

#include "PracticeRoom/Scenario.h"

#include <complex>

namespace plumbline
{

/** [any] What the interface does to microphone and loopback alike, latency aside: digital filters (bilinear
    transform, hence causal), given here at a frequency from 0 to half the rate. */
std::complex<double> interfaceResponse(const ConverterModel& converter, double rateHz, double frequencyHz);

/** [any] The microphone's own response, without phase: linear in dB over log frequency, held outside its
    table. */
double microphoneResponseDb(const MicrophoneModel& microphone, double frequencyHz);

/** [any] 1 up to 87 % of half the rate (at 44.1 kHz up to 20.2 kHz), from there smoothly down to 0 at 98.5
    % (a squared sine of a squared sine): pulses between samples then ring for a few dozen samples and not
    for ever. */
double belowNyquist(double frequencyHz, double rateHz);

}
