#pragma once

#include "PracticeRoom/RoomLoop.h"
#include "Realtime/TakeRunner.h"

#include <array>
#include <atomic>
#include <memory>

namespace plumbline
{

/** Lets the practice room stand in for the Return: the stimulus goes into the simulated room instead of the
    output, and what the room's microphone hears comes back. Nothing sounds.

    One loop at a time travels analysis -> audio -> analysis through two atomic slots. What is played comes
    back `delaySamples` later than the room says, on microphone and reference alike. */
class PracticeReturn
{
public:
    /** Samples between what is played and what is heard, whatever the host's blocks. */
    static constexpr int delaySamples = 64;

    // --- [analysis]

    /** Lends a room. False if one is out already: the caller keeps the new one. */
    bool lend(std::unique_ptr<RoomLoop>& loop);

    /** Asks for the room back; it comes when no take uses it. */
    void askBack() noexcept { backAsked.store(true, std::memory_order_release); }

    /** @return true if no room is out (any more) */
    bool collect();

    // --- [audio], or with the audio stopped

    /** Runs a block through `runner`: with the room in the Return's place if there is one, as it is if not. */
    void process(const TakeBlock& block, TakeRunner& runner) noexcept;
    /** The audio has stopped: a room that is asked back can be collected at once. */
    void release() noexcept;

private:
    void processPiece(TakeBlock piece, TakeRunner& runner) noexcept;
    void answerRequests(const TakeRunner& runner) noexcept;
    void giveBack() noexcept;

    std::unique_ptr<RoomLoop> owned; ///< analysis side only; the audio side has its address
    std::atomic<RoomLoop*> offered{ nullptr };
    std::atomic<bool> backAsked{ false }, isOut{ false };
    // Audio only.
    RoomLoop* loop = nullptr;
    std::array<std::array<float, delaySamples>, 2> played{}, heard{};
    /** What the room answered, from `place` on: as many samples as the delay. */
    std::array<std::array<float, delaySamples>, 2> waiting{};
    int place = 0;
};

}
