#pragma once

#include "Dsp/AlignedVector.h"

#include <algorithm>
#include <complex>
#include <cstddef>
#include <memory>
#include <string>

namespace plumbline
{

/** Real transform of one length, in place, double precision (FFTW 3).

    In place because a transform of 2^19 doubles leaves the second-level cache: one buffer read and written
    costs a third less than two. A buffer holds `length + 2` doubles; after forward() it holds `bins()`
    complex values.
*/
class Fft
{
public:
    /** [analysis, or any thread but audio] The transform of `length` points, from the cache or planned now.

        @param length even, at least 2
        Planning holds one process-wide lock, uses wisdom where there is some and FFTW's estimate otherwise (a
        few milliseconds at 2^19): it never measures here. */
    static std::shared_ptr<const Fft> ofLength(std::size_t length);

    /** [analysis] Measures plans of this length within a time limit, in an idle moment, so that later calls
        of ofLength() find wisdom. Holds the lock for at most `limitSeconds` (0.15 keeps every other waiter
        under 0.2 s). Transforms handed out before keep their plans. */
    static void tune(std::size_t length, double limitSeconds);

    /** [any but audio] What FFTW has learnt in this process, as text to keep between runs. */
    static std::string wisdom();

    /** [any but audio] Takes such text back. False if it does not fit this FFTW; nothing changes then. */
    static bool adoptWisdom(const std::string& text);

    ~Fft();
    Fft(const Fft&) = delete;
    Fft& operator=(const Fft&) = delete;

    std::size_t length() const noexcept { return points; }

    std::size_t bins() const noexcept { return points / 2 + 1; }

    /** [any] Sum x[n] exp(-j 2 pi k n / N), k = 0 .. N/2. `data`: 64-byte aligned, length + 2 doubles. No
        heap call for lengths of the form 2^a; other lengths may allocate inside FFTW. */
    void forward(double* data) const noexcept;

    /** [any] The inverse *without* the factor 1/N. Same buffer layout. */
    void inverseUnscaled(double* data) const noexcept;

private:
    struct Plans;
    Fft(std::size_t length, std::unique_ptr<Plans> plans);

    std::size_t points;
    std::unique_ptr<Plans> plans;
};

/** A buffer for Fft: `length` samples, and after forward() the same memory seen as complex bins. */
class SpectrumBuffer
{
public:
    /** All zero. */
    explicit SpectrumBuffer(std::size_t length);

    /** For a signal at the buffer's beginning, all else zero: each sample is written once, by `fill(double*
        samples)`, which must write `count` of them. */
    template <class Fill>
    SpectrumBuffer(std::size_t length, std::size_t count, Fill&& fill) : SpectrumBuffer(length, Unfilled{})
    {
        fill(samples());
        std::fill(memory.begin() + static_cast<std::ptrdiff_t>(count), memory.end(), 0.0);
    }

    double* samples() noexcept { return memory.data(); }

    const double* samples() const noexcept { return memory.data(); }

    std::complex<double>* bins() noexcept { return reinterpret_cast<std::complex<double>*>(memory.data()); }

    const std::complex<double>* bins() const noexcept
    {
        return reinterpret_cast<const std::complex<double>*>(memory.data());
    }

    std::size_t length() const noexcept { return memory.size() - 2; }

    std::size_t binCount() const noexcept { return memory.size() / 2; }

    void forward() { transform->forward(samples()); }

    void inverseUnscaled() { transform->inverseUnscaled(samples()); }

private:
    struct Unfilled
    {
    };

    SpectrumBuffer(std::size_t length, Unfilled);

    std::shared_ptr<const Fft> transform;
    std::vector<double, UnfilledAllocator<double>> memory;
};

/** The smallest even length of the form 2^a 3^b 5^c 7^d that is at least `atLeast` (FFTW is fast at these).
    */
std::size_t fastTransformLength(std::size_t atLeast);

}
