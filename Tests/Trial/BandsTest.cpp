// What could pass here for the wrong reason: flat curves, whose mean is right under any weights. So a slope
// has its mean from the integral, and a step has the share of the band that it covers.

#include "Trial/Bands.h"
#include "Trial/Boards.h"
#include "Trial/Words.h"

using namespace plumbline;
using namespace plumbline::test;

TEST_CASE("Third-octave bands carry the preferred names and the exact edges")
{
    const auto& bands = thirdOctaves();
    REQUIRE(bands.size() == 31);
    const double table[][4] = { // name, exact centre, lower, upper edge (IEC 61260-1, ISO 266)
                                { 20, 19.95262, 17.78279, 22.38721 },
                                { 31.5, 31.62278, 28.18383, 35.48134 },
                                { 125, 125.89254, 112.20185, 141.25375 },
                                { 1000, 1000.0, 891.25094, 1122.01845 },
                                { 16000, 15848.93192, 14125.37545, 17782.79410 },
                                { 20000, 19952.62315, 17782.79410, 22387.21139 }
    };
    for (const auto& [name, centre, low, high] : table)
    {
        const auto place = bandsFromTo(name, name);
        REQUIRE(place.size() == 1);
        const auto& band = bands[place[0]];
        CHECK(band.centreHz == Approx(centre).epsilon(1e-6));
        CHECK(band.lowHz == Approx(low).epsilon(1e-6));
        CHECK(band.highHz == Approx(high).epsilon(1e-6));
    }
    CHECK(bandsFromTo(100, 10000).size() == 21);
    CHECK(bandsFromTo(50, 16000).size() == 26);
}

TEST_CASE("A band's mean is that of pink noise: each part of an octave weighs the same")
{
    CHECK(pinkMeanDb(curveOf(flat(-7.5)), 300.0, 3000.0) == Approx(-7.5));
    // Power 2^x over x octaves from 0 to 4: mean (2^4 - 1) / (4 ln 2).
    const double exact = 10.0 * std::log10(15.0 / (4.0 * std::log(2.0)));
    CHECK(pinkMeanDb(curveOf(slope(10.0 * std::log10(2.0))), 1000.0, 16000.0) == Approx(exact).margin(0.001));
    // Half of an octave lies 10 dB higher.
    const auto half = curveOf(step(1000.0 * std::exp2(0.5 + 1.0 / 96.0), 2000.0, 10.0));
    CHECK(pinkMeanDb(half, 1000.0 * std::exp2(1.0 / 96.0), 2000.0 * std::exp2(1.0 / 96.0)) ==
          Approx(10.0 * std::log10(0.5 * (1.0 + 10.0))).margin(1e-9));
}

TEST_CASE("A band that is not known in one of its points is not known")
{
    auto curve = curveOf(flat(0.0));
    curve[288] = unknownValue; // 1 kHz
    const auto levels = thirdOctaveLevels(curve);
    const auto place = bandsFromTo(1000, 1000)[0];
    CHECK(std::isnan(levels[place]));
    CHECK(levels[place + 1] == Approx(0.0).margin(1e-12));
    CHECK(levels[place - 1] == Approx(0.0).margin(1e-12));
    CHECK(std::isnan(thirdOctaveLevels(curveOf(flat(0.0), 20.0, 20000.0))[0])); // reaches under 20 Hz
}

TEST_CASE("Figures and ranges in words")
{
    CHECK(frequencyName(100.0) == "100 Hz");
    CHECK(frequencyName(4597.6) == "4.6 kHz");
    CHECK(frequencyName(129.0) == "129 Hz");
    CHECK(figure(-3.25, 1) == "\u22123.3");
    CHECK(figure(-0.01, 1) == "0.0");
    CHECK(withPlusMinus(3.21, 0.62, "dB") == "3.2 \u00b1 0.6 dB");
    CHECK(withPlusMinus(0.1234, 0.0212, "ms") == "0.12 \u00b1 0.02 ms");
    CHECK(withPlusMinus(48.2, 11.7, "Hz") == "48 \u00b1 12 Hz");
    CHECK(withPlusMinus(3.21, unknownValue, "dB") == "3.2 dB");
    CHECK(rangeName(900.0, 2100.0) == "0.9\u20132.1 kHz");
    CHECK(rangeName(851.0, 2100.0) == "0.85\u20132.1 kHz");
    CHECK(rangeName(63.0, 125.0) == "63\u2013125 Hz");
    CHECK(saidAgainst({ "Heron 6", "side, tweeters out" }, { "Heron 6", "upright" }) == "on its side");
    CHECK(saidAgainst({ "Heron 6", "upright" }, { "Heron 6", "side, tweeters in" }) == "upright");
    CHECK(saidAgainst({ "Heron 6", "upright" }, { "Tarn 5", "upright" }) == "with Heron 6, upright");
}
