#include "PracticeRoom/Standing.h"

#include <numbers>

namespace plumbline
{

Cabinet standCabinet(const PairPlacement& placement, const MonitorModel& monitor,
                     CabinetOrientation orientation, RoomSide side, const Vec3& moved, double turnDegrees)
{
    const bool alone = monitor.kind == MonitorModel::Kind::single;
    const double outwards = side == RoomSide::left ? -1.0 : 1.0;
    const double toeIn = alone ? 0.0 : -outwards * placement.toeInDegrees;
    const double turn = (toeIn + turnDegrees) * (std::numbers::pi / 180.0);
    const double aside = alone ? 0.0 : outwards * placement.apartM / 2.0;
    const Vec3 middle = Vec3{ placement.frontM, placement.axisM + aside, placement.heightM } + moved;

    Vec3 towardsTweeter{ 0.0, 0.0, 1.0 };
    if (orientation == CabinetOrientation::sideTweetersOut)
        towardsTweeter = turned({ 0.0, outwards, 0.0 }, turn);
    else if (orientation == CabinetOrientation::sideTweetersIn)
        towardsTweeter = turned({ 0.0, -outwards, 0.0 }, turn);

    const double half = monitor.driverSpacingM / 2.0;
    return { middle - towardsTweeter * half, middle + towardsTweeter * half,
             turned({ 1.0, 0.0, 0.0 }, turn) };
}

}
