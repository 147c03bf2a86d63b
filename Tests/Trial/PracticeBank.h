#pragma once

#include "PracticeRoom/PracticeRoom.h"
#include "Trial/StanceData.h"

#include <vector>

namespace plumbline::test
{

/** Three pairs, each upright and laid down both ways, in a treated mix room with a desk: the room of the
    tests of Trial.
    @param decaySeconds of the middle bands; the shorter, the faster a response is made */
Scenario threePairs(double decaySeconds);

/** What is learnt from the room's response itself in place of a capture: levels smoothed over a twelfth of
    an octave in power, 20 Hz to 20 kHz, with the noise of a take 55 dB under the response. */
TakeData takeFrom(const PracticeRoom& room, const Standing& standing, const Vec3& microphone, Random& noise);

/** Simulated takes, made once: trials draw from them, and their mean is the truth that trials look for
    (the mean over the microphone's and the cabinets' errors of the same estimator; a response at the
    nominal place is another thing).

    bank[stance][set-up][take]: of an untouched bank each stance has one set-up, exactly in place. */
struct PracticeBank
{
    std::vector<Stance> stances;
    std::vector<Monitor> monitors;
    std::vector<std::vector<std::vector<TakeData>>> takes;

    /** A stance as a trial holds it: the takes at `chosen[set-up]` = {set-up, takes...}. */
    StanceData stance(std::size_t index, const std::vector<std::vector<std::size_t>>& chosen) const;

    /** Draws set-ups (with replacement) and from each its first `takesEach` takes. */
    StanceData draw(std::size_t index, std::size_t setUps, std::size_t takesEach, Random& random) const;

    /** Draws takes from the one set-up of an untouched bank. */
    StanceData drawTakes(std::size_t index, std::size_t count, Random& random) const;
};

/** Microphone off by 1 cm s.d. an axis in each take, cabinets exactly in place. */
PracticeBank untouchedBank(const Scenario& scenario, std::size_t takes, std::uint64_t seed);

/** Each set-up: cabinets put back (5 mm along and across, 1 degree), microphone re-set (1 cm an axis);
    each take then off by 1 cm an axis more. */
PracticeBank putBackBank(const Scenario& scenario, std::size_t setUps, std::size_t takesEach,
                         std::uint64_t seed);

/** From the environment variable, or the default: so that longer runs and other seeds can be asked for. */
std::size_t asked(const char* variable, std::size_t otherwise);

}
