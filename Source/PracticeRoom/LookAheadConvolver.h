#pragma once

#include "Dsp/Fft.h"

#include <cstddef>
#include <memory>
#include <span>
#include <vector>

namespace plumbline
{

/** Convolves several streams with long responses and adds them up, without delay, because the responses
    begin late.

    Uniformly partitioned overlap-save in double precision (Stockham 1966; Gardner, JAES 43 (1995) 127). A
    partition may be as long as all responses are silent at their beginning: what is put out during one
    partition then depends only on partitions that are complete. Work is done where the stream's own sample
    count crosses a partition's end, so the result does not depend on how the stream is cut. Error about
    1e-16 of the largest output. */
class LookAheadConvolver
{
public:
    static constexpr std::size_t longestPartition = 512;

    /** [any but audio] @param responses one an input, taps; each empty (silent) or beginning with at least
        one zero */
    explicit LookAheadConvolver(const std::vector<std::vector<double>>& responses);

    /** [audio] Takes `count` samples of each input and gives as many of the sum. Allocates nothing. In
        place is fine. Any count. Inputs must be finite, else all output within the responses' length is
        lost. */
    void process(const double* const* inputs, std::size_t count, double* output) noexcept;

    std::size_t partition() const noexcept { return block; }

private:
    /** A spectrum as two rows, real and imaginary, padded to whole vectors. */
    struct Rows
    {
        AlignedVector<double> real, imaginary;
    };

    struct Input
    {
        std::size_t partitions = 0;
        Rows response;                ///< partition after partition
        Rows history;                 ///< ring of the spectra of past blocks
        std::vector<char> heard;      ///< of each spectrum in the ring: not all zeros
        AlignedVector<double> recent; ///< the former block and the one being filled
        bool formerHeard = false;
    };

    void storeResponse(Input& input, const std::vector<double>& taps);
    void runBlock() noexcept;
    void takeIn(Input& input) noexcept;
    void addHeard(const Input& input) noexcept;
    void split(double* real, double* imaginary) const noexcept;

    std::size_t block = 1, stride = 0, slots = 1, head = 0, filled = 0;
    std::vector<Input> inputs;
    std::unique_ptr<SpectrumBuffer> work;
    Rows sum;
    AlignedVector<double> ready; ///< the block that is being given out
};

}
