#pragma once

#include "Trial/LevelMatch.h"
#include "Trial/Spread.h"
#include "Trial/StanceData.h"

#include <memory>
#include <string>
#include <vector>

namespace plumbline
{

/** A take brought to the common level: 0 dB is its own mean level over the match band, both sides
    together. */
struct MatchedTake
{
    const TakeData* take = nullptr;
    std::vector<Curve> sides; ///< left, right
    std::vector<std::vector<double>>
        thirds; ///< the same in thirdOctaves(); unknown outside the board's common band
};

struct MatchedSetUp
{
    int number = 1;
    double matchLevelDb = 0.0;                 ///< mean over the takes at the seat
    std::vector<const MatchedTake*> seat;      ///< one at least
    std::vector<const MatchedTake*> elsewhere; ///< at other positions, matched by the seat's level
};

struct MatchedStance
{
    const StanceData* data = nullptr;
    double matchLevelDb = 0.0; ///< mean over the set-ups
    double trimDb = 0.0;
    std::vector<MatchedSetUp> setUps;

    std::size_t sideCount() const { return setUps.front().seat.front()->sides.size(); }
};

/** All takes of a board, level-matched, on the band that is known in all of them.

    [any] Holds pointers into what it is made from and into itself: not copied, and not longer lived than
    that. */
class MatchedBoard
{
public:
    MatchedBoard(const std::vector<StanceData>& stances, const Band& matchBand);
    MatchedBoard(const MatchedBoard&) = delete;
    MatchedBoard& operator=(const MatchedBoard&) = delete;

    /** Stances that can be compared: those with a take at the seat that knows the match band. */
    const std::vector<MatchedStance>& stances() const noexcept { return comparable; }

    const Band& matchBand() const noexcept { return band; }

    /** Takes at the seat in the order stance, set-up, take: what takeValues() are in step with. */
    const TakeLayout& layout() const noexcept { return seatLayout; }

    const std::vector<const MatchedTake*>& seatTakes() const noexcept { return seat; }

    /** Points that every seat take of every stance knows on each of its sides. */
    const std::vector<bool>& commonPoints() const noexcept { return common; }

    /** Third-octave bands whose points are all common. */
    const std::vector<bool>& commonThirds() const noexcept { return commonBands; }

    /** What was left out or must be known: sentences. */
    const std::vector<std::string>& notes() const noexcept { return remarks; }

private:
    void place(const StanceData& stance);
    void arrange();
    void findCommon();
    void remarkOnConditions(const std::vector<StanceData>& all);

    Band band;
    std::vector<std::unique_ptr<MatchedTake>> takes;
    std::vector<MatchedStance> comparable;
    TakeLayout seatLayout;
    std::vector<const MatchedTake*> seat;
    std::vector<bool> common, commonBands;
    std::vector<std::string> remarks;
};

}
