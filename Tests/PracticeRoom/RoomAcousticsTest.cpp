// What could pass here for the wrong reason: decay times that agree with the absorption because one was
// computed from the other by the same wrong formula; Eyring's is worked out by hand beside the check.

#include "Rooms.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

TEST_CASE("Absorption of one half everywhere gives Eyring's decay time and reflections 3 dB down")
{
    Studio studio;
    studio.size = { 5.0, 4.0, 2.6 };
    studio.absorption = { everywhere(0.5), everywhere(0.5), everywhere(0.5) };
    const RoomAcoustics room = acousticsOf(studio);
    // V = 52 m3, S = 86.8 m2, c = 343.2: T = 24 ln 10 * 52 / (343.2 * 86.8 * ln 2) = 0.13916748 s, by hand.
    CHECK(room.t60Seconds[4] == Approx(0.13916748).epsilon(2e-7));
    CHECK(room.walls[0] == Approx(std::sqrt(0.5)));
    CHECK(room.ceiling[9] == Approx(std::sqrt(0.5)));
    CHECK(room.speedMps == Approx(343.2));
}

TEST_CASE("A decay time asked for is met by the absorption, a third more of it at floor and ceiling")
{
    Studio studio;
    studio.t60Seconds = BandValues{ .35, .33, .30, .28, .26, .25, .24, .23, .21, .19 };
    const RoomAcoustics room = acousticsOf(studio);
    for (std::size_t b = 0; b < roomBandsHz.size(); ++b)
    {
        CHECK(room.t60Seconds[b] == Approx((*studio.t60Seconds)[b]).epsilon(1e-12));
        const double walls = 1.0 - room.walls[b] * room.walls[b], floor = 1.0 - room.floor[b] * room.floor[b];
        CHECK(floor / walls == Approx(4.0 / 3.0));
        CHECK(room.floor[b] == room.ceiling[b]);
    }
    CHECK(room.reachMetres == Approx(0.35 * 343.2));
}

TEST_CASE("A room that swallows nothing or everything has a reach that can be worked out")
{
    Studio studio;
    studio.absorption = SurfaceAbsorption{};
    CHECK(acousticsOf(studio).reachMetres == Approx(1.2 * 343.2));
    studio.absorption = swallowAll();
    const RoomAcoustics open = acousticsOf(studio);
    CHECK(open.t60Seconds[0] == 0.0);
    CHECK(open.reachMetres == Approx(1.2 * std::sqrt(5.2 * 5.2 + 4.1 * 4.1 + 2.7 * 2.7)));
}

TEST_CASE("The speed of sound follows the temperature")
{
    Studio studio;
    studio.absorption = swallowAll();
    studio.temperatureC = 25.0;
    CHECK(acousticsOf(studio).speedMps ==
          Approx(346.114454).epsilon(1e-8)); // Closed form, computed by an independent script: ISO 9613-1
}
