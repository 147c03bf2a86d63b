#pragma once

#include "Dsp/Fft.h"

#include <span>
#include <vector>

namespace plumbline
{

/** An impulse response in time, circular: negative times are its last samples. Band-limited to what was
    excited. */
class ImpulseResponse
{
public:
    /** Takes the transfer function's buffer and transforms it back in place. */
    ImpulseResponse(SpectrumBuffer transfer, double sampleRateHz);

    /** Sample at a time, in samples, |index| below the length. */
    double at(std::ptrdiff_t index) const noexcept
    {
        const auto n = static_cast<std::ptrdiff_t>(buffer.length());
        return scale * buffer.samples()[index < 0 ? index + n : index];
    }

    /** Copies samples first, first + 1, ... */
    void copy(std::ptrdiff_t first, std::span<double> into) const noexcept;

    /** Largest |sample| from `first` to before `last`, times as for at(). */
    double largest(std::ptrdiff_t first, std::ptrdiff_t last) const noexcept;

    std::size_t length() const noexcept { return buffer.length(); }

    double sampleRateHz() const noexcept { return rate; }

private:
    SpectrumBuffer buffer;
    double scale, rate;
};

}
