#pragma once

#include "Dsp/Random.h"
#include "PracticeRoom/Scenario.h"

#include <array>

namespace plumbline
{

/** Gaussian noise, white or pink, sample by sample from one seed.

    Pink: white noise through first-order sections, poles from about 4 Hz upwards each 2.8 times the last, a
    zero in the geometric middle after each, and one section that straightens the end: power falls as 1/f
    within +-0.15 dB from 10 Hz to 0.45 of the rate (checked by the tests). Summed up as parallel sections
    (partial fractions), whose states do not wait for each other. */
class RoomNoise
{
public:
    using Colour = MicrophoneModel::NoiseColour;

    /** [any but audio] @param levelDbfs 20 lg of the rms over the whole band, full scale being 1 */
    RoomNoise(Colour colour, double levelDbfs, double sampleRateHz, Random source);

    /** [audio] The next sample. */
    double next() noexcept;

    /** Power of the shaping at a frequency, over its mean from 0 to half the rate. White: 1. */
    double relativePower(double frequencyHz) const;

private:
    static constexpr std::size_t sections = 16;

    void design(double sampleRateHz);
    double meanPower() const;

    Random random;
    double rate, direct = 1.0;
    std::size_t used = 0;
    std::array<double, sections> poles{}, gains{}, states{};
};

}
