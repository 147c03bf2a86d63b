#pragma once

#include "PracticeRoom/Scenario.h"

#include <cstddef>

namespace plumbline
{

enum class RoomSide
{
    left,
    right
};

/** One cabinet as it stands: where its drivers are and where it faces. */
struct Cabinet
{
    Vec3 woofer;
    Vec3 tweeter;
    Vec3 facing; ///< of length 1, level

    bool operator==(const Cabinet&) const = default;
};

/** A stance as it stands: one cabinet (a single) or two (left, right). */
struct Standing
{
    std::size_t stance = 0; ///< index into Scenario::stances
    std::vector<Cabinet> cabinets;

    const Cabinet& cabinet(RoomSide side) const { return cabinets.at(side == RoomSide::left ? 0 : 1); }

    bool operator==(const Standing&) const = default;
};

/** [any] Puts a cabinet up. The middle between the drivers stays at its place in every orientation: upright
    the tweeter is half the spacing above it, laid down half the spacing to the outer or inner side, along
    the baffle. A single stands on the axis, faces straight ahead, and its "out" is to the left.

    @param moved metres off the place, @param turnDegrees off the toe-in, from x towards y */
Cabinet standCabinet(const PairPlacement& placement, const MonitorModel& monitor,
                     CabinetOrientation orientation, RoomSide side, const Vec3& moved = {},
                     double turnDegrees = 0.0);

}
