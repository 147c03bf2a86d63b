// What could pass here for the wrong reason: a sentence that is right only when every part of a problem is
// there.

#include "Core/Result.h"
#include "Core/ThreadTags.h"
#include "Core/Units.h"

#include <catch2/catch.hpp>
#include <thread>

using namespace plumbline;

TEST_CASE("A problem becomes a sentence that says where, what and what to do")
{
    CHECK(Problem{ "x", "It is broken", "a.wav", "Make it again" }.sentence() ==
          "a.wav: It is broken. Make it again.");
    CHECK(Problem{ "x", "It is broken.", "", "" }.sentence() == "It is broken.");
    CHECK(Problem{ "x", "It is broken", "", "Mend it." }.sentence() == "It is broken. Mend it.");
}

TEST_CASE("A result holds a value or a problem, and says which")
{
    const Result<int> good = 3;
    const Result<int> bad = Problem{ "no", "No", "", "" };
    CHECK(good.ok());
    CHECK(*good == 3);
    CHECK_FALSE(bad.ok());
    CHECK(bad.problem().code == "no");
}

TEST_CASE("A thread role is worn for a scope, on one thread only")
{
    CHECK(currentThreadRole() == ThreadRole::none);
    {
        const ScopedThreadRole role(ThreadRole::audio);
        CHECK(currentThreadRole() == ThreadRole::audio);
        ThreadRole elsewhere = ThreadRole::audio;
        std::thread([&] { elsewhere = currentThreadRole(); }).join();
        CHECK(elsewhere == ThreadRole::none);
    }
    CHECK(currentThreadRole() == ThreadRole::none);
}

TEST_CASE("The speed of sound follows the formula of ISO 9613-1")
{
    // CHECK VALUES: 343.2 sqrt(T / 293.15), computed by an independent script.
    CHECK(speedOfSound(20.0) == Approx(343.2).epsilon(1e-12));
    CHECK(speedOfSound(0.0) == Approx(331.2859).margin(5e-5));
    CHECK(speedOfSound(25.0) == Approx(346.1145).margin(5e-5));
    // 1 K over 2 m shifts the arrival by 9.9141 microseconds at 20 degrees.
    const double shift = 2.0 / speedOfSound(20.0) - 2.0 / speedOfSound(21.0);
    CHECK(shift * 1e6 == Approx(9.9141).margin(0.02));
}
