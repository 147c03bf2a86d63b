#pragma once

#include "Trial/Geometry.h"
#include "Trial/StanceData.h"

#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

/** Something about how a pair stands or is wired that its takes give away. */
struct PairFault
{
    enum class Kind
    {
        polarity,  ///< one side moves the other way
        swapped,   ///< left and right are exchanged
        unmirrored ///< on its side with one tweeter in, one out
    };
    Kind kind = Kind::polarity;
    std::string words;
};

/** Recognises reversed polarity from the first arrivals of a stance; exchanged channels from positions to
    the left and right of the seat (moving right must bring the right monitor nearer), or nothing if it was
    not measured beside the seat by 5 cm at least. Only takes with a travel time count. */
std::vector<PairFault> wiringFaults(const StanceData& stance, const std::vector<Position>& positions);

/** Where the tweeters of a pair on its side are, told by how much farther or nearer each became against
    the same pair upright, at the seat and beside it: metres along the baffle, outwards; half the driver
    spacing is expected, of one sign on both sides. Least squares over the positions that both were
    measured at. */
struct TweeterShift
{
    double leftM = 0.0, rightM = 0.0;
    double errorM =
        0.0; ///< 1 s.d. from the placing errors assumed: 1 cm of the microphone, 0.5 cm of the cabinets
};

/** @param place of the left cabinet; the right one is its mirror image. Nothing if a travel time is
    missing, or nothing measured depends on where the tweeters are (all positions on the baffles' normals). */
std::optional<TweeterShift> tweeterShift(const StanceData& side, const StanceData& upright,
                                         const CabinetPlace& place, const std::vector<Position>& positions);

/** The fault, if one tweeter is in and the other out: signs differ, both by 2 s.d. of their difference at
    least. */
std::optional<PairFault> mirrorFault(const TweeterShift& shift, double spacingM);

}
