#pragma once

#include "Trial/MatchedBoard.h"

#include <string>
#include <vector>

namespace plumbline
{

/** Positions besides the seat that every stance with any was measured at, by name. */
std::vector<std::string> positionsOfAll(const MatchedBoard& board);

/** Change of third-octave level from the seat to a position, both sides one after the other; empty if
    there is no take at the position, or a level is not known. */
std::vector<double> thirdsChange(const std::vector<const MatchedTake*>& seat,
                                 const std::vector<const MatchedTake*>& elsewhere,
                                 const std::string& position, const std::vector<std::size_t>& bands);

/** How far a stance's response changes between positions, over the grid: root mean square over positions
    and sides of the change from the seat, in dB. Unknown where there are no such positions. */
struct SeatChangeCurves
{
    Curve allDb;
    Curve leftRightDb; ///< positions off to the side: farther sideways than back, fore or up
    Curve frontBackDb; ///< positions ahead of the seat or behind it
    std::size_t positions = 0;
};

SeatChangeCurves seatChangeOf(const MatchedStance& stance, const std::vector<Position>& positions);

}
