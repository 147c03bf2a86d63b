#pragma once

#include "Measure/ImpulseResponse.h"

#include <optional>

namespace plumbline
{

/** How much of the response after the first arrival is looked at. */
struct WindowChoice
{
    enum class Kind
    {
        automatic, ///< until the decay meets the noise
        full,      ///< all that the silence after the sweep allows: no gate at all
        fixed      ///< `milliseconds` after the first arrival
    };
    Kind kind = Kind::automatic;
    double milliseconds = 0.0;

    bool operator==(const WindowChoice&) const = default;
};

/** A gate about the first arrival: a half-cosine up before it, flat, and a half-cosine down over its last
    fifth. */
struct Gate
{
    std::ptrdiff_t firstSample = 0; ///< of the response
    std::size_t riseSamples = 0;
    std::size_t flatSamples = 0;
    std::size_t fallSamples = 0;

    std::size_t length() const noexcept { return riseSamples + flatSamples + fallSamples; }

    /** Sum of the squared weights, in samples: the share of a steady noise that passes. */
    double energy() const noexcept;
    void apply(std::span<double> samples) const noexcept;
};

/** What a gate may use. */
struct GateLimits
{
    double arrivalSamples = 0.0;
    std::size_t before = 0; ///< samples before the arrival that are free of harmonics
    std::size_t after = 0;  ///< samples after the arrival that the silence allows
};

/** A gate of a length in milliseconds after the first arrival, cut to what there is. */
Gate fixedGate(const GateLimits& limits, double milliseconds, double sampleRateHz);

/** A gate whose flat part ends where the decay, in steps of 10 ms, comes within 6 dB of the noise or 90 dB
    under its loudest; its fall is a quarter as long and comes after, so that the decay itself is kept whole.
    At least 150 ms where there is so much.

    @param noisePower expected square of the noise a sample of the response; 0 if there is none */
Gate automaticGate(const ImpulseResponse& response, const GateLimits& limits, double noisePower);

}
