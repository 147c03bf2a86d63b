#include "PracticeRoom/LookAheadConvolver.h"

#include "Dsp/Wide.h"

#include <algorithm>
#include <bit>
#include <cassert>

namespace plumbline
{

namespace
{
constexpr std::size_t lanes = 8;

struct Factor
{
    const double* real;
    const double* imaginary;
};

/** sum += a0 b0 + a1 b1, complex, over `count` bins (a multiple of 8). */
PLUMBLINE_WIDE void addProducts(double* __restrict sumReal, double* __restrict sumImaginary, Factor a0,
                                Factor b0, Factor a1, Factor b1, std::size_t count)
{
    for (std::size_t k = 0; k < count; ++k)
    {
        const double real = a0.real[k] * b0.real[k] - a0.imaginary[k] * b0.imaginary[k];
        const double imaginary = a0.real[k] * b0.imaginary[k] + a0.imaginary[k] * b0.real[k];
        sumReal[k] += real + (a1.real[k] * b1.real[k] - a1.imaginary[k] * b1.imaginary[k]);
        sumImaginary[k] += imaginary + (a1.real[k] * b1.imaginary[k] + a1.imaginary[k] * b1.real[k]);
    }
}

std::size_t leadingZeros(const std::vector<double>& taps)
{
    const auto first = std::find_if(taps.begin(), taps.end(), [](double tap) { return tap != 0.0; });
    return static_cast<std::size_t>(first - taps.begin());
}

bool isSilent(const double* samples, std::size_t count)
{
    return std::all_of(samples, samples + count, [](double sample) { return sample == 0.0; });
}
}

LookAheadConvolver::LookAheadConvolver(const std::vector<std::vector<double>>& responses)
{
    std::size_t silence = longestPartition, longest = 0;
    for (const std::vector<double>& taps : responses)
    {
        if (!taps.empty())
            silence = std::min(silence, leadingZeros(taps));
        longest = std::max(longest, taps.size());
    }
    assert(silence >= 1);
    block = std::bit_floor(silence);
    stride = (block + 1 + lanes - 1) / lanes * lanes;
    slots = std::max<std::size_t>(1, longest > block ? (longest - 1) / block : 1);
    slots += slots % 2; // partitions go in twos
    work = std::make_unique<SpectrumBuffer>(2 * block);
    sum = { AlignedVector<double>(stride), AlignedVector<double>(stride) };
    ready.assign(block, 0.0);
    for (const std::vector<double>& taps : responses)
    {
        Input input;
        storeResponse(input, taps);
        input.history = { AlignedVector<double>(slots * stride), AlignedVector<double>(slots * stride) };
        input.heard.assign(slots, 0);
        input.recent.assign(2 * block, 0.0);
        inputs.push_back(std::move(input));
    }
}

/** Partition j holds taps (j + 1) * block .. (j + 2) * block: the first block of every response is silent. */
void LookAheadConvolver::storeResponse(Input& input, const std::vector<double>& taps)
{
    input.partitions = taps.size() > block ? (taps.size() - 1) / block : 0;
    input.partitions += input.partitions % 2;
    input.response = { AlignedVector<double>(input.partitions * stride),
                       AlignedVector<double>(input.partitions * stride) };
    const double scale = 1.0 / static_cast<double>(2 * block);
    for (std::size_t j = 0; j < input.partitions; ++j)
    {
        std::fill(work->samples(), work->samples() + 2 * block, 0.0);
        for (std::size_t i = 0; i < block && (j + 1) * block + i < taps.size(); ++i)
            work->samples()[i] = taps[(j + 1) * block + i] * scale;
        work->forward();
        split(&input.response.real[j * stride], &input.response.imaginary[j * stride]);
    }
}

void LookAheadConvolver::split(double* real, double* imaginary) const noexcept
{
    for (std::size_t k = 0; k <= block; ++k)
    {
        real[k] = work->samples()[2 * k];
        imaginary[k] = work->samples()[2 * k + 1];
    }
}

void LookAheadConvolver::process(const double* const* streams, std::size_t count, double* output) noexcept
{
    std::size_t done = 0;
    while (done < count)
    {
        const std::size_t now = std::min(count - done, block - filled);
        for (std::size_t i = 0; i < inputs.size(); ++i)
            std::copy_n(streams[i] + done, now, &inputs[i].recent[block + filled]);
        std::copy_n(&ready[filled], now, output + done);
        filled += now;
        done += now;
        if (filled == block)
            runBlock();
    }
}

void LookAheadConvolver::runBlock() noexcept
{
    filled = 0;
    head = (head + 1) % slots;
    std::fill(sum.real.begin(), sum.real.end(), 0.0);
    std::fill(sum.imaginary.begin(), sum.imaginary.end(), 0.0);
    bool any = false;
    for (Input& input : inputs)
    {
        takeIn(input);
        addHeard(input);
        any = any || std::find(input.heard.begin(), input.heard.end(), 1) != input.heard.end();
    }
    if (!any)
    {
        std::fill(ready.begin(), ready.end(), 0.0);
        return;
    }
    for (std::size_t k = 0; k <= block; ++k)
    {
        work->samples()[2 * k] = sum.real[k];
        work->samples()[2 * k + 1] = sum.imaginary[k];
    }
    work->inverseUnscaled();
    std::copy_n(work->samples() + block, block, ready.begin());
}

void LookAheadConvolver::takeIn(Input& input) noexcept
{
    const bool newHeard = !isSilent(&input.recent[block], block);
    const bool heard = newHeard || input.formerHeard;
    input.formerHeard = newHeard;
    input.heard[head] = heard ? 1 : 0;
    double* real = &input.history.real[head * stride];
    double* imaginary = &input.history.imaginary[head * stride];
    if (heard)
    {
        std::copy_n(input.recent.data(), 2 * block, work->samples());
        work->forward();
        split(real, imaginary);
    }
    else
    {
        std::fill_n(real, stride, 0.0); // may still be multiplied, as the silent one of two
        std::fill_n(imaginary, stride, 0.0);
    }
    std::copy_n(&input.recent[block], block, input.recent.data());
}

void LookAheadConvolver::addHeard(const Input& input) noexcept
{
    const auto response = [&](std::size_t j) {
        return Factor{ &input.response.real[j * stride], &input.response.imaginary[j * stride] };
    };
    const auto past = [&](std::size_t slot) {
        return Factor{ &input.history.real[slot * stride], &input.history.imaginary[slot * stride] };
    };
    for (std::size_t j = 0; j < input.partitions; j += 2)
    {
        const std::size_t slot = (head + slots - j) % slots, before = (slot + slots - 1) % slots;
        if (input.heard[slot] != 0 || input.heard[before] != 0)
            addProducts(sum.real.data(), sum.imaginary.data(), past(slot), response(j), past(before),
                        response(j + 1), stride);
    }
}

}
