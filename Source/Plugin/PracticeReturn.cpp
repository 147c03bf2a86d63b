#include "Plugin/PracticeReturn.h"

#include "Core/ThreadTags.h"

#include <algorithm>

namespace plumbline
{

bool PracticeReturn::lend(std::unique_ptr<RoomLoop>& loopToLend)
{
    assertNotOnAudioThread();
    if (!collect())
        return false;
    owned = std::move(loopToLend);
    backAsked.store(false, std::memory_order_relaxed);
    isOut.store(true, std::memory_order_relaxed);
    offered.store(owned.get(), std::memory_order_release);
    return true;
}

bool PracticeReturn::collect()
{
    assertNotOnAudioThread();
    if (isOut.load(std::memory_order_acquire))
        return false;
    owned.reset();
    return true;
}

void PracticeReturn::release() noexcept
{
    if (backAsked.load(std::memory_order_acquire))
        giveBack();
}

void PracticeReturn::giveBack() noexcept
{
    offered.store(nullptr, std::memory_order_relaxed);
    loop = nullptr;
    isOut.store(false, std::memory_order_release);
}

void PracticeReturn::answerRequests(const TakeRunner& runner) noexcept
{
    // A take under way keeps the Return that it began with.
    const auto phase = runner.phase();
    const bool inUse = phase == TakePhase::taking || phase == TakePhase::stopping;
    if (!inUse)
        if (auto* fresh = offered.exchange(nullptr, std::memory_order_acq_rel))
        {
            loop = fresh;
            for (auto& channel : waiting)
                channel.fill(0.0f);
            place = 0;
        }
    if (loop != nullptr && !inUse && backAsked.load(std::memory_order_acquire))
        giveBack();
}

void PracticeReturn::process(const TakeBlock& block, TakeRunner& runner) noexcept
{
    answerRequests(runner);
    if (loop == nullptr)
        return runner.process(block);
    int from = 0;
    do
    {
        const int frames = std::min(delaySamples, block.frames - from);
        processPiece(block.part(from, frames), runner);
        from += frames;
    } while (from < block.frames);
}

void PracticeReturn::processPiece(TakeBlock piece, TakeRunner& runner) noexcept
{
    const auto frames = static_cast<std::size_t>(piece.frames);
    for (std::size_t channel = 0; channel < 2; ++channel)
    {
        played[channel].fill(0.0f);
        for (std::size_t i = 0; i < frames; ++i)
            heard[channel][i] = waiting[channel][(static_cast<std::size_t>(place) + i) % delaySamples];
        piece.practice[channel] = played[channel].data();
        piece.returned[channel] = heard[channel].data();
    }
    runner.process(piece);
    const float* const sources[] = { played[0].data(), played[1].data() };
    loop->process(sources, piece.frames, heard[0].data(), heard[1].data());
    for (std::size_t channel = 0; channel < 2; ++channel)
        for (std::size_t i = 0; i < frames; ++i)
            waiting[channel][(static_cast<std::size_t>(place) + i) % delaySamples] = heard[channel][i];
    place = (place + piece.frames) % delaySamples;
}

}
